package study_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"farend/parts"
	"farend/study"
)

// Data goes from run to run in the order of the leads.
func TestPortsKnowWhatHangsOnThem(t *testing.T) {
	text := `aims: {frame_rate: 100 Hz}
supplies: {T1: {part: supply/big}}
boards: {A1: {part: board/big}}
runs:
  E1: {tape: tape/even, pixels: 100}
  E2: {tape: tape/even, pixels: 50}
  E3: {tape: tape/even, pixels: 120}
  E4: {tape: tape/even, pixels: 30}
cables: {W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-2A}}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2}
  D3: {part: cable/data-3x0.5, length: 1 m, from: E2, to: E3}
states: {full: {}}
parts:` + even
	s := studied(t, text)
	p, ok := s.Port("A1.P1")
	want := study.Port{ID: "A1.P1", Runs: []string{"E1", "E2", "E3"}, Pixels: 270, Lead: "D1", Protocol: "protocol/single-wire-800k-24", Aimed: true, Known: true, Frame: p.Frame, Rate: p.Rate, Spare: 54}
	if !ok || !reflect.DeepEqual(p, want) {
		t.Errorf("%+v, want %+v", p, want)
	}
	if frame := 270*24*1.25e-6 + 280e-6; math.Abs(float64(p.Frame)-frame) > 1e-15 || math.Abs(float64(p.Rate)*frame-1) > 1e-12 {
		t.Errorf("a frame takes %v, %v; want %v", p.Frame, p.Rate, frame)
	}
	if list := s.Ports(); len(list) != 1 {
		t.Errorf("%+v", list)
	}
	if _, ok := s.Port("A1.P2"); ok {
		t.Error("a port sends to which no lead goes")
	}
}

// The spare pixels are as many as still make the frame rate, one by one; and what is common practice is so: 1000 pixels of 24 bits make about 30
// frames a second at 800 kbit/s, 500 about 60 (common practice, no source).
func TestSparePixelsAreWhatIsLeft(t *testing.T) {
	for _, protocol := range []string{"protocol/single-wire-800k-24", "protocol/single-wire-800k-32", "protocol/single-wire-400k-24-rgb", "protocol/clocked-32", "protocol/clocked-32-latched"} {
		p, ok := parts.Get[parts.Protocol](parts.Catalogue(), protocol)
		if !ok {
			t.Fatal(protocol)
		}
		most := 0
		for n := 1; ; n++ {
			if frame, ok := p.Frame(n); !ok || 1/float64(frame) < 50 {
				break
			}
			most = n
		}
		text := `aims: {frame_rate: 50 Hz}
supplies: {T1: {part: supply/big}}
boards: {A1: {part: board/big}}
runs: {E1: {tape: tape/even, pixels: 100}}
cables: {W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-2A}}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}
states: {full: {}}
parts:` + strings.Replace(even, "protocol: protocol/single-wire-800k-24", "protocol: "+protocol, 1)
		got, _ := studied(t, text).Port("A1.P1")
		if got.Spare != most-100 {
			t.Errorf("%s: %d to spare, want %d", protocol, got.Spare, most-100)
		}
	}
	p, _ := parts.Get[parts.Protocol](parts.Catalogue(), "protocol/single-wire-800k-24")
	for pixels, about := range map[int]float64{1000: 30, 500: 60} {
		if frame, _ := p.Frame(pixels); math.Abs(1/float64(frame)-about) > 0.12*about {
			t.Errorf("%d pixels make %v frames a second, in practice about %v", pixels, 1/float64(frame), about)
		}
	}
}
