package study_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// shelf is a run on one way of a board of its own, or two runs that hang together on two.
const shelf = `farend: 1
site: {exposure: dry, conductors: 20 °C}
supplies: {T1: {part: supply/5v-200w}}
boards: {A1: {part: board/own}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 60}}
cables:
  W1: {part: cable/flex-2x4, length: 0.5 m, from: T1, to: A1.in, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  MORE
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A}
states: {full: {level: 70 %, colour: white}}
parts:
  board/own: {title: own, basis: measured, source: invented for this test, volts_max: 24 V, inlet: {amps: 30 A, resistance: 1 mΩ}, ways: {1: {amps: 20 A, resistance: WAY Ω}, 2: {amps: 20 A, resistance: 0.001 Ω}}}
`

func shelved(t *testing.T, more string, way float64) *study.Study {
	t.Helper()
	text := strings.NewReplacer("MORE", more, "WAY", fmt.Sprintf("%.9f", way)).Replace(shelf)
	sch, mistakes := scheme.Read("shelf", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch, &study.Options{Striking: study.NotNow})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func jointAt(t *testing.T, s *study.Study, name string) study.Joint {
	t.Helper()
	all, err := s.Joints(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range all {
		if j.At == name {
			return j
		}
	}
	t.Fatalf("there is no joint %s in %+v", name, all)
	return study.Joint{}
}

// A contact in the only feed makes what its resistance and the current of the run make, which a board with that resistance in its way confirms; a little
// more resistance and the run leaves its aims.
func TestABadJointInTheOnlyFeed(t *testing.T) {
	s := shelved(t, "", 0.001)
	j := jointAt(t, s, "A1.1.plus")
	if j.Unnoticed.Ever || !j.Unnoticed.Known || j.Unnoticed.Watts <= 0 {
		t.Fatalf("%+v", j)
	}
	if got, want := float64(j.Watts), float64(j.Amps); math.Abs(got-want) > 1e-9 || j.Case.Name != "peak/full" {
		t.Errorf("at 1 V %v A make %v W in %s", want, got, j.Case.Name)
	}
	ohms := float64(j.Unnoticed.Ohms)
	kept := func(more float64) (amps float64, aims bool) {
		r := shelved(t, "", 0.001+more).Result("state/full")
		run := r.Runs["E1"]
		return float64(r.Ways["A1.1"].Amps.RMS), *run.Evenness >= 0.8 && *run.ColourShift <= 0.004 && run.VoltsLow >= s.Scheme.Tape("E1").VoltsMin.Is
	}
	amps, aims := kept(ohms)
	if watts := amps * amps * ohms; math.Abs(watts/float64(j.Unnoticed.Watts)-1) > 1e-3 || !aims {
		t.Errorf("a way with %g Ω more makes %g W and keeps the aims: %v; the joint %v", ohms, watts, aims, j.Unnoticed.Watts)
	}
	if _, aims := kept(1.04 * ohms); aims {
		t.Errorf("with %g Ω the aims are kept, too", 1.04*ohms)
	}
}

// A contact in one of two feeds of a short run is never noticed: the current goes the other way, and it makes most where its resistance is that of the
// way around, Thévenin's: a quarter of its current squared times that, less what the joint had of its own.
func TestABadJointBesideAnotherFeedIsNeverNoticed(t *testing.T) {
	s := shelved(t, "W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@start}", 0.001)
	j := jointAt(t, s, "A1.1.plus")
	if !j.Unnoticed.Ever || !j.Unnoticed.Known {
		t.Fatalf("%+v", j)
	}
	sound := float64(s.Result("state/full").Ways["A1.1"].Amps.RMS)
	around := float64(j.Unnoticed.Ohms)
	if got, want := float64(j.Unnoticed.Watts), sound*sound*around/4; math.Abs(got/want-1) > 0.02 {
		t.Errorf("it makes %g W over %g Ω; a quarter of %g A squared times that is %g W", got, around, sound, want)
	}
	for _, factor := range []float64{0.8, 1.25} {
		way := shelved(t, "W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@start}", 0.001+around*factor).Result("state/full").Ways["A1.1"]
		if watts := float64(way.Amps.RMS*way.Amps.RMS) * around * factor; watts > float64(j.Unnoticed.Watts)*1.001 {
			t.Errorf("%g times the resistance makes %g W, more than %v", factor, watts, j.Unnoticed.Watts)
		}
	}
}
