package parts_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

// An ampacityTable gives amperes by area in square millimetres, or by gauge.
type ampacityTable map[float64]float64

// thinner is the figure for the thickest core of a table that is no thicker than the one asked for.
func (table ampacityTable) thinner(area float64) (amps float64, ok bool) {
	best := 0.0
	for a, v := range table {
		if a <= area*(1+1e-9) && a > best {
			best, amps = a, v
		}
	}
	return amps, best > 0
}

// tables are the found ampacities of copper in 30 °C, two loaded cores or one, by table and column; and what makers print on
// their cords ("cord") and single cores ("core").
func tables(t *testing.T) map[string]ampacityTable {
	t.Helper()
	all := map[string]ampacityTable{}
	put := func(name string, key, amps float64) {
		if all[name] == nil {
			all[name] = ampacityTable{}
		}
		all[name][key] = amps
	}
	for _, r := range reference.Rows(t, "ampacity.csv") {
		if r["kind"] != "ampacity" || r["status"] != "found" {
			continue
		}
		key := r["area_mm2"]
		if key == "" {
			key = r["awg"]
		}
		name := r["table"] + " " + r["method_or_column"]
		if name == "IEC 60204-1 T6 B2" { // three loaded cores in 40 °C
			name = "machines"
		} else if r["reference_ambient_c"] != "30" || strings.HasPrefix(r["loaded_conductors"], "3") {
			continue
		}
		put(name, value(key), reference.Number(t, r, "value"))
	}
	for _, r := range reference.Rows(t, "cable_lv.csv") {
		switch r["family"] {
		case "two-core PVC flex":
			put("cord", value(r["area_mm2"]), reference.Number(t, r, "usual_rating_a"))
		case "internal wiring core":
			put("core", value(r["area_mm2"]), reference.Number(t, r, "usual_rating_a"))
		}
	}
	return all
}

const (
	conduitIEC  = "IEC B.52.2 B2"
	conduitSANS = "SANS 10142-1 6.3(a) conduit or trunking on wall (B2)"
	surfaceIEC  = "IEC B.52.2 C"
	surfaceSANS = "SANS 10142-1 6.3(a) clipped direct (C)"
	surfaceVDE  = "VDE 0298-4 T11 col5 multicore on or at surfaces"
	surfaceMore = "maker catalogue small sizes fixed wiring, general"
	cordVDE     = "VDE 0298-4 T11 col3 multicore handheld equipment cords"
	freeVDE     = "VDE 0298-4 T11 col2 single core free in air"
	thinVDE     = "VDE 0891-1 multicore"
)

// lowest is the least figure of the named tables for exactly that area or gauge, +Inf where none has it.
func lowest(all map[string]ampacityTable, key float64, names ...string) float64 {
	least := math.Inf(1)
	for _, name := range names {
		if v, ok := all[name][key]; ok {
			least = min(least, v)
		}
	}
	return least
}

// thin is for cores thinner than any of a two-core cable in a table: the least of the tables for a core no thicker, and no
// more than a cord of 0.5 mm².
func thin(all map[string]ampacityTable, area float64) float64 {
	least := all[cordVDE][0.5]
	for _, name := range []string{thinVDE, surfaceMore} {
		if v, ok := all[name].thinner(area); ok {
			least = min(least, v)
		}
	}
	return least
}

// byGauge is the least that the NEC allows two cores at 60 °C, of that gauge or, where it has none of it, of the next thinner.
func byGauge(all map[string]ampacityTable, gauge float64) float64 {
	nec := []string{"NEC 402.5 fixture wire", "NEC 400.5(A)(1) col B flexible cord two loaded", "NEC 310.16 60C copper 60 C column"}
	return min(lowest(all, gauge, nec...), lowest(all, gauge+1, nec...))
}

// methods is what a cable must be good for by each method of installation.
type methods struct{ conduit, surface, free float64 }

func anyhow(amps float64) methods { return methods{amps, amps, amps} }

// fixed is for cables laid for good: IEC 60364-5-52 and its twin SANS 10142-1, the table for flexible cables on surfaces
// where it is lower, and where no two-core figure in conduit was found the lowest of any other.
func fixed(all map[string]ampacityTable, area float64) methods {
	conduit := lowest(all, area, conduitIEC, conduitSANS)
	if math.IsInf(conduit, 1) {
		conduit = lowest(all, area, "machines")
	}
	if math.IsInf(conduit, 1) {
		conduit = lowest(all, area, cordVDE)
	}
	surface := lowest(all, area, surfaceIEC, surfaceSANS, surfaceVDE, surfaceMore)
	return methods{conduit, surface, surface}
}

// allowed is what the tables allow a cable of the catalogue.
func allowed(all map[string]ampacityTable, name string, c *parts.Cable) methods {
	area := value(squareMillimetres(c.Area))
	if n := gauge(name); n != "" && value(n) <= 18 {
		return anyhow(byGauge(all, value(n)))
	} else if n != "" {
		return anyhow(thin(all, area))
	}
	cord := lowest(all, area, cordVDE, "cord")
	switch family(name) {
	case "stranded":
		return fixed(all, area)
	case "link", "auto":
		if amps, ok := all["core"][area]; ok {
			return anyhow(amps)
		} else if area < 0.5 {
			return anyhow(thin(all, area))
		}
		m := fixed(all, area)
		m.free = lowest(all, area, freeVDE)
		return m
	}
	switch {
	case area < 0.5:
		return anyhow(thin(all, area))
	case math.IsInf(cord, 1) && area < 1:
		return anyhow(thin(all, area))
	case math.IsInf(cord, 1):
		return fixed(all, area)
	}
	return anyhow(cord)
}

// IEC 60364-5-52:2009 table B.52.2, SANS 10142-1:2019 table 6.3(a), DIN VDE 0298-4 table 11, DIN VDE 0891-1, NFPA 70-2023 tables
// 310.16, 400.5(A)(1) and 402.5, a maker's sheets of cords and cores and another's of small sizes: the lowest that applies.
// Of data cable no ampacity was found.
func TestCableCurrentIsTheLowestOfItsSources(t *testing.T) {
	all := tables(t)
	for name, c := range each[parts.Cable](t, "cable") {
		if strings.HasPrefix(name, "cable/data-cat5e") {
			if got := c.Iz.Conduit; got.Basis != parts.Memory || float64(got.Is) > thin(all, 0.2047) {
				t.Errorf("%s may carry %v (%s)", name, got.Is, got.Basis)
			}
			continue
		}
		want := allowed(all, name, c)
		got := methods{float64(c.Iz.Conduit.Is), float64(c.Iz.Surface.Is), float64(c.Iz.Free.Is)}
		if got != want || math.IsInf(want.conduit+want.surface+want.free, 0) {
			t.Errorf("%s may carry %v, want %v A", name, got, want)
		}
		if got.conduit > got.surface || got.surface > got.free {
			t.Errorf("%s cools worse where air is freer: %v", name, got)
		}
		if memory := c.Iz.Conduit.Basis == parts.Memory; memory != (family(name) == "signal") {
			t.Errorf("%s: its currents are called %s", name, c.Iz.Conduit.Basis)
		}
	}
}

// A thicker core of one family may carry no less, by any method.
func TestThickerCoresCarryMore(t *testing.T) {
	kin := map[string][]*parts.Cable{}
	for name, c := range each[parts.Cable](t, "cable") {
		if family(name) != "data" && family(name) != "alarm" {
			kin[family(name)+map[bool]string{true: " by gauge"}[gauge(name) != ""]] = append(kin[family(name)+map[bool]string{true: " by gauge"}[gauge(name) != ""]], c)
		}
	}
	for name, list := range kin {
		slices.SortFunc(list, func(a, b *parts.Cable) int { return int(math.Copysign(1, float64(a.Area.Is-b.Area.Is))) })
		for i := 1; i < len(list); i++ {
			thin, thick := list[i-1], list[i]
			if thick.Iz.Conduit.Is < thin.Iz.Conduit.Is || thick.Iz.Surface.Is < thin.Iz.Surface.Is || thick.Iz.Free.Is < thin.Iz.Free.Is || thick.R20.Is >= thin.R20.Is {
				t.Errorf("%s: %s is no better than %s", name, thick.Title, thin.Title)
			}
		}
	}
	if len(kin) < 7 {
		t.Errorf("there are only %d families", len(kin))
	}
}

// A current belongs to the temperature of its table: 70 °C for PVC (IEC, SANS and VDE), 60 °C for the lowest column of the NEC.
// Insulation that stands more than that is cooler than its part says; insulation that stands less would be overloaded.
func TestInsulationStandsWhatItsTableAssumes(t *testing.T) {
	for name, c := range each[parts.Cable](t, "cable") {
		want := 70.0
		switch {
		case gauge(name) != "" && value(gauge(name)) <= 18, strings.HasPrefix(name, "cable/data-cat5e"):
			want = 60
		case family(name) == "auto":
			want = 105
		}
		if float64(c.Insulation.Is) != want {
			t.Errorf("%s is insulated for %v, want %v °C", name, c.Insulation.Is, want)
		}
	}
}
