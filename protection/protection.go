// Package protection judges whether what carries current may carry it: cables, fuses and supplies under load, in every
// solved state and with the cap failed; tape on the wrong voltage; ways without a fuse and copper that bypasses one.
//
// Limits are the more careful of the sources the parts cite and never replace the local code. Times are not judged yet:
// a conductor above its limit is called a danger whether or not a fuse would end it in time.
package protection

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Rules lists the rules of this room.
func Rules() []study.Rule {
	return []study.Rule{cableCurrent, fuseLoad, inlineFuseLoad, wayFuse, supplyLoad, supplyStart, idleSupply, parallelSupplies, railCurrent, tapeVoltage, lostReturn, dataPower, looseCable, notChosen, operatingPoint}
}

const ampacitySource = "IEC 60364-5-52 tables B.52.2, B.52.14 and B.52.17, or the more careful source the part cites"

var cableCurrent = study.Rule{
	Name: "protection/cable-current", Title: "Cable current", Scope: study.Cables, Safety: true,
	Doc: "The heating (rms) current of each core of a cable, in every state, its peak and with the cap failed, is compared with what the core may carry: the part's rating for its method of installation at 30 °C, " +
		"times √((Tmax − Ta)/(Tmax − 30 °C)) for the air around it (IEC 60364-5-52 table B.52.14) and the grouping factor of its bundle (B.52.17). Above it the insulation ages and, further up, burns. " +
		"Cores of one pole in parallel share the current.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		c := s.Scheme.Cables[id]
		part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
		if !ok {
			return study.Unknown(fmt.Sprintf("%s has no part yet, so its current cannot be judged.", id), "Choose a cable part.")
		}
		ambient, method, bundle, _ := c.Env(s.Scheme)
		rating := network.Ampacity(part, method)
		if !rating.Given {
			return study.Unknown(fmt.Sprintf("%s: %s states no current for the method %s.", id, c.Part, method), "Give the part an iz for this method, or choose another part or method.")
		}
		var found []study.Assessment
		for _, cs := range s.Cases() {
			r := s.Result(cs.Name).Cables[id]
			amps := max(r.Plus.RMS, r.Return.RMS)
			a := study.Upper(float64(amps), float64(r.Iz), 0.05, finding.Danger).Fill(cs.Name, "A", parts.Weaker(rating.Basis, part.Insulation.Basis), cited(rating.Source))
			heat := fmt.Sprintf("it reaches %v", r.Celsius)
			if r.Clamped {
				heat = "it finds no steady temperature below 160 °C"
			}
			text := fmt.Sprintf("%s carries %v in %s; %s in %v air%s may carry %v, and %s.", id, amps, study.CaseWords(cs), areaText(part), ambient, bundleText(bundle), r.Iz, heat)
			found = append(found, a.Say(text, "Use a larger cross-section, cooler air, fewer circuits in the bundle, or split the load over another feed."))
		}
		return found
	},
}

// cited is the source of a rating with that of the factors on it.
func cited(rating string) string {
	if rating == "" {
		return ampacitySource
	}
	return rating + "; " + ampacitySource
}

func areaText(part *parts.Cable) string { return part.Area.Is.String() }

func bundleText(n int) string {
	if n < 2 {
		return ""
	}
	return fmt.Sprintf(", bundled with %d circuits in all,", n)
}

// continuous is the share of its rating that a fuse link carries for ever (fuse application guides, "fuseology": 75 % at 25 °C).
const continuous = 0.75

var fuseLoad = study.Rule{
	Name: "protection/fuse-load", Title: "Fuse load", Scope: study.Ways, Safety: false,
	Doc: "The heating current of a way's fuse, in every lighting state and its peak, is compared with 75 % of its rating, which fuse application guides give as the load a link carries for ever at 25 °C. " +
		"Above it a healthy fuse tires and opens one evening. With the cap failed the fuse may open: that is its work, so the case is not judged here.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Fuse](s.Scheme.Library, s.Scheme.Fuses[id])
		if !ok {
			return nil
		}
		return linkLoad(s, id, part, func(r *network.Result) unit.Ampere { return r.Ways[id].Amps.RMS },
			"Use the next larger fuse if cable and way allow it, or move load to another way.")
	},
}

var inlineFuseLoad = study.Rule{
	Name: "protection/inline-fuse-load", Title: "Inline fuse load", Scope: study.Cables, Safety: false,
	Doc: "The heating current of the fuse in a cable, in every lighting state and its peak, is compared with 75 % of its rating, as for the fuse of a way.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := s.Scheme.Cables[id].Fuse
		part, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
		switch {
		case name == "":
			return []study.Assessment{{Grade: finding.Pass}}
		case !ok:
			return study.Unknown(fmt.Sprintf("The fuse of %s is not chosen yet.", id), "Choose a fuse part.")
		}
		return linkLoad(s, id, part, func(r *network.Result) unit.Ampere { return r.Cables[id].Plus.RMS },
			"Use the next larger fuse if the cable allows it, or split the load over another cable.")
	},
}

// linkLoad judges the load of a fuse link in every case in which it must hold.
func linkLoad(s *study.Study, id string, part *parts.Fuse, of func(*network.Result) unit.Ampere, remedy string) []study.Assessment {
	var found []study.Assessment
	limit := continuous * float64(part.Rating.Is)
	for _, c := range s.Cases() {
		if c.Kind == network.CapFailed {
			continue
		}
		amps := of(s.Result(c.Name))
		a := study.Upper(float64(amps), limit, 0.05, finding.Fails).Fill(c.Name, "A", part.Rating.Basis, "fuse application guide: continuous load at most 75 % of rating")
		found = append(found, a.Say(
			fmt.Sprintf("The fuse of %s carries %v in %s; a %v link carries %v for ever.", id, amps, study.CaseWords(c), part.Rating.Is, unit.Ampere(limit)), remedy))
	}
	return found
}

var wayFuse = study.Rule{
	Name: "protection/way-fuse", Title: "Way without a fuse", Scope: study.Ways, Safety: true,
	Doc: "A way in use must have a fuse. Without one its holder is bridged, and a short anywhere beyond it is fed by all the supply can give.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		used := s.Network.Landings(id)
		fuse, fused := s.Scheme.Fuses[id]
		_, known := parts.Get[parts.Fuse](s.Scheme.Library, fuse)
		switch {
		case len(used) == 0 || known:
			return []study.Assessment{{Grade: finding.Pass}}
		case fused:
			return study.Unknown(fmt.Sprintf("The fuse of %s is not chosen yet.", id), "Choose a fuse part.")
		}
		a := study.Assessment{Grade: finding.Danger, Source: "IEC 60364-4-43: every conductor needs a device at its source"}.Say(
			fmt.Sprintf("%s feeds %s without a fuse: a short there draws all the supply can give.", id, strings.Join(used, ", ")), "Fit a fuse.")
		if link := suitable(s, id, used); link != "" {
			a.Remedy = fmt.Sprintf("Fit %s, or another that the load needs and the thinnest cable allows.", link)
			a.Fix = func() []finding.Edit { return []finding.Edit{{Path: finding.Pointer("fuses", id), Value: link}} }
		}
		return []study.Assessment{a}
	},
}

// suitable is the smallest catalogue fuse that carries the way's worst lighting state for ever and is at most what the thinnest
// cable on the way may carry; "" if there is none.
func suitable(s *study.Study, way string, cables []string) string {
	load, iz := 0.0, math.Inf(1)
	for _, c := range s.Cases() {
		r := s.Result(c.Name)
		if c.Kind != network.CapFailed {
			load = max(load, float64(r.Ways[way].Amps.RMS))
		}
		for _, id := range cables {
			iz = min(iz, float64(r.Cables[id].Iz))
		}
	}
	seat, there := s.Scheme.WayPart(way)
	best, rating := "", math.Inf(1)
	for _, name := range s.Scheme.Library.Names("fuse") {
		f, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
		if !ok || !there || f.Holder != seat.Holder {
			continue
		}
		if r := float64(f.Rating.Is); r*continuous >= load && r <= iz && r < rating {
			best, rating = name, r
		}
	}
	return best
}

var tapeVoltage = study.Rule{
	Name: "protection/tape-voltage", Title: "Tape on the wrong voltage", Scope: study.Runs, Safety: true,
	Doc: "A tape must hang on a supply of its own nominal voltage. The highest pixel voltage in any case is compared with the highest the chip allows (datasheet); the nominal voltages of tape and supplies are compared too, within 15 % (common practice, no source).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape := s.Scheme.Tape(id)
		if tape == nil {
			return study.Unknown(id+" has no tape.", "")
		}
		found := mismatched(s, id, tape)
		if !tape.VoltsMax.Given {
			return append(found, study.Unknown(fmt.Sprintf("%s: %s does not say the highest voltage its chips allow.", id, s.Scheme.Runs[id].Tape), "Give the tape a volts_max from its chip's datasheet.")...)
		}
		for _, c := range s.Cases() {
			r, ok := s.Result(c.Name).Runs[id]
			if !ok || !r.Live {
				continue
			}
			a := study.Upper(float64(r.VoltsHigh), float64(tape.VoltsMax.Is), 0, finding.Danger).Fill(c.Name, "V", tape.VoltsMax.Basis, tape.VoltsMax.Source)
			found = append(found, a.Say(fmt.Sprintf("%s gets up to %v in %s; its chips allow %v.", id, r.VoltsHigh, study.CaseWords(c), tape.VoltsMax.Is),
				"Use a supply of the tape's voltage, or trim it down."))
		}
		return found
	},
}

// mismatched compares the nominal voltages of a tape and of the supplies that feed it.
func mismatched(s *study.Study, id string, tape *parts.Tape) []study.Assessment {
	var found []study.Assessment
	said := map[string]bool{}
	for _, f := range s.Network.Feeds(id) {
		for _, t := range f.Plus {
			part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
			if !ok || said[t] {
				continue
			}
			said[t] = true
			value, limit := float64(part.Volts.Is), float64(tape.Volts.Is)
			if math.Abs(value-limit) <= 0.15*limit {
				continue
			}
			grade, why, margin := finding.Fails, "it will stay dark or show the wrong colour", value/limit-1
			if value > limit {
				grade, why, margin = finding.Danger, "its chips will fail and may burn", limit/value-1
			}
			a := study.Assessment{Grade: grade, Value: &value, Limit: &limit, Margin: &margin, Unit: "V", Basis: tape.Volts.Basis, Source: tape.Volts.Source}
			found = append(found, a.Say(fmt.Sprintf("%s is a %v tape on %s, a %v supply: %s.", id, tape.Volts.Is, t, part.Volts.Is, why), "Feed it from a supply of its own voltage."))
		}
	}
	return found
}

var parallelSupplies = study.Rule{
	Name: "protection/parallel-supplies", Title: "Supplies in parallel", Scope: study.Supplies, Safety: true,
	Doc: "Two supplies whose plus and minus both meet on one piece of tape work in parallel. Each maker must allow it: without sharing, the one with the higher set point carries all it can, and the other may be fed backwards, " +
		"which the solved network leaves out.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		others := partners(s, id)
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part)
		switch {
		case len(others) == 0 || !ok || part.Parallel == "allowed": // a supply without a part is in no network
			return []study.Assessment{{Grade: finding.Pass}}
		case part.Parallel == "":
			return study.Unknown(fmt.Sprintf("%s works in parallel with %s, and %s does not say whether that is allowed.", id, strings.Join(others, ", "), s.Scheme.Supplies[id].Part), "Give the part parallel: allowed or forbidden from its maker's sheet.")
		}
		a := study.Assessment{Grade: finding.Fails, Source: part.Source, Basis: part.Basis}
		return []study.Assessment{a.Say(fmt.Sprintf("%s works in parallel with %s, and its part does not allow that.", id, strings.Join(others, ", ")),
			"Cut the positive rail between their feeds, or use one larger supply.")}
	},
}

// partners lists the supplies that share both poles of a stretch of tape with one.
func partners(s *study.Study, id string) []string {
	found := map[string]bool{}
	for _, run := range scheme.IDs(s.Scheme.Runs) {
		for _, f := range s.Network.Feeds(run) {
			both := slices.DeleteFunc(slices.Clone(f.Plus), func(t string) bool { return !slices.Contains(f.Return, t) })
			if !slices.Contains(both, id) {
				continue
			}
			for _, t := range both {
				if t != id {
					found[t] = true
				}
			}
		}
	}
	return scheme.IDs(found)
}

// grave is the multiple of its limit above which an overload is a danger where there is no thermal curve; common practice, no
// source.
const grave = 1.2

var railCurrent = study.Rule{
	Name: "protection/rail-current", Title: "Rail current", Scope: study.Runs, Safety: true,
	Doc: "The largest current in either rail of a run, in every state, its peak and with the cap failed, is compared with what the tape's copper may carry (its rail_amps). " +
		"Up to 1.2 times that it fails, beyond it is a danger (common practice, no source).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape := s.Scheme.Tape(id)
		switch {
		case tape == nil:
			return study.Unknown(id+" has no tape.", "")
		case !tape.RailAmps.Given:
			return study.Unknown(fmt.Sprintf("%s: %s does not say what its rails may carry.", id, s.Scheme.Runs[id].Tape), "Give the tape rail_amps, from its maker or from the width and thickness of its copper.")
		}
		var found []study.Assessment
		for _, c := range s.Cases() {
			amps, limit, over := s.Result(c.Name).Runs[id].RailAmps, tape.RailAmps.Is, finding.Fails
			if amps > grave*limit {
				over = finding.Danger
			}
			a := study.Upper(float64(amps), float64(limit), 0.05, over).Fill(c.Name, "A", tape.RailAmps.Basis, tape.RailAmps.Source)
			found = append(found, a.Say(fmt.Sprintf("The rails of %s carry up to %v in %s; they may carry %v.", id, amps, study.CaseWords(c), limit),
				"Feed the run at more places, so that each stretch carries less."))
		}
		return found
	},
}

var lostReturn = study.Rule{
	Name: "protection/data-return", Title: "Return through a data ground", Scope: study.Runs, Safety: true,
	Doc: "The return of a run must not hang on the ground core of a data lead alone: the load current then runs through a core and a port made for signals, every light still works, and no fuse sees it.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		var found []study.Assessment
		for _, f := range s.Network.Feeds(id) {
			if f.DataOnly {
				found = append(found, study.Assessment{Grade: finding.Danger, At: fmt.Sprintf("%s@px%d", id, f.From), Source: "needs no source: Kirchhoff's current law"}.Say(
					fmt.Sprintf("%s, pixels %d to %d, returns its current only through a data ground.", id, f.From, f.To-1),
					fmt.Sprintf("Bring the return of a power cable to %s.", id)))
			}
		}
		if found == nil {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		return found
	},
}

var dataPower = study.Rule{
	Name: "protection/data-power", Title: "Power past the fuses", Scope: study.Leads, Safety: true,
	Doc: "A data lead whose further cores carry the supply (power: yes) joins the board's bar to the run without a fuse. Its thin cores then carry whatever a short asks for.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		if !s.Scheme.Data[id].Power {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		a := study.Assessment{Grade: finding.Danger, Source: "IEC 60364-4-43: every conductor needs a device at its source"}.Say(
			fmt.Sprintf("%s carries the supply in its spare cores, past every fuse.", id), "Leave the spare cores dead (power: no) and feed the run from a fused way.")
		a.Fix = func() []finding.Edit { return []finding.Edit{{Path: finding.Pointer("data", id, "power"), Value: nil}} }
		return []study.Assessment{a}
	},
}

var looseCable = study.Rule{
	Name: "protection/loose-cable", Title: "Loose cable", Scope: study.Cables, Safety: true,
	Doc: "Both ends of a cable must lead somewhere: a cable that ends at a junction where nothing else lands has live ends that lead nowhere, and one that hangs on no supply does nothing.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		c := s.Scheme.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.JunctionRef && len(s.Network.Landings(ref.String())) < 2 {
				return []study.Assessment{study.Assessment{Grade: finding.Fails, At: ref.String(), Source: "common practice, no source", Basis: parts.Practice}.Say(
					fmt.Sprintf("%s ends at %s, where nothing else lands.", id, ref), fmt.Sprintf("Lead another cable on from %s, or remove %s.", ref, id))}
			}
		}
		if s.Network.Dead(id) {
			if open := s.Open(); len(open) > 0 {
				return study.Unknown(fmt.Sprintf("%s hangs on no supply yet; not chosen: %s.", id, strings.Join(open, ", ")), "Choose these parts.")
			}
			return []study.Assessment{study.Assessment{Grade: finding.Fails, Source: "needs no source"}.Say(
				fmt.Sprintf("%s hangs on no supply: nothing can flow in it.", id), "Connect it to a way or a supply, or remove it.")}
		}
		return []study.Assessment{{Grade: finding.Pass}}
	},
}

var notChosen = study.Rule{
	Name: "protection/not-chosen", Title: "Part not chosen", Scope: study.Whole, Safety: true,
	Doc: "A part that reads `choose` is left open on purpose. What hangs on it is not in the solved network, so nothing can be said about it yet; never a guess.",
	Judge: func(s *study.Study, _ string) []study.Assessment {
		open := s.Open()
		if len(open) == 0 {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		return study.Unknown("Not chosen yet: "+strings.Join(open, ", ")+". Results leave them out.", "Choose these parts.")
	},
}

var operatingPoint = study.Rule{
	Name: "protection/operating-point", Title: "No operating point", Scope: study.Whole, Safety: true,
	Doc: "Every case must have a solved operating point: currents that balance at every node. If one was not found, what is said about that case rests on nothing.",
	Judge: func(s *study.Study, _ string) []study.Assessment {
		var found []study.Assessment
		for _, c := range s.Cases() {
			if r := s.Result(c.Name); !r.Found() {
				found = append(found, study.Assessment{Case: c.Name, Grade: finding.Unknown}.Say(
					fmt.Sprintf("No operating point was found for %s: currents are out of balance by %v.", study.CaseWords(c), r.Residual), "Report this scheme as a fault of Farend."))
			}
		}
		if found == nil {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		return found
	},
}
