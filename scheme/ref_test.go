package scheme_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/scheme"
)

func TestReferencesAreReadByTheirForm(t *testing.T) {
	cases := map[string]scheme.Ref{
		"T1":         {Element: "T1"},
		"A1.in":      {Element: "A1", Socket: "in"},
		"A1.2":       {Element: "A1", Socket: "2"},
		"A1.P1":      {Element: "A1", Socket: "P1"},
		"E1@start":   {Element: "E1", Station: scheme.Station{Text: "start", Start: true}},
		"E1@end":     {Element: "E1", Station: scheme.Station{Text: "end", End: true}},
		"E1@px120":   {Element: "E1", Station: scheme.Station{Text: "px120", Pixel: 120}},
		"E1@px120-":  {Element: "E1", Station: scheme.Station{Text: "px120-", Pixel: 120, Before: true}},
		"deck_2-a.3": {Element: "deck_2-a", Socket: "3"},
	}
	for text, want := range cases {
		t.Run(text, func(t *testing.T) {
			var got scheme.Ref
			if err := got.UnmarshalText([]byte(text)); err != nil {
				t.Fatal(err)
			}
			want.Text = text
			if got != want {
				t.Errorf("got %+v, want %+v", got, want)
			}
			if got.String() != text {
				t.Errorf("printed as %q", got)
			}
		})
	}
}

func TestStationInMetresKeepsItsLength(t *testing.T) {
	for text, want := range map[string]float64{"E1@2.5m": 2.5, "E1@2.5 m": 2.5, "E1@250cm": 2.5, "E1@10 ft": 3.048} { // 1 ft = 0.3048 m exactly, ISO 80000-3
		var got scheme.Ref
		if err := got.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
		if m := got.Station.Metres; m == nil || float64(*m) < want-1e-12 || float64(*m) > want+1e-12 {
			t.Errorf("%s is at %v, want %v m", text, m, want)
		}
		if got.String() != text {
			t.Errorf("%q is printed as %q", text, got)
		}
	}
}

func TestTextsThatAreNoReference(t *testing.T) {
	for _, text := range []string{"", " ", "@", ".", "E1@", "E1.", "@start", ".in", "1E", "E 1", "E1@px", "E1@px+3", "E1@px-3", "E1@px1.5",
		"E1@px99999999999999999999", "E1@1e999m", "E1@nan m", "E1@start@end", "A1.1.2", "A1.1@start", "E1@-", "Ё1", "E1@2.5", "E1@-2m"} {
		var got scheme.Ref
		if err := got.UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q was read as %+v", text, got)
		}
	}
}

// station reads where a cable lands on a run of the given tape and size, and the note about it.
func station(t *testing.T, tape, size, at string) (scheme.Station, string) {
	t.Helper()
	s := read(t, "farend: 1\nsupplies: {T1: {part: choose}}\nruns: {E1: {tape: "+tape+", "+size+", cuts: [{at: px4, pole: both}]}}\n"+
		"cables: {W1: {part: choose, length: 1 m, from: T1, to: E1@"+at+"}}\nstates: {full: {level: 100 %}}\n")
	for _, n := range s.Notes {
		if n.Subject == "W1" {
			return s.Cables["W1"].To.Station, n.Text
		}
	}
	return s.Cables["W1"].To.Station, ""
}

func TestStationsLandOnTheNearestMark(t *testing.T) {
	const pairs = "tape/12v-rgb-60" // 20 pixels/m, cut every 2 pixels, so every 0.1 m
	cases := []struct {
		name, at string
		mark     int
		note     string
	}{
		{"the start", "start", 0, ""},
		{"the end", "end", 20, ""},
		{"pixel 0", "px0", 0, ""},
		{"the last mark", "px20", 20, ""},
		{"a mark by pixel", "px6", 6, ""},
		{"a mark by length", "0.3m", 6, ""},
		{"a mark by a length that binary numbers only nearly hold", "0.7m", 14, ""},
		{"the side before a cut", "px4-", 4, ""},
		{"the side before a cut by length", "0.2m-", 4, ""},
		{"a tie goes to the lower mark", "px5", 4, "E1@px5 lies between cut marks of E1, which is cut every 0.1 m; it became E1@px4, 0.2 m from data-in"},
		{"a tie by length goes to the lower mark", "0.35m", 6, "E1@0.35m lies between cut marks of E1, which is cut every 0.1 m; it became E1@px6, 0.3 m from data-in"},
		{"just above a tie", "0.351m", 8, "E1@0.351m lies between cut marks of E1, which is cut every 0.1 m; it became E1@px8, 0.4 m from data-in"},
		{"near the end", "0.96m", 20, "E1@0.96m lies between cut marks of E1, which is cut every 0.1 m; it became E1@end, 1 m from data-in"},
		{"past the end, where the tape as written still is", "1.04m", 20, "E1@1.04m lies between cut marks of E1, which is cut every 0.1 m; it became E1@end, 1 m from data-in"},
		{"near the start", "0.04m", 0, "E1@0.04m lies between cut marks of E1, which is cut every 0.1 m; it became E1@start, 0 m from data-in"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, note := station(t, pairs, "length: 1.05 m", c.at)
			if got.Mark != c.mark || got.Pixel != c.mark || got.Start != (c.mark == 0) || got.End != (c.mark == 20) || got.Metres != nil {
				t.Errorf("landed at %+v, want mark %d", got, c.mark)
			}
			if got.Before != strings.HasSuffix(c.at, "-") {
				t.Errorf("side before a cut: %v", got.Before)
			}
			if note != c.note {
				t.Errorf("note %q, want %q", note, c.note)
			}
		})
	}
}

// Every station by pixel number lands on a mark no further away than any other, and the lower of two.
func TestNoMarkIsNearer(t *testing.T) {
	for px := range 21 {
		got, _ := station(t, "tape/12v-rgb-60", "pixels: 20", "px"+strconv.Itoa(px))
		for mark := 0; mark <= 20; mark += 2 {
			far, best := max(px-mark, mark-px), max(px-got.Mark, got.Mark-px)
			if far < best || far == best && mark < got.Mark {
				t.Errorf("px%d landed on %d, but %d is as near or nearer", px, got.Mark, mark)
			}
		}
	}
}

func TestNamesAreInNaturalOrder(t *testing.T) {
	want := []string{"2", "10", "E1", "E2", "E10", "E10a", "W01", "W1", "W2", "W9-2", "W9-10", "W99999999999999999999998", "W99999999999999999999999", "w1"}
	m := map[string]int{}
	for _, id := range want {
		m[id] = 0
	}
	if got := scheme.IDs(m); !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
