package scheme_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/scheme"
)

func BenchmarkReadFootbridge(b *testing.B) {
	source, catalogue := []byte(footbridge(b)), library(b)
	for b.Loop() {
		scheme.Read("a.scheme.yaml", source, catalogue)
	}
}

func BenchmarkReadTwoThousandRuns(b *testing.B) {
	var text strings.Builder
	text.WriteString("farend: 1\nsupplies: {T1: {part: choose}}\nstates: {full: {}}\nruns:\n")
	for i := range 2000 {
		fmt.Fprintf(&text, "  E%d: {tape: tape/5v-rgb-60, pixels: 500}\n", i)
	}
	text.WriteString("cables:\n")
	for i := range 2000 {
		fmt.Fprintf(&text, "  W%d: {part: choose, length: 1 m, from: T1, to: E%d@start}\n", i, i)
	}
	source, catalogue := []byte(text.String()), library(b)
	for b.Loop() {
		scheme.Read("a.scheme.yaml", source, catalogue)
	}
}
