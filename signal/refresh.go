package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// filmed is how long a camera usually exposes, and ripple how much brighter one exposure may be than the next without a band being seen.
const (
	filmed unit.Second = 0.02
	ripple float64     = 0.05
)

// filming says whence they are.
var filming = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "film at 25 frames a second is exposed for a fiftieth of a second; bands of less than a twentieth are hardly seen"}

var refresh = study.Rule{
	Name: "signal/refresh", Title: "Bands on film", Scope: study.Tapes,
	Doc: study.Doc{
		What:    "How often a second the pixels of a tape switch on and off to dim, against a camera that exposes for a fiftieth of a second.",
		Why:     "The eye sees the mean; a camera sees as many cycles as fit into its exposure, and of the last one a part. Where few fit, bands run across the picture.",
		Formula: []string{"1/(f_p · t_e) ≤ r"},
		Symbols: []study.Symbol{
			{Sign: "f_p", Unit: "Hz", Means: "pulse-width cycles a second"},
			{Sign: "t_e", Unit: "s", Means: "exposure: 20 ms"},
			{Sign: "r", Unit: "1", Means: "how much exposures may differ: 5 %"},
		},
		Sources: []study.Source{
			filming,
			{Title: "counting of cycles", Basis: parts.Derived, Says: "of an exposure of n cycles and a part of one more, that part is at most the whole light of one: 1/n of the rest"},
		},
		Limits: []string{
			"A shorter exposure sees more, a longer one less: bright rooms are filmed at a thousandth of a second.",
			"At full drive nothing is switched, and no camera sees anything. Chips that dim by current, or by pulses in an order of their own, do better.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "exposures may differ by more than 5 %"}},
		Example: study.Example{
			Given: []string{"The chips of a tape switch 400 times a second."},
			Sums:  []string{"1/(400 Hz · 20 ms) = 0.125", "0.125 > 0.05"},
			Value: "12.5 %", Limit: "5 %", Grade: finding.Note,
			Says: "Dimmed, it shows bands on film; at a fiftieth of a second it takes 1000 Hz to be rid of them.",
		},
	},
	Reads: study.AsPercent,
	Judge: func(s *study.Study, tape string) []study.Assessment {
		part, ok := parts.Get[parts.Tape](s.Scheme.Library, tape)
		if !ok {
			return nil
		}
		protocol, ok := parts.Get[parts.Protocol](s.Scheme.Library, part.Protocol)
		if !ok || protocol.Refresh.Is <= 0 {
			return study.Passes("Its protocol does not say how often its pixels switch.")
		}
		differ := 1 / (float64(protocol.Refresh.Is) * float64(filmed))
		a := study.Upper(differ, ripple, 0, finding.Note).Fill("", "1", protocol.Refresh.Basis, protocol.Refresh.Source)
		return []study.Assessment{a.On(func() []study.Number {
			return []study.Number{study.Stated(part.Protocol, "refresh", protocol.Refresh), study.Taken("5 % between exposures of a fiftieth of a second", filming)}
		}).Say(fmt.Sprintf("Pixels of %s switch %.0f times a second to dim: film exposed for %v shows bands of %v.", tape, float64(protocol.Refresh.Is), filmed, unit.Ratio(differ)),
			"Where it is filmed use a tape that switches faster, or light at full drive.").
			Worked(func(w *study.Working) {
				w.Stated("f_p", "pulse-width cycles a second", study.Stated(part.Protocol, "refresh", protocol.Refresh))
				w.Taken("t_e", "exposure", study.Of(filmed), filming)
				w.Step("By how much exposures differ", "k_e = 1/(f_p · t_e)")
				w.Taken("r", "by how much they may", study.Plain(ripple), filming)
				w.Upper("k_e", "r", 0, finding.Note)
			})}
	},
}
