package commission

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// hottestShown is how many points of each kind the thermal look begins with.
const hottestShown = 6

// terminalRise is by how much terminals may warm above the air (DIN EN 60998-1: 45 K at test current); a holder of fuses is held to the same (common
// practice, no source).
const terminalRise = 45

// touchLimit is what bare metal that people may touch for a second must not exceed (EN ISO 13732-1, the careful reading of its curves, memory).
const touchLimit unit.Celsius = 65

// A spot is a point of the thermal look.
type spot struct {
	do    string
	at    string
	rank  float64 // the hottest first: watts, or of cables kelvin above the air
	read  *Reading
	says  string
	rests string
	about string
}

// warm is the thermal look.
func (m *maker) warm() Stage {
	g := Stage{
		Name: "Thermal look, after 30 minutes",
		Why:  "A contact that is bad in heat is found by a hand held near it, and by no fuse ever. The points are listed by what they are computed to turn into heat: the hottest first.",
		Live: true,
		Stop: "Switch off where a point is hotter than its limit, or far hotter than its like.",
		Notes: []string{
			fmt.Sprintf("Measure the air too: limits are for the hottest air of the site, %s; in cooler air all must be cooler by as much.", short(m.s.Ambient().String())),
			fmt.Sprintf("Whatever people can touch: at most %s on bare metal (EN ISO 13732-1, touched for a second, memory); where it is held for longer, 48 °C (IEC 62368-1 table 38, as quoted).", short(touchLimit.String())),
			"Watts and °C are of the rms amperes of the state, and of its peak where the pulses of pixels may fall together; a clamp that shows the mean shows less.",
			"Compare likes with likes: of two contacts with the same current that which is 10 K hotter is to be made anew (common practice, no source).",
		},
	}
	l, ok := m.fullest()
	if !ok {
		g.Steps = []Step{{Do: "No lighting state is known: look at terminals, holders, cables and supplies in the brightest one there is", State: "lit"}}
		return g
	}
	state := l.state() + ", 30 min"
	r := m.st.Result(l.in)
	if r == nil || !r.Found() {
		g.Steps = []Step{{Do: "Terminals, holders, cables, supplies", State: state, Expect: unsolved}}
		return g
	}
	for _, open := range m.open {
		g.Notes = append(g.Notes, open.name+" is not chosen: what hangs on it is not in these sums.")
	}
	sheet := heatSheet()
	for _, kind := range [][]spot{m.fuseSpots(l), m.contactSpots(l), m.cableSpots(l), m.supplySpots(l)} {
		slices.SortStableFunc(kind, func(a, b spot) int { return cmp.Compare(b.rank, a.rank) })
		for i, s := range kind {
			if i == hottestShown {
				break
			}
			g.Steps = append(g.Steps, Step{Do: s.do, Between: [2]string{s.at}, State: state, Reading: s.read, Expect: s.says, Rests: s.rests, About: []string{s.about}}.in("heat", s.do, "°C"))
			sheet.Rows = append(sheet.Rows, m.row(s.do, s.about, s.do, s.says))
		}
	}
	g.Sheets = []Worksheet{sheet}
	g.Steps = append(g.Steps, Step{Do: "Tape: by hand along each run, warmest in the middle of a lit piece; no spot hotter than its neighbours", State: state, About: scheme.IDs(m.s.Runs)})
	return g
}

// heavy is the largest of something in a state and in its peak: heat follows the rms, and how pulses of pixels fall together is known of few tapes.
func (m *maker) heavy(l lit, of func(*network.Result) float64) float64 {
	most := of(m.st.Result(l.in))
	if peak := m.st.Result("peak/" + l.name); peak != nil && peak.Found() {
		most = max(most, of(peak))
	}
	return most
}

// upTo is a limit of temperature with no expectation.
func upTo(limit unit.Celsius) *Reading {
	return &Reading{Kind: Degrees, Is: math.NaN(), Low: math.Inf(-1), High: float64(limit)}
}

const restsRise = "45 K above the air of the site: DIN EN 60998-1 for terminals; holders of fuses likewise (common practice, no source); no more than the insulation of the cables there stands"

// bears is what a terminal or holder may have on which some cables land: their insulation lies against it.
func (m *maker) bears(cables []string) *Reading {
	limit := m.s.Ambient() + terminalRise
	for _, id := range cables {
		if part, ok := parts.Get[parts.Cable](m.s.Library, m.s.Cables[id].Part); ok && part.Insulation.Given {
			limit = min(limit, part.Insulation.Is)
		}
	}
	return upTo(limit)
}

// fuseSpots are the fuses in their holders.
func (m *maker) fuseSpots(l lit) (spots []spot) {
	for _, b := range m.gaps {
		part, ok := parts.Get[parts.Fuse](m.s.Library, b.fuse)
		amps := m.heavy(l, func(r *network.Result) float64 { return float64(b.amps(r).RMS) })
		if !ok || amps < leastLoad {
			continue
		}
		own := part.Resistance.Is
		if part.ResistanceHot.Given && part.Rating.Is > 0 {
			own += (part.ResistanceHot.Is - part.Resistance.Is) * unit.Ohm(min(1, amps*amps/float64(part.Rating.Is*part.Rating.Is)))
		}
		if way, ok := m.s.WayPart(b.name); ok && b.way {
			own += way.Resistance.Is // its clips and terminal
		}
		w := amps * amps * float64(own)
		landed := m.n.Landings(b.name)
		if !b.way {
			landed = []string{b.name}
		}
		spots = append(spots, spot{
			do: "Fuse and holder of " + b.name, at: b.name + " holder", rank: w, read: m.bears(landed), says: fmt.Sprintf("%v at %v", unit.Watt(w), unit.Ampere(amps)), rests: restsRise, about: b.name,
		})
	}
	return spots
}

// contactSpots are connectors and junctions.
func (m *maker) contactSpots(l lit) (spots []spot) {
	add := func(what, about string, amps float64, v parts.Value[unit.Ohm], cables []string) {
		if amps < leastLoad {
			return
		}
		w := amps * amps * float64(v.Is)
		spots = append(spots, spot{
			do: "Terminal " + what, at: what, rank: w, read: m.bears(cables), says: fmt.Sprintf("%v a pole at %v", unit.Watt(w), unit.Ampere(amps)), rests: restsRise, about: about,
		})
	}
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		amps := m.heavy(l, func(r *network.Result) float64 { return float64(max(r.Cables[id].Plus.RMS, r.Cables[id].Return.RMS)) })
		for _, end := range endsOf(c) {
			if p, ok := parts.Get[parts.Connector](m.s.Library, end.connector); ok {
				add(id+" at "+end.at.String(), id, amps, p.Resistance, []string{id})
			}
		}
	}
	for _, id := range scheme.IDs(m.s.Junctions) {
		if p, ok := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[id].Part); ok {
			add(id, id, m.heavy(l, func(r *network.Result) float64 { return float64(m.n.FullCurrent(r, id)) }), p.Resistance, m.n.Landings(id))
		}
	}
	return spots
}

// cableSpots are the cables, by how much hotter their cores are than the air.
func (m *maker) cableSpots(l lit) (spots []spot) {
	r := m.st.Result(l.in)
	for _, id := range scheme.IDs(r.Cables) {
		celsius := unit.Celsius(m.heavy(l, func(r *network.Result) float64 { return float64(r.Cables[id].Celsius) }))
		part, ok := parts.Get[parts.Cable](m.s.Library, m.s.Cables[id].Part)
		if !ok {
			continue
		}
		air, _, _, _ := m.s.Cables[id].Env(m.s)
		if celsius-air < 1 {
			continue // the air itself
		}
		spots = append(spots, spot{
			do: "Sheath of " + id + ", mid-length and where it is bundled", at: id, rank: float64(celsius - air), about: id,
			read: &Reading{Kind: Degrees, Is: float64(celsius), Low: math.Inf(-1), High: float64(part.Insulation.Is)}, says: "its hottest core; the limit is that of its insulation", rests: restsHeat,
		})
	}
	return spots
}

// supplySpots are the supplies, by what they lose.
func (m *maker) supplySpots(l lit) (spots []spot) {
	r := m.st.Result(l.in)
	for _, id := range scheme.IDs(r.Supplies) {
		part, ok := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part)
		if !ok {
			continue
		}
		gives := m.heavy(l, func(r *network.Result) float64 { return float64(r.Supplies[id].Watts) })
		s := spot{do: m.fullName(id) + ": case, and the air that it takes in", at: id, rank: gives, about: id, says: "its case by the maker's sheet"}
		if part.Efficiency.Given && part.Efficiency.Is > 0 {
			s.rank = lost(part, gives)
			s.says = fmt.Sprintf("loses about %v; its case by the maker's sheet", unit.Watt(s.rank))
		}
		if part.DerateFrom.Given {
			s.read = upTo(part.DerateFrom.Is)
			s.says += "; the limit is of the air around it"
			s.rests = "air up to which it gives all, of its part (" + string(part.DerateFrom.Basis) + ")"
		}
		spots = append(spots, s)
	}
	return spots
}

// lost is the watts that a supply loses while it gives so many: on a straight line from what it takes with no load to what its efficiency says of its
// rated power. It is no less than that with no load.
func lost(part *parts.Supply, gives float64) float64 {
	rated := float64(part.Watts.Is)
	if rated <= 0 {
		rated = float64(part.Volts.Is) * float64(part.Amps.Is)
	}
	none, full := float64(part.NoLoad.Is), rated*(1/float64(part.Efficiency.Is)-1)
	if rated <= 0 || full < none {
		return max(none, gives*(1/float64(part.Efficiency.Is)-1))
	}
	return none + (full-none)*gives/rated
}

// heatSheet is the points of the thermal look.
func heatSheet() Worksheet {
	return Worksheet{
		Name: "heat", Title: "Points, the hottest of each kind first",
		Notes:   []string{"Alike: no hotter than its likes."},
		Columns: []Column{words("Point"), words("Computed"), {Head: "Expected", Field: "°C", Kind: Measured, Quiet: true}, {Head: "Alike", Field: "°C", Kind: Ticked, Quiet: true}},
	}
}
