package parts_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

// What a wall sheds: engineering guides to the temperature of enclosures, and of their figures the lowest. Sizes are those in the
// name, which no source gives.
func TestEnclosuresShedWhatTheGuidesSay(t *testing.T) {
	walls := map[string]string{"steel": "sheet steel", "stainless": "stainless steel", "polycarbonate": "polycarbonate", "aluminium": "aluminium"}
	rows := reference.Rows(t, "enclosure_walls.csv")
	for name, e := range each[parts.Enclosure](t, "enclosure") {
		material, size, _ := strings.Cut(strings.TrimPrefix(name, "enclosure/"), "-")
		r := row(t, rows, "material", walls[material])
		if float64(e.Sheds.Is) != reference.Number(t, r, "k_min_w_per_m2k") || e.Sheds.Basis != parts.Handbook || r["status"] != "found" {
			t.Errorf("%s sheds %v (%s), want %s W/m²K", name, e.Sheds.Is, e.Sheds.Basis, r["k_min_w_per_m2k"])
		}
		millimetres := func(v float64) float64 { return math.Round(v*1e6) / 1e3 }
		want := fmt.Sprintf("%vx%vx%v", millimetres(float64(e.Width.Is)), millimetres(float64(e.Height.Is)), millimetres(float64(e.Depth.Is)))
		if size != want || e.Width.Basis != parts.Practice || !strings.HasSuffix(e.Title, "IP"+e.IP) {
			t.Errorf("%s is %s, IP%s (%s): %s", name, want, e.IP, e.Width.Basis, e.Title)
		}
	}
}

// The first digit of IEC 60529 says what gets in, 5 and 6 being dust; the second what water does. A box for outdoors keeps out
// jets, the fifth of the second.
func TestThereAreEnclosuresForOutdoors(t *testing.T) {
	kept := map[string]int{}
	for _, e := range each[parts.Enclosure](t, "enclosure") {
		kept[e.IP]++
	}
	for _, ip := range []string{"55", "65", "66"} {
		if kept[ip] == 0 {
			t.Errorf("none is IP%s", ip)
		}
	}
}
