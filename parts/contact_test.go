package parts_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/parts"
	"farend/unit"
)

// A careful figure is one that differs from the cell of its column because the row's note, or its design current, has one that
// is kinder to the copper. Words are what the note must say of it, so that the note cannot change unseen.
type careful struct {
	si    float64
	words string
}

// A contactRow says on which row of connectors.csv a part rests, by pairs of heading and cell, and where it differs.
type contactRow struct {
	cells []string
	amps  careful
	volts careful
	areas careful // the lower and upper end of the cross-section that its amps are for are both this one
	half  bool    // resistance is half of the highest, which is that of a block with two contacts
	ohms  float64 // resistance where it is not the typical cell, or the highest where that is empty
	worst float64 // the upper end of its spread where that is not the highest cell
}

func named(name string) contactRow { return contactRow{cells: []string{"connector", name}} }

func pitched(name, pitch string) contactRow {
	return contactRow{cells: []string{"connector", name, "pitch_mm", pitch}}
}

// aged is a barrel connector, which may have 100 mΩ after 5,000 cycles.
func aged(name string) contactRow {
	r := named(name)
	r.worst = 0.1
	return r
}

// held is a blade fuse holder, whose contacts, 1 to 3 mΩ, or half as much of a maxi, are from memory in the table too.
func held(name string, ohms float64) contactRow {
	r := named(name)
	r.ohms, r.worst = ohms, 1.5*ohms
	return r
}

// lever is the lever splice of 4 mm², which UL allows 20 of its 32 A.
func lever() contactRow {
	r := named("lever splice 4 mm2")
	r.amps = careful{20, "UL 486C 20 A"}
	return r
}

// smallLever is from memory; a junction of it has the design current.
func smallLever() contactRow {
	r := named("lever splice 2.5 mm2")
	r.amps = careful{16, ""}
	return r
}

// terminal is the row of a test current of IEC 60947-7-1.
func terminal(area string) contactRow {
	return contactRow{cells: []string{"connector", "IEC 60947-7-1 test current by area", "wire_max_mm2", area}, half: true}
}

func contactRows() map[string]contactRow {
	joint := named("soldered or crimped joint")
	joint.amps, joint.ohms = careful{24, ""}, 0.5e-3
	small, large := named("M12 power connector L-coded (4 + FE)"), named("M12 power connector L-coded (4 + FE)")
	small.amps, small.areas = careful{12, "12 A with 1.5 mm2"}, careful{1.5e-6, "12 A with 1.5 mm2"}
	large.areas = careful{2.5e-6, "16 A with 2.5 mm2"}
	board := pitched("screw terminal PCB", "5.08")
	board.amps = careful{10, "UL rating of common blocks is only 10 A"}
	hot := named("screw terminal 4 mm2, 4 poles")
	hot.amps = careful{19, "19 A at 80 C"}
	barrel := aged("barrel jack 5.5 x 2.1")
	barrel.amps = careful{3, "plan with 3 A"}
	battery := named("battery connector 60 A class, 2-pole")
	battery.areas = careful{float64(unit.AreaOfGauge(12)), "12 AWG: rise 27.8 K at 30 A; the same on 14 AWG 85 K"}
	push := named("push-in distribution block 2.5 mm2")
	push.volts = careful{450, "use the lower voltage"}
	block := named("DIN-rail feed-through screw terminal 2.5 mm2")
	block.volts, block.half = careful{450, "450-1000 V by maker"}, true

	return map[string]contactRow{
		"connector/pluggable-3.5mm":           pitched("pluggable terminal block", "3.5"),
		"connector/pluggable-3.81mm":          pitched("pluggable terminal block", "3.81"),
		"connector/pluggable-5.08mm":          pitched("pluggable terminal block", "5.08"),
		"connector/screw-3.81mm":              pitched("screw terminal PCB", "3.81"),
		"connector/screw-5.08mm":              board,
		"connector/screw-7.62mm":              pitched("screw terminal PCB", "7.62"),
		"connector/screw-4mm2":                hot,
		"connector/push-in-5mm":               named("push-in spring terminal PCB"),
		"connector/din-screw-2.5mm2":          named("DIN-rail feed-through screw terminal 2.5 mm2"),
		"connector/din-fuse-5x20":             named("DIN-rail fuse terminal 5x20"),
		"connector/supply-terminal":           named("supply output terminal pin, daisy chain"),
		"connector/lever-2.5mm2":              named("lever splice 2.5 mm2"),
		"connector/lever-4mm2":                lever(),
		"connector/inline-3":                  named("3-pin inline wire connector"),
		"connector/wire-to-board-3mm":         named("small power connector wire-to-board"),
		"connector/installation-4.4mm":        named("pluggable installation connector"),
		"connector/barrel-3.5x1.1":            aged("barrel jack 3.5 x 1.1"),
		"connector/barrel-4.75x1.7":           aged("barrel plug 4.75 x 1.7"),
		"connector/barrel-5.5x2.1":            aged("barrel jack 5.5 x 2.1 low cost kit"),
		"connector/barrel-5.5x2.1-24V":        barrel,
		"connector/battery-2":                 battery,
		"connector/m12-l-1.5mm2":              small,
		"connector/m12-l-2.5mm2":              large,
		"connector/m12-t":                     named("M12 power connector T-coded (4)"),
		"connector/blade-6.3mm":               named("crimped blade terminal 6.3 mm"),
		"connector/soldered":                  joint,
		"connector/crimped":                   joint,
		"connector/holder-inline-blade":       held("blade fuse holder regular, in-line, standard", 2e-3),
		"connector/holder-inline-blade-heavy": held("blade fuse holder regular, in-line, heavy duty", 2e-3),
		"connector/holder-inline-maxi":        held("blade fuse holder maxi, in-line", 1e-3),
		"connector/holder-board-mini":         held("blade fuse holder mini, board mount", 2e-3),
		"connector/holder-board-mini-flat":    held("blade fuse holder mini, board mount, horizontal", 2e-3),
		"connector/holder-board-maxi":         held("blade fuse clip maxi, board mount", 1e-3),

		"junction/lever-2":        lever(),
		"junction/lever-3":        lever(),
		"junction/lever-5":        lever(),
		"junction/lever-small-3":  smallLever(),
		"junction/lever-small-5":  smallLever(),
		"junction/soldered-3":     joint,
		"junction/distribution-7": push,
		"junction/block-2":        block,
		"junction/block-2-4mm2":   terminal("4"),
		"junction/block-2-6mm2":   terminal("6"),
		"junction/block-2-10mm2":  terminal("10"),
		"junction/block-2-16mm2":  terminal("16"),
		"junction/block-4":        terminal("2.5"),
	}
}

// contacts gives every connector and junction of the catalogue by name, each with its number of ways, 0 of a connector.
func contacts(t *testing.T) (map[string]parts.Contact, map[string]int) {
	all, ways := map[string]parts.Contact{}, map[string]int{}
	for name, c := range each[parts.Connector](t, "connector") {
		all[name] = c.Contact
	}
	for name, j := range each[parts.Junction](t, "junction") {
		all[name], ways[name] = j.Contact, j.Ways
	}
	return all, ways
}

func TestContactsAgreeWithTheirRow(t *testing.T) {
	table := reference.Rows(t, "connectors.csv")
	all, ways := contacts(t)
	rests := contactRows()
	for name, c := range all {
		want, known := rests[name]
		if !known {
			t.Errorf("%s rests on no row", name)
			continue
		}
		t.Run(name, func(t *testing.T) { agrees(t, c, want, row(t, table, want.cells...)) })
	}
	for name := range rests {
		if _, there := all[name]; !there {
			t.Errorf("there is no %s", name)
		}
	}
	for name, n := range ways {
		fields := strings.Split(strings.TrimPrefix(name, "junction/"), "-")
		if !slices.Contains(fields, strconv.Itoa(n)) {
			t.Errorf("%s has %d ways", name, n)
		}
	}
}

// agrees compares what a contact states with its row.
func agrees(t *testing.T, c parts.Contact, want contactRow, r map[string]string) {
	for _, figure := range []careful{want.amps, want.volts, want.areas} {
		if !strings.Contains(r["note"], figure.words) {
			t.Errorf("the note does not say %q any more: %s", figure.words, r["note"])
		}
	}
	stated(t, r, "rated_current_a", c.Amps, or(want.amps.si, cell(r, "rated_current_a")))
	stated(t, r, "rated_voltage_v", c.VoltsMax, or(want.volts.si, cell(r, "rated_voltage_v")))
	resisting(t, c, want, r)
	thin, thick := wires(t, r)
	stated(t, r, wireColumn(r, "wire_min_mm2"), c.AreaMin, or(want.areas.si, thin))
	stated(t, r, wireColumn(r, "wire_max_mm2"), c.AreaMax, or(want.areas.si, thick))
	loose, tight := span(t, r["torque_nm"])
	if float64(c.Torque.Is) != loose || c.Torque.Given && !same(float64(c.Torque.Upper()), tight) {
		t.Errorf("torque %v to %v, want %v to %v Nm", c.Torque.Is, c.Torque.Upper(), loose, tight)
	}
	asGood(t, r, "torque_nm", c.Torque)
}

// resisting compares the resistance and the upper end of its spread.
func resisting(t *testing.T, c parts.Contact, want contactRow, r map[string]string) {
	const typical, highest = "contact_resistance_mohm_typ", "contact_resistance_mohm_max"
	ohms, worst, column := cell(r, typical)/1000, cell(r, highest)/1000, typical
	switch {
	case want.half:
		ohms, worst, column = worst/2, worst/2, highest
	case r[typical] == "":
		ohms, column = worst, highest
	}
	ohms = or(want.ohms, ohms)
	stated(t, r, column, c.Resistance, ohms)
	if most := max(or(want.worst, worst), ohms); ohms > 0 && !same(float64(c.Resistance.Upper()), most) {
		t.Errorf("resistance up to %v, want %v Ω", c.Resistance.Upper(), most)
	}
}

// stated compares a number with what the row has, and its basis with what the row says of that cell. Where the row has nothing,
// the part may state what it remembers.
func stated[T unit.Quantity](t *testing.T, r map[string]string, column string, v parts.Value[T], want float64) {
	t.Helper()
	if want != 0 && (!v.Given || !same(float64(v.Is), want)) {
		t.Errorf("%s: %v, want %v in SI", column, v.Is, want)
	}
	asGood(t, r, column, v)
}

// asGood wants a basis that is no better than the row's own, and no worse where the row was found; what a shop prints on a page
// counts as practice. A field of memory_fields may be so at one pitch only.
func asGood[T unit.Quantity](t *testing.T, r map[string]string, column string, v parts.Value[T]) {
	t.Helper()
	if !v.Given {
		return
	}
	remembered := r["status"] == "memory" || r[column] == "" || slices.ContainsFunc(strings.Split(r["memory_fields"], ";"), func(field string) bool {
		name, only, partly := strings.Cut(strings.TrimSuffix(field, ")"), "(")
		return name == column && (!partly || only == r["pitch_mm"]+" mm only")
	})
	weak := v.Basis == parts.Memory || v.Basis == parts.Practice
	if remembered && !weak {
		t.Errorf("%s is from memory, and called %s", column, v.Basis)
	}
	if !remembered && weak && r["source"] != "retail rating" {
		t.Errorf("%s was found, and called %s", column, v.Basis)
	}
}

// cell is a number of the row, 0 where the cell is empty.
func cell(r map[string]string, column string) float64 {
	v, _ := strconv.ParseFloat(r[column], 64)
	return v
}

func or(v, other float64) float64 {
	if v != 0 {
		return v
	}
	return other
}

// span is the two ends of a range such as "0.22-0.25"; both are 0 where the cell is empty.
func span(t *testing.T, text string) (low, high float64) {
	if text == "" {
		return 0, 0
	}
	first, second, ok := strings.Cut(text, "-")
	low, err := strconv.ParseFloat(first, 64)
	high, err2 := strconv.ParseFloat(second, 64)
	if !ok || err != nil || err2 != nil {
		t.Fatalf("%q is no range", text)
	}
	return low, high
}

// wires is the thinnest and the thickest wire of a row in m², by its cells in mm² or, where those are empty, by its gauges. A
// gauge alone is that of the leads which a holder brings along.
func wires(t *testing.T, r map[string]string) (thin, thick float64) {
	if wireColumn(r, "") == "wire_awg" && strings.Contains(r["wire_awg"], "-") {
		a, b := span(t, r["wire_awg"])
		return float64(unit.AreaOfGauge(int(max(a, b)))), float64(unit.AreaOfGauge(int(min(a, b))))
	}
	return cell(r, "wire_min_mm2") * 1e-6, cell(r, "wire_max_mm2") * 1e-6
}

// wireColumn is where the row says how thick its wire is.
func wireColumn(r map[string]string, column string) string {
	if r["wire_min_mm2"] == "" && r["wire_max_mm2"] == "" && r["wire_awg"] != "" {
		return "wire_awg"
	}
	return column
}

// Every row that is a part has one in the catalogue; what is named rule, example or test current is none, nor is the span of a
// distributor's whole range.
func TestEveryConnectorOfTheTableIsInTheCatalogue(t *testing.T) {
	table := reference.Rows(t, "connectors.csv")
	used := map[string]bool{}
	for _, rests := range contactRows() {
		r := row(t, table, rests.cells...)
		used[r["connector"]+r["pitch_mm"]] = true
	}
	count := 0
	for _, r := range table {
		name := r["connector"]
		if strings.HasPrefix(name, "rule") || strings.HasPrefix(name, "example") || strings.HasPrefix(name, "IEC 60947-7-1 test current") || name == "terminal block family range" {
			continue
		}
		count++
		if !used[name+r["pitch_mm"]] {
			t.Errorf("no part rests on %s %s", name, r["pitch_mm"])
		}
	}
	if count < 30 {
		t.Errorf("only %d rows are parts", count)
	}
}
