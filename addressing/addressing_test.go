package addressing_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"farend/addressing"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/scheme"
)

func read(t *testing.T, text string) *scheme.Scheme {
	t.Helper()
	s, mistakes := scheme.Read("text", []byte("farend: 1\n"+text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return s
}

// ANSI E1.31: groups of universes (9.3.1, and the vectors beside it); a packet of 512 slots has 638 octets, 646 with UDP's head, and makes an Ethernet frame of
// 680 and 4 of check (a dissector counts them so), which takes 20 more with preamble and gap (IEEE 802.3).
func TestNumbersOfTheStandard(t *testing.T) {
	for universe, want := range map[int]string{1: "239.255.0.1", 256: "239.255.1.0", 7962: "239.255.31.26", 63999: "239.255.249.255"} {
		if got := addressing.Group(universe); got != want {
			t.Errorf("universe %d goes to %s, want %s", universe, got, want)
		}
	}
	for slots, want := range map[int]int{512: 680 + 4 + 20, 6: 132 + 28 + 18 + 20, 0: 126 + 28 + 18 + 20} {
		if got := addressing.OnTheWire(slots); got != want {
			t.Errorf("%d slots take %d octets, want %d", slots, got, want)
		}
	}
}

const yard = `aims: {frame_rate: 40 Hz}
supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}}
boards:
  A1: {part: board/six-way-three-port, host: yard, address: 192.0.2.7}
  A2: {part: board/six-way-three-port}
runs:
  E1: {tape: tape/5v-rgb-60, pixels: 200}
  E2: {tape: tape/5v-rgb-60, pixels: 300}
  E3: {tape: tape/5v-rgbw-60, pixels: 130}
  E4: {tape: tape/5v-rgb-60, pixels: 10}
cables: {W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in}, W2: {part: cable/flex-2x6, length: 1 m, from: T2, to: A2.in}}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P2, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2}
  D3: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E4}
  D4: {part: cable/data-3x0.5, length: 1 m, from: A2.P1, to: E3}
states: {full: {}}
drawing: {E1: [[0, 0], [2, 0], [2, 1.3]]}
`

// By hand: 10 pixels of three slots on P1; 500 on P2, 170 in a universe of 512; 130 of four slots on A2, 128 in one.
func TestUniversesByHand(t *testing.T) {
	p, err := addressing.New(read(t, yard), 1)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, u := range p.Universes {
		got = append(got, fmt.Sprintf("%d %s %d %s:%d-%s:%d", u.Number, u.Port, u.Slots, u.From.Run, u.From.Pixel, u.To.Run, u.To.Pixel))
	}
	want := []string{
		"1 A1.P1 30 E4:0-E4:9", "2 A1.P2 510 E1:0-E1:169", "3 A1.P2 510 E1:170-E2:139", "4 A1.P2 480 E2:140-E2:299", "5 A2.P1 512 E3:0-E3:127", "6 A2.P1 8 E3:128-E3:129",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if want := []addressing.Receiver{{Board: "A1", Host: "yard", Address: "192.0.2.7", From: 1, To: 4, Pixels: 510}, {Board: "A2", From: 5, To: 6, Pixels: 130}}; fmt.Sprint(p.Receivers) != fmt.Sprint(want) {
		t.Errorf("receivers %+v, want %+v", p.Receivers, want)
	}
	octets := 0
	for _, slots := range []int{30, 510, 510, 480, 512, 8} {
		octets += 126 + slots + 28 + 18 + 20
	}
	if p.Packets != 6*40 || p.Bits != float64(octets*8*40) || !p.Asked {
		t.Errorf("%v packets and %v bits a second, want %d and %d", p.Packets, p.Bits, 6*40, octets*8*40)
	}
	// E1 is 3.3 m long, 16.5 mm a pixel, with a corner after 2 m.
	for _, a := range p.Pixels {
		x, y := 2.0, (float64(a.Pixel.Pixel)+0.5)/200*3.3-2
		if y < 0 {
			x, y = 2+y, 0
		}
		if a.Run == "E1" && (!a.Drawn || math.Abs(a.X-x) > 1e-9 || math.Abs(a.Y-y) > 1e-9) || a.Run != "E1" && a.Drawn {
			t.Fatalf("%+v, want %v, %v", a, x, y)
		}
	}
}

// On random schemes every pixel has slots of its own, whole and in order, no universe has more than it holds, and none is shared by two ports.
func TestEveryPixelHasSlotsOfItsOwn(t *testing.T) {
	r := rand.New(rand.NewSource(12))
	for range 60 {
		s, mistakes := scheme.Read("random", []byte(schemetest.Text(schemetest.Random(r), schemetest.AsWritten)), parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		first := 1 + r.Intn(60000)
		p, err := addressing.New(s, first)
		if err != nil {
			t.Fatal(err)
		}
		taken, port, pixels := map[[2]int]bool{}, map[int]string{}, 0
		for _, a := range p.Pixels {
			for k := range a.Slots {
				at := [2]int{a.Universe, a.Slot + k}
				if taken[at] || at[1] < 1 || at[1] > addressing.Slots {
					t.Fatalf("%+v takes slot %d of universe %d", a, at[1], at[0])
				}
				taken[at] = true
			}
			if was, known := port[a.Universe]; known && was != a.Port {
				t.Fatalf("universe %d is of %s and %s", a.Universe, was, a.Port)
			}
			port[a.Universe] = a.Port
			pixels++
		}
		slots, want := 0, 0
		for i, u := range p.Universes {
			slots += u.Slots
			if u.Number != first+i || u.Slots == 0 {
				t.Fatalf("universe %d of %d is %+v", i, first, u)
			}
		}
		for _, lead := range s.Senders() {
			for _, run := range s.Chained(s.Data[lead].To.Element) {
				want += s.Runs[run].Count
			}
		}
		if slots != len(taken) || pixels != want {
			t.Errorf("%d slots of %d, %d pixels of %d", slots, len(taken), pixels, want)
		}
	}
}

func TestWhatCannotBeNumberedSaysWhy(t *testing.T) {
	var gap *addressing.Gap
	for _, first := range []int{0, -1, 64000, 63997} {
		if _, err := addressing.New(read(t, yard), first); !errors.As(err, &gap) || gap.Hint == "" {
			t.Errorf("from universe %d on: %v", first, err)
		}
	}
	if p, err := addressing.New(read(t, yard), 63994); err != nil || p.Universes[len(p.Universes)-1].Number != 63999 {
		t.Errorf("up to the last: %v", err)
	}
	silent := read(t, "supplies: {T1: {part: supply/5v-300w}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 5}}\ncables: {W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: E1@start}}\nstates: {full: {}}\n")
	if p, err := addressing.New(silent, 1); err != nil || len(p.Universes)+len(p.Pixels)+len(p.Receivers) > 0 || p.Asked || p.Rate != 44 {
		t.Errorf("where nothing sends: %+v, %v", p, err)
	}
}
