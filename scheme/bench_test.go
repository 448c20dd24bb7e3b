package scheme_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/finding"
	"farend/scheme"
)

func BenchmarkReadFootbridge(b *testing.B) {
	source, catalogue := []byte(footbridge(b)), library(b)
	for b.Loop() {
		scheme.Read("a.scheme.yaml", source, catalogue)
	}
}

func BenchmarkApplyToFootbridge(b *testing.B) {
	source, catalogue := []byte(footbridge(b)), library(b)
	edits := []finding.Edit{{Path: "/cables/W3/part", Value: "cable/flex-2x4"}}
	for b.Loop() {
		scheme.Apply("a.scheme.yaml", source, edits, catalogue)
	}
}

func BenchmarkReadTwoThousandRuns(b *testing.B) {
	source, catalogue := twoThousandRuns(), library(b)
	for b.Loop() {
		scheme.Read("a.scheme.yaml", source, catalogue)
	}
}

func BenchmarkApplyToTwoThousandRuns(b *testing.B) {
	source, catalogue := twoThousandRuns(), library(b)
	edits := []finding.Edit{{Path: "/cables/W3/part", Value: "cable/flex-2x4"}}
	for b.Loop() {
		scheme.Apply("a.scheme.yaml", source, edits, catalogue)
	}
}

func twoThousandRuns() []byte {
	var text strings.Builder
	text.WriteString("farend: 1\nsupplies: {T1: {part: choose}}\nstates: {full: {}}\nruns:\n")
	for i := range 2000 {
		fmt.Fprintf(&text, "  E%d: {tape: tape/5v-rgb-60, pixels: 500}\n", i)
	}
	text.WriteString("cables:\n")
	for i := range 2000 {
		fmt.Fprintf(&text, "  W%d: {part: choose, length: 1 m, from: T1, to: E%d@start}\n", i, i)
	}
	return []byte(text.String())
}
