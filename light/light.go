// Package light judges what the viewer gets: whether every pixel has the voltage its colour needs, whether a run is
// evenly bright, and whether its colour changes along it. Each value comes from the solved cases of the study.
package light

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/pixel"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Rules lists the rules of this room.
func Rules() []study.Rule {
	return []study.Rule{unfedRun, pixelVoltage, evenness, colourShift, typicalTape}
}

// lit lists the cases in which light is asked for.
func lit(s *study.Study) []network.Case {
	var cases []network.Case
	for _, c := range s.Cases() {
		if c.Kind == network.State || c.Kind == network.Peak {
			cases = append(cases, c)
		}
	}
	return cases
}

var unfedRun = study.Rule{
	Name: "light/unfed-run", Title: "Unfed run", Scope: study.Runs,
	Doc: "Every stretch of a run needs copper from a supply's plus to its positive rail and from its return rail to the same supply's minus. " +
		"The way through other pixels does not count. A stretch without it stays dark. A return through the ground core of a data lead alone does light it, and is judged as a danger by protection/data-return.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		var found []study.Assessment
		for _, f := range s.Network.Feeds(id) {
			if a, wrong := unfed(id, f, s); wrong {
				found = append(found, a)
			}
		}
		if found == nil {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		return found
	},
}

func unfed(id string, f network.Feed, s *study.Study) (study.Assessment, bool) {
	if open := s.Open(); len(open) > 0 && !f.Closed() {
		return study.Unknown(fmt.Sprintf("%s, pixels %d to %d, is not fed yet; not chosen: %s.", id, f.From, f.To-1, strings.Join(open, ", ")), "Choose these parts.")[0], true
	}
	a := study.Assessment{Grade: finding.Fails, At: fmt.Sprintf("%s@px%d", id, f.From), Source: "needs no source: a circuit needs two conductors"}
	where := fmt.Sprintf("%s, pixels %d to %d,", id, f.From, f.To-1)
	switch {
	case len(f.Plus) == 0 && len(f.Return) == 0:
		return a.Say(where+" is not fed: no cable brings either pole of a supply to it.", fmt.Sprintf("Add a cable from a fused way to %s@start.", id)), true
	case len(f.Plus) == 0:
		return a.Say(where+" has a return but no positive feed.", fmt.Sprintf("Bring the positive of a fused way to %s; look for a cut without a feed behind it.", id)), true
	case len(f.Return) == 0:
		return a.Say(where+" has a positive feed but no return.", fmt.Sprintf("Bring the return of the same way to %s.", id)), true
	case !f.Closed():
		return a.Say(fmt.Sprintf("%s hangs between the plus of %s and the return of %s, which have no copper in common.", where, strings.Join(f.Plus, ", "), strings.Join(f.Return, ", ")),
			"Feed both poles from one supply, or join the returns."), true
	}
	return a, false
}

// regulated is the share of its current at nominal voltage that a channel must keep for its colour to be called right: the 10 % by
// which drive circuits define saturation voltage (TI application practice, see the source of the rule).
const regulated = 0.90

var pixelVoltage = study.Rule{
	Name: "light/pixel-voltage", Title: "Pixel voltage", Scope: study.Runs,
	Doc: "The lowest pixel voltage of a run, in every lighting state and in its peak, is compared with what the lit colour needs: the lowest voltage for which " +
		"the chip is specified, and the voltage at which the weakest lit channel still carries 90 % of its current at nominal voltage (the 10 % by which makers of current sinks define saturation). " +
		"Below it a pixel fails: white turns yellow, orange and red as blue and green go first, and below about 3 V many 5 V chips reset or hold their last colour, where no law is proven.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape := s.Scheme.Tape(id)
		if tape == nil {
			return study.Unknown(id+" has no tape to judge.", "")
		}
		var found []study.Assessment
		for _, c := range lit(s) {
			if r, ok := s.Result(c.Name).Runs[id]; ok && r.Live && r.VoltsHigh > 0.5 {
				found = append(found, pixelVolts(s, id, c, r, tape))
			}
		}
		return found
	},
}

func pixelVolts(s *study.Study, id string, c network.Case, r network.Run, tape *parts.Tape) study.Assessment {
	limit, basis, source, channel := need(s, id, c, tape)
	at := fmt.Sprintf("%s@px%d", id, r.LowAt)
	a := study.Lower(float64(r.VoltsLow), float64(limit), 0.02, finding.Fails).Fill(c.Name, "V", basis, source)
	a.At = at
	if a.Grade == finding.Pass {
		return a
	}
	low := r.VoltsLow
	if low < 1e-6 && low > -1e-6 {
		low = 0 // what the solver leaves of nothing
	}
	text := fmt.Sprintf("%s falls to %v at pixel %d; it needs %v", id, low, r.LowAt, limit)
	if channel != "" {
		text += " for its " + channel
	}
	text += "."
	if hue := pixel.Hue(r.DimU-r.U, r.DimV-r.V); r.ColourShift != nil && *r.ColourShift > 0.001 && hue != "" {
		text += " Its colour there goes " + hue + "."
	}
	if tape.Volts.Is < 6 && r.VoltsLow < 3 {
		text += " Below about 3 V the law of such a chip is unproven: it may reset or hold its last colour."
	}
	return a.Say(text, fmt.Sprintf("Add a feed near %s, use thicker or shorter feeds, or lower the cap.", at))
}

// need is the voltage that the lit colour needs, with the channel that sets it, if one does.
func need(s *study.Study, id string, c network.Case, tape *parts.Tape) (unit.Volt, parts.Basis, string, string) {
	limit, basis, source, which := unit.Volt(0), parts.Basis(""), "", ""
	if tape.VoltsMin.Given {
		limit, basis, source = tape.VoltsMin.Is, tape.VoltsMin.Basis, tape.VoltsMin.Source
	}
	drives, _ := s.Scheme.Drives(c.State, id)
	for _, name := range scheme.Channels(tape) {
		if drives[name] <= 0 {
			continue
		}
		part := tape.Channels[name]
		v := network.Channel(part, false).VoltageAt(regulated, tape.Volts.Is)
		if v > limit {
			limit, basis, source, which = v, parts.Weaker(part.Lo.Basis, part.Hi.Basis), part.Lo.Source, name
		}
	}
	return limit, basis, source, which
}

var evenness = study.Rule{
	Name: "light/evenness", Title: "Evenness", Scope: study.Runs,
	Doc: "The dimmest pixel of a run over its brightest (relative luminance, U1 = Lmin/Lmax), in the worst lighting state, is compared with the aim `evenness` of the scheme (80 % where none is given).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		return perState(s, id, func(c network.Case, r network.Run) (study.Assessment, bool) {
			if r.Evenness == nil {
				return study.Assessment{}, false
			}
			aim := s.Scheme.EvennessAim()
			a := study.Lower(*r.Evenness, aim, 0.02, finding.Fails).Fill(c.Name, "1", lightBasis(s, id), "the scheme's aim; U1 = Lmin/Lmax as in photometry textbooks")
			a.At = fmt.Sprintf("%s@px%d", id, r.LowAt)
			return a.Say(fmt.Sprintf("%s is %s as bright at its dimmest pixel, %d, as at its brightest; the aim is %s.", id, study.Percent(*r.Evenness), r.LowAt, study.Percent(aim)),
				fmt.Sprintf("Add a feed near %s@px%d, or thicker feeds.", id, r.LowAt)), true
		})
	},
}

var colourShift = study.Rule{
	Name: "light/colour-shift", Title: "Colour shift", Scope: study.Runs,
	Doc: "The largest difference in chromaticity between two pixels of a run, Δu′v′ (CIE 1976, ISO/CIE 11664-5), in the worst lighting state, is compared with the aim `colour_shift` of the scheme (0.004 where none is given). " +
		"About 0.001 is one step of a just noticeable difference side by side (CIE TN 001:2014; the value of the step is from memory).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		return perState(s, id, func(c network.Case, r network.Run) (study.Assessment, bool) {
			if r.ColourShift == nil {
				return study.Assessment{}, false
			}
			aim := s.Scheme.ColourShiftAim()
			a := study.Upper(*r.ColourShift, aim, 0.1, finding.Fails).Fill(c.Name, "1", lightBasis(s, id), "the scheme's aim; Δu′v′ after ISO/CIE 11664-5")
			a.At = fmt.Sprintf("%s@px%d", id, r.LowAt)
			text := fmt.Sprintf("%s changes colour by Δu′v′ %s along its length; the aim is %s.", id, unit.Number(*r.ColourShift, 2), unit.Number(aim, 2))
			if hue := pixel.Hue(r.DimU-r.U, r.DimV-r.V); hue != "" && *r.ColourShift > aim {
				text = fmt.Sprintf("%s changes colour by Δu′v′ %s along its length, %s where it is dim; the aim is %s.", id, unit.Number(*r.ColourShift, 2), hue, unit.Number(aim, 2))
			}
			return a.Say(text, fmt.Sprintf("Add a feed near %s@px%d, or thicker feeds.", id, r.LowAt)), true
		})
	},
}

// perState judges a run in every case in which it is lit.
func perState(s *study.Study, id string, judge func(network.Case, network.Run) (study.Assessment, bool)) []study.Assessment {
	var found []study.Assessment
	for _, c := range lit(s) {
		r, ok := s.Result(c.Name).Runs[id]
		if !ok || !r.Live {
			continue
		}
		if a, said := judge(c, r); said {
			found = append(found, a)
		}
	}
	return found
}

// lightBasis is the weakest basis of the laws and intensities of a run's tape.
func lightBasis(s *study.Study, id string) parts.Basis {
	tape := s.Scheme.Tape(id)
	basis := tape.Rail.Basis
	for _, c := range tape.Channels {
		basis = parts.Weaker(basis, parts.Weaker(c.Lo.Basis, c.Candela.Basis))
	}
	return basis
}

var typicalTape = study.Rule{
	Name: "light/typical-tape", Title: "Typical tape", Scope: study.Tapes,
	Doc: "Tapes differ widely: rails from about 97 to 186 mΩ/m were measured on two 60-pixel tapes, set currents from 8 to 18 mA a channel. " +
		"Where a tape's rail and set currents were not measured, every result for it is that of a typical tape, and says so.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape, ok := parts.Get[parts.Tape](s.Scheme.Library, id)
		if !ok {
			return study.Unknown(id+" is not a tape.", "")
		}
		measured := tape.Rail.Basis == parts.Measured
		for _, c := range tape.Channels {
			measured = measured && (c.Set.Basis == parts.Measured || c.String.Basis == parts.Measured)
		}
		if measured {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		return []study.Assessment{{
			Grade: finding.Note, Basis: parts.Derived, Source: tape.Rail.Source,
			Text:   fmt.Sprintf("%s is a typical tape (%s); yours may differ by half or more. Measure yours.", id, tape.Title),
			Remedy: "Measure the drop along one metre at a known current (rail), and the current of one pixel in each colour (set), and put both into the scheme's own parts.",
		}}
	},
}
