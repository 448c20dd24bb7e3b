package parts_test

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
)

// links gives the fuses whose names are the beginning given, a rating and nothing more, by their rating in amperes.
func links(t *testing.T, begin string) map[string]*parts.Fuse {
	t.Helper()
	form, found := regexp.MustCompile(`^`+begin+`([0-9.]+)A$`), map[string]*parts.Fuse{}
	for name, f := range each[parts.Fuse](t, "fuse") {
		if m := form.FindStringSubmatch(name); m != nil {
			found[m[1]] = f
			if m[1] != plain(float64(f.Rating.Is)) {
				t.Errorf("%s is rated for %v", name, f.Rating.Is)
			}
		}
	}
	if len(found) == 0 {
		t.Fatalf("no fuse is called %s", begin)
	}
	return found
}

// bladeRows is the rows of one series of the table of blade fuses.
func bladeRows(t *testing.T, series string) []map[string]string {
	return reference.Where(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "series", series)
}

// scalar is a number of the table of blade fuses that is the same for all.
func scalar(t *testing.T, name string) float64 {
	return reference.Number(t, row(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "kind", "scalar", "series", name), "value")
}

// ratings is what ISO 8820-3 lists for a series; the note of the list has 35 A beside type C.
func ratings(t *testing.T, series string) []string {
	t.Helper()
	r := row(t, bladeRows(t, series), "kind", "standard_ratings")
	list := strings.Split(r["value"], "|")
	if series == "C regular" && strings.Contains(r["note"], "35 A for type C") {
		list = append(list, "35")
	}
	return list
}

// missing lists what is wanted and not there.
func missing(want []string, have map[string]*parts.Fuse) []string {
	return slices.DeleteFunc(slices.Clone(want), func(r string) bool { return have[r] != nil })
}

// hot is the resistance that a drop at rated current makes, and how it is known. Of the 35 A link no drop was read, and it
// has the ratio of hot to cold of the 40 A link.
func hot(t *testing.T, rating string, cold float64) (milliohms float64, basis parts.Basis) {
	regular := bladeRows(t, "C regular")
	drop := func(rating string) map[string]string {
		return row(t, regular, "kind", "voltage_drop_typ", "rating_a", rating)
	}
	if rating == "35" {
		forty := reference.Number(t, row(t, regular, "kind", "cold_resistance_typ", "rating_a", "40"), "value")
		return cold * reference.Number(t, drop("40"), "value") / 40 / forty, parts.Derived
	}
	basis = map[string]parts.Basis{"found": parts.Derived, "memory": parts.Memory}[drop(rating)["status"]]
	return reference.Number(t, drop(rating), "value") / value(rating), basis
}

// ISO 8820-3:2015 for ratings, voltage and breaking capacity; the datasheet and the workshop measurements of the table for
// resistance, with the basis that each has there.
func TestBladeFusesAgreeWithTheirTable(t *testing.T) {
	regular, have := bladeRows(t, "C regular"), links(t, "fuse/blade-")
	want := ratings(t, "C regular")
	if absent := missing(want, have); len(absent) > 0 || len(have) != len(want) {
		t.Errorf("of %v there are %d; %v are missing", want, len(have), absent)
	}
	for rating, f := range have {
		low, high, least, found := math.Inf(1), 0.0, 0.0, false
		for _, r := range regular {
			if r["rating_a"] != rating {
				continue
			}
			switch r["kind"] {
			case "cold_resistance_typ":
				least = reference.Number(t, r, "value")
				low, high = min(low, least), max(high, least)
				found = found || r["status"] == "found"
			case "cold_resistance":
				low, high = min(low, reference.Number(t, r, "value")), max(high, reference.Number(t, r, "value_max"))
				found = true
			}
		}
		cold := float64(f.Resistance.Is) * 1000
		if cold < low*(1-printed) || cold > high*(1+printed) || cold < least*(1-printed) {
			t.Errorf("%s A has %v mΩ cold; the figures found are %v to %v mΩ", rating, cold, low, high)
		}
		if !found && f.Resistance.Basis != parts.Memory {
			t.Errorf("%s A: cold resistance is from memory, and called %s", rating, f.Resistance.Basis)
		}
		if want, basis := hot(t, rating, cold); !same(float64(f.ResistanceHot.Is)*1000, want) || f.ResistanceHot.Basis != basis {
			t.Errorf("%s A has %v hot (%s), want %v mΩ (%s)", rating, f.ResistanceHot.Is, f.ResistanceHot.Basis, want, basis)
		}
		curve := "curve/iso8820-blade"
		if f.Rating.Is > 30 {
			curve = "curve/iso8820-blade-35-40"
		}
		isBlade(t, f, curve, "blade")
	}
}

// isBlade compares what all blade fuses share with ISO 8820-3:2015, as a standards catalogue quotes its scope.
func isBlade(t *testing.T, f *parts.Fuse, curve string, holder parts.Holder) {
	t.Helper()
	if float64(f.VoltsMax.Is) != scalar(t, "rated_voltage") || float64(f.Breaking.Is) != scalar(t, "breaking_capacity") || f.Curve != curve || f.Holder != holder || float64(f.Rating.Is) > scalar(t, "max_rating") {
		t.Errorf("%s: %v, %v, %s, %s", f.Title, f.VoltsMax.Is, f.Breaking.Is, f.Curve, f.Holder)
	}
}

// A maker's measuring note, FUS01 and FUS02, has 7.70 mΩ for the 10 A mini; of the others no figure was read, and they have
// those of the regular link. The 30 A mini for 58 V has less.
func TestMiniFusesAreLikeRegularOnes(t *testing.T) {
	have, regular, want := links(t, "fuse/mini-"), links(t, "fuse/blade-"), ratings(t, "F mini")
	if absent := missing(want, have); len(absent) > 0 || len(have) != len(want) {
		t.Errorf("of %v there are %d; %v are missing", want, len(have), absent)
	}
	for rating, f := range have {
		isBlade(t, f, "curve/iso8820-mini", "mini")
		basis := parts.Memory
		if rating == "10" {
			basis = parts.Datasheet
		}
		if f.Resistance.Is != regular[rating].Resistance.Is || f.ResistanceHot.Is != regular[rating].ResistanceHot.Is || f.Resistance.Basis != basis || f.ResistanceHot.Basis != parts.Memory {
			t.Errorf("mini %s A: %v (%s), %v", rating, f.Resistance.Is, f.Resistance.Basis, f.ResistanceHot.Is)
		}
	}
	higher := reference.Number(t, row(t, bladeRows(t, "F mini 58 V"), "kind", "cold_resistance_typ", "rating_a", "30"), "value")
	if float64(have["30"].Resistance.Is)*1000 < higher {
		t.Errorf("mini 30 A has %v, one for 58 V %v mΩ", have["30"].Resistance.Is, higher)
	}
}

// Datasheet of the 40 A maxi fuse, which has 75 mV at rated current; the two others have its ratio of hot to cold.
func TestMaxiFusesAgreeWithTheirTable(t *testing.T) {
	rows, have := bladeRows(t, "E maxi"), links(t, "fuse/maxi-")
	forty := row(t, rows, "kind", "cold_resistance_typ", "rating_a", "40")
	if !strings.HasPrefix(forty["note"], "75 mV drop at rated current") {
		t.Fatalf("the drop of the 40 A maxi is gone: %s", forty["note"])
	}
	ratio := 75.0 / 40 / reference.Number(t, forty, "value")
	for _, r := range reference.Where(t, rows, "kind", "cold_resistance_typ") {
		f := have[r["rating_a"]]
		if f == nil {
			t.Errorf("there is no maxi of %s A", r["rating_a"])
			continue
		}
		want := reference.Number(t, r, "value")
		if !same(float64(f.Resistance.Is)*1000, want) || f.Resistance.Basis != parts.Datasheet || !same(float64(f.ResistanceHot.Is)*1000, want*ratio) || f.ResistanceHot.Basis != parts.Derived {
			t.Errorf("maxi %s A: %v, %v", r["rating_a"], f.Resistance.Is, f.ResistanceHot.Is)
		}
		isBlade(t, f, "curve/iso8820-maxi", "maxi")
	}
	if len(have) != len(reference.Where(t, rows, "kind", "cold_resistance_typ")) {
		t.Errorf("%d maxi fuses", len(have))
	}
}

// Typical melting energies of blade fuses; the links inside inline fuses have them too.
func TestMeltingAgreesWithTheTable(t *testing.T) {
	all, melts := each[parts.Fuse](t, "fuse"), 0
	for _, r := range reference.Where(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "kind", "i2t_melting_typ") {
		for series, begin := range map[string]string{"C regular": "fuse/blade-", "F mini": "fuse/mini-", "E maxi": "fuse/maxi-"} {
			f := all[begin+r["rating_a"]+"A"]
			if r["series"] == series && (f == nil || float64(f.Melting.Is) != reference.Number(t, r, "value") || f.Melting.Basis != parts.Datasheet) {
				t.Errorf("%s %s A does not melt at %s A²s", series, r["rating_a"], r["value"])
			}
		}
		melts++
	}
	for name, f := range all {
		if strings.HasPrefix(name, "fuse/blade-") || strings.HasPrefix(name, "fuse/mini-") || strings.HasPrefix(name, "fuse/maxi-") {
			if f.Melting.Given {
				melts--
			}
		}
	}
	if melts != 0 {
		t.Errorf("%d rows more than fuses that say what melts them", melts)
	}
}

// ISO 8820-3 colours, as pages on fuses list them; where a page has two words for one the catalogue has one of them.
func TestColoursAreThoseOfTheStandard(t *testing.T) {
	rows, coloured := reference.Where(t, reference.Rows(t, "fuse_blade_iso8820.csv"), "kind", "colour"), 0
	for name, f := range each[parts.Fuse](t, "fuse") {
		if !regexp.MustCompile(`^fuse/(blade|mini|inline)-\d`).MatchString(name) {
			if f.Colour != "" {
				t.Errorf("%s: no colour was read, and it is %s", name, f.Colour)
			}
			continue
		}
		coloured++
		if r := row(t, rows, "rating_a", plain(float64(f.Rating.Is))); f.Colour == "" || !slices.Contains(regexp.MustCompile(` / | \(|; `).Split(r["colour"], -1), f.Colour) && !strings.HasSuffix(r["colour"], "/ "+f.Colour) {
			t.Errorf("%s is %q, want %s", name, f.Colour, r["colour"])
		}
	}
	if coloured < 2*len(rows)-3 { // regular ones, and mini ones from 2 to 30 A
		t.Errorf("only %d fuses have a colour", coloured)
	}
}

// An inline fuse is a link and the contacts of its seat, which are from memory.
func TestInlineFusesAreALinkAndAHolder(t *testing.T) {
	all, seats := each[parts.Fuse](t, "fuse"), each[parts.Connector](t, "connector")
	count := 0
	for name, f := range all {
		if f.Holder != "inline" {
			if f.Seat != "" || strings.Contains(name, "inline") {
				t.Errorf("%s: %s, %s", name, f.Holder, f.Seat)
			}
			continue
		}
		count++
		begin := "fuse/blade-"
		if strings.Contains(name, "maxi") {
			begin = "fuse/maxi-"
		}
		link, seat := all[begin+plain(float64(f.Rating.Is))+"A"], seats[f.Seat]
		if link == nil || seat == nil {
			t.Errorf("%s: seat %s", name, f.Seat)
			continue
		}
		contact := float64(seat.Resistance.Is)
		if !same(float64(f.Resistance.Is), float64(link.Resistance.Is)+contact) || !same(float64(f.ResistanceHot.Is), float64(link.ResistanceHot.Is)+contact) {
			t.Errorf("%s is not its link and %v mΩ: %v, %v", name, contact*1000, f.Resistance.Is, f.ResistanceHot.Is)
		}
		if f.Resistance.Basis != parts.Memory || f.ResistanceHot.Basis != parts.Memory || f.Curve != link.Curve || f.VoltsMax.Is != link.VoltsMax.Is || f.Breaking.Is != link.Breaking.Is || f.Colour != link.Colour || f.Melting.Is != link.Melting.Is {
			t.Errorf("%s differs from its link", name)
		}
		if f.Rating.Is > seat.Amps.Is || f.VoltsMax.Is > seat.VoltsMax.Is {
			t.Errorf("%s (%v, %v) sits in %s (%v, %v)", name, f.Rating.Is, f.VoltsMax.Is, f.Seat, seat.Amps.Is, seat.VoltsMax.Is)
		}
	}
	if count < 12 {
		t.Errorf("%d inline fuses", count)
	}
}

// A maker's note on measuring blade fuses: current from the voltage across a 10 A mini.
func TestCurrentFromTheDropAcrossAFuse(t *testing.T) {
	rows, f := reference.Rows(t, "coordination_examples.csv"), links(t, "fuse/mini-")["10"]
	for id, millivolts := range map[string]float64{"FUS01": 2.4, "FUS02": 0.77} {
		r := row(t, rows, "id", id)
		if !strings.Contains(r["inputs"], plain(millivolts)+" mV") {
			t.Fatalf("%s is another example: %s", id, r["inputs"])
		}
		got, want := millivolts/1000/float64(f.Resistance.Is), reference.Number(t, r, "expected")
		if math.Abs(got-want) > reference.Number(t, r, "tolerance_pct")/100*want {
			t.Errorf("%s: %v A, want %v A", id, got, want)
		}
	}
}
