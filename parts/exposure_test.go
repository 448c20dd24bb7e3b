package parts_test

import (
	"strconv"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

// The digits that a place asks for are those of IEC 60529 that keep out what is there.
func TestWetnessIsWhatTheDigitsKeepOut(t *testing.T) {
	keeps := map[int]string{}
	for _, row := range reference.Where(t, reference.Rows(t, "ip_digits.csv"), "digit", "second") {
		digit, err := strconv.Atoi(row["value"])
		if err != nil {
			t.Fatal(err)
		}
		keeps[digit] = row["keeps_out"]
	}
	for place, want := range map[parts.Exposure][2]string{
		parts.Dry: {"", ""}, "": {"", ""}, parts.Damp: {"vertical drops", "drops at 15 degrees"},
		parts.Outdoors: {"spray to 60 degrees", "splashing"}, parts.Immersed: {"immersion to 1 m", "immersion beyond 1 m, as agreed"},
	} {
		w := place.Wetness()
		if keeps[w.Least] != want[0] || keeps[w.Wanted] != want[1] {
			t.Errorf("%s asks for %+v: %q and %q", place, w, keeps[w.Least], keeps[w.Wanted])
		}
	}
}

// Second digits up to 6 imply the lower ones; 7 and 8 do not imply 5 or 6 (IEC 60529).
func TestDigitsImplyWhatTheStandardSays(t *testing.T) {
	for digit := range 10 {
		for need := range 10 {
			want := digit >= need
			switch {
			case digit >= 7 && (need == 5 || need == 6), digit == 9 && (need == 7 || need == 8):
				want = false
			}
			if got := parts.KeepsOut(digit, need); got != want {
				t.Errorf("%d keeps out what %d does: %v", digit, need, got)
			}
		}
	}
}

func TestWhatIsMadeForTheWetStandsTheDry(t *testing.T) {
	words := []parts.Exposure{parts.Dry, parts.Damp, parts.Outdoors, parts.Immersed}
	for i, made := range words {
		for j, place := range words {
			if got := made.Stands(place); got != (i >= j) {
				t.Errorf("what is made for %s stands %s: %v", made, place, got)
			}
		}
	}
	if !parts.Exposure("").Stands(parts.Dry) || parts.Exposure("").Stands(parts.Damp) {
		t.Error("what says nothing stands the dry, and no more")
	}
	for text, want := range map[string][3]int{"65": {6, 5, 1}, "00": {0, 0, 1}, "69": {6, 9, 1}, "7": {}, "X4": {}, "75": {}, "": {}} {
		solids, water, ok := parts.Degree(text)
		if got := [3]int{solids, water, map[bool]int{true: 1}[ok]}; got != want {
			t.Errorf("%q is %v, want %v", text, got, want)
		}
	}
}
