package scheme_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"farend/finding"
	"farend/scheme"
)

// Nine levels of ten: a thousand million values if they were unfolded.
func bomb() string {
	var b strings.Builder
	b.WriteString("farend: 1\nruns:\n  E0: {joints: &l0 [1 m]}\n")
	for i := 1; i < 10; i++ {
		fmt.Fprintf(&b, "  E%d: {cuts: &l%d [%s]}\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*l%d, ", i-1), 10), ", "))
	}
	return b.String() + "drawing: {E9: *l9}\n"
}

// dangling is a file in which nothing is wrong but what cables lead to.
func dangling(n int) string {
	var b strings.Builder
	b.WriteString("farend: 1\ncables:\n")
	for i := range n {
		fmt.Fprintf(&b, "  W%d: {part: choose, length: 1 m, from: T%d, to: E%d@start}\n", i, i, i)
	}
	return b.String()
}

// A file that would take for ever ends this test by the time limit of go test, not by a clock of its own.
func TestHugeAndHostileFilesAreAnswered(t *testing.T) {
	var flow strings.Builder
	flow.WriteString("farend: 1\ndrawing:\n  E1: ")
	flow.WriteString(strings.Repeat("[", 9000) + strings.Repeat("]", 9000))
	var wide strings.Builder
	wide.WriteString("farend: 1\ncables:\n")
	for i := range 4000 {
		fmt.Fprintf(&wide, "  W%d: {part: cable/nonesuch-%d, length: 1, from: T%d, to: E%d@start}\n", i, i, i, i)
	}
	var aliased strings.Builder
	aliased.WriteString("farend: 1\ndrawing:\n  E0: &a [[0, 0], [1, 1]]\n")
	for i := 1; i < 20000; i++ {
		fmt.Fprintf(&aliased, "  E%d: *a\n", i)
	}
	for name, source := range map[string]string{
		"names that lead nowhere": dangling(4000), "aliases that unfold": bomb(), "deep brackets": flow.String(), "many mistakes": wide.String(), "many aliases": aliased.String(),
		"a long line": "farend: 1\ntitle: " + strings.Repeat("x", 1<<20) + "\nruns: {E1: " + strings.Repeat("y", 1<<20) + "}\n",
		"too long":    "farend: 1\n" + strings.Repeat("#\n", 9<<20),
	} {
		t.Run(name, func(t *testing.T) {
			_, mistakes := scheme.Read("a.scheme.yaml", []byte(source), library(t))
			if len(mistakes) == 0 || len(mistakes) > 1001 {
				t.Errorf("%d mistakes found", len(mistakes))
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	catalogue := library(f)
	for _, seed := range []string{
		footbridge(f), everything(f), bomb(), "", "farend: 1", "farend: 2", "\ufefffarend: 1\r\n", "farend: &a 1\ntitle: *a", "a: &a {a: *a}", "farend: 1\nruns: &a {E1: *a}",
		"farend: 1\nruns: {E1: {tape: tape/12v-rgb-60, length: 1.05 m, cuts: [{at: px5, pole: plus}], joints: [0.5 m]}}\n" +
			"junctions: {X1: {part: choose}}\ncables: {W1: {part: choose, length: 1 m, from: X1, to: E1@0.2m-}}\n",
		"farend: 1\nparts:\n  tape/mine: {title: x, volts: 5 V, pixels: 1e-300 /m, cut_every: 9223372036854775807, rail: 1 Ω/m, channels: {red: {string: 1 Ω, lo: 1 V, soft: 1 V}}, idle: {string: 1 Ω, lo: 1 V, soft: 1 V}, protocol: protocol/single-wire-800k-24}\nruns: {E1: {tape: tape/mine, pixels: 5}}\n",
		"farend: 1\nstates: {full: {colour: \"#ff00\", runs: {E1: {level: 3 %}}}}\nduty: {full: 1e308 h/day}",
		"farend: 1\ndrawing: {E1: [[1e308, -1e308], [-1e308, 1e308]]}\nruns: {E1: {tape: choose}}",
		"farend: 1\n? [a, b]\n: c", "farend: 1\n<<: {a: b}", "--- !!map\nfarend: !!float 1", "%YAML 1.2\n---\nfarend: 1", "farend: 1\ncables: {\"/~\": 5}",
		"farend: 1\nfuses: {A1.1: fuse/blade-7A – träge}",
	} {
		f.Add([]byte(seed))
	}
	schema := compiled(f)
	f.Fuzz(func(t *testing.T, source []byte) {
		s, mistakes := scheme.Read("f", source, catalogue)
		if (s == nil) != (len(mistakes) > 0) {
			t.Fatalf("scheme %v and %d mistakes", s, len(mistakes))
		}
		for i, m := range mistakes {
			located(t, source, m)
			if i > 0 && m.Pos.Line < mistakes[i-1].Pos.Line {
				t.Errorf("mistake %d of %d stands before the one before it: %+v", i, len(mistakes), m)
			}
		}
		if said := mistakes.Explain(source); strings.Count(said, "hint: ") < len(mistakes) {
			t.Errorf("%d mistakes are explained by\n%s", len(mistakes), said)
		}
		again, others := scheme.Read("f", source, catalogue)
		if !reflect.DeepEqual(mistakes, others) {
			t.Errorf("read twice, the mistakes are %v and %v", mistakes, others)
		}
		if s == nil {
			return
		}
		sane(t, s)
		s.Library, again.Library = nil, nil
		if !reflect.DeepEqual(s, again) {
			t.Error("read twice, it is another scheme")
		}
		if why, ok := validated(t, schema, source); ok && why != nil {
			t.Errorf("the schema refuses what is read: %v", why)
		}
	})
}

// located checks that a mistake says something, and where in the file it is: a mistake of the whole file is on no line.
func located(t *testing.T, source []byte, m finding.Mistake) {
	if m.Text == "" || m.Hint == "" || strings.ContainsFunc(m.Text+m.Hint, unicode.IsControl) {
		t.Errorf("%+v says nothing, gives no hint, or passes on a control character", m)
	}
	if m.Pos.Line == 0 && m.Pos.Column == 0 {
		return
	}
	line, ok := finding.Line(source, m.Pos.Line)
	if !ok || m.Pos.Column < 1 || m.Pos.Column > utf8.RuneCount(line)+1 {
		t.Errorf("%+v is not in the file", m)
	}
}

// sane checks what other rooms rely on.
func sane(t *testing.T, s *scheme.Scheme) {
	for id, run := range s.Runs {
		tape := s.Tape(id)
		if tape == nil || run.Count < 1 || run.Count > 2_000_000 || *run.Pixels != run.Count || !(*run.Length > 0 && *run.Length < 10_001) || run.Count%tape.CutEvery != 0 {
			t.Errorf("run %s: %+v", id, run)
		}
		for _, cut := range run.Cuts {
			if cut.At.Mark <= 0 || cut.At.Mark >= run.Count || cut.At.Mark%tape.CutEvery != 0 {
				t.Errorf("cut of %s: %+v", id, cut)
			}
		}
		for _, state := range append(s.StateNames(), "dark") {
			drive, ok := s.Drives(state, id)
			for _, d := range drive {
				ok = ok && d >= 0 && d <= 1
			}
			if !ok || len(drive) != len(tape.Channels) {
				t.Errorf("%s in %s is driven %v", id, state, drive)
			}
		}
	}
	for id, c := range s.Cables {
		for _, end := range []scheme.Ref{c.From, c.To} {
			n := s.Runs[end.Element].Count
			if end.Kind == scheme.Unresolved || end.Kind == scheme.StationRef && (end.Station.Mark < 0 || end.Station.Mark > n || end.Station.Metres != nil) {
				t.Errorf("cable %s ends at %+v", id, end)
			}
		}
		if c.Length == nil || *c.Length <= 0 {
			t.Errorf("cable %s has length %v", id, c.Length)
		}
	}
	if len(s.States) == 0 || s.Coldest() > s.Ambient() || s.Cap() <= 0 {
		t.Errorf("states %v, %v to %v, cap %v", s.States, s.Coldest(), s.Ambient(), s.Cap())
	}
}
