package signal

import (
	"cmp"
	"fmt"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/study"
)

var waking = study.Rule{
	Name: "signal/waking", Title: "Light by itself", Scope: study.Tapes,
	Doc: study.Doc{
		What:    "What the chips of a tape show while nothing tells them anything: from when they are switched on to the first frame, and when no more frames come.",
		Why:     "A controller takes seconds to start, and may hang for a night. Chips that light or play a pattern of their own until then show it to everybody; where light must be off, as behind a projection or along a way that is closed, that is more than a blemish.",
		Formula: []string{"N_s = 0"},
		Symbols: []study.Symbol{{Sign: "N_s", Unit: "1", Means: "times at which the chips light by themselves: when they wake, and when data stops"}},
		Sources: []study.Source{
			{Title: "the sheet of the chip", Basis: parts.Datasheet, Says: "what it shows at such times; which sheet the protocol of the tape says"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "chips of the WS2812 generation hold the last frame when data stops"},
		},
		Limits: []string{
			"Of most chips nobody says it, and nothing is found then.",
			"Chips that hold the last frame are passed: after a hang they show it until somebody cuts the power.",
			"How much they draw meanwhile is no state of the scheme: up to what all pixels draw with the cap failed, which is in the results.",
			"What a controller sends while it starts, and noise on a line that nothing drives, can light any chip.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "chips light, or show a pattern of their own, when they wake or when data stops"}},
		Example: study.Example{
			Given: []string{"The chips of a tape show a pattern of their own when they are switched on, and again when no more frames come."},
			Sums:  []string{"1 + 1 = 2", "2 > 0"},
			Grade: finding.Note,
			Says:  "When the controller starts or hangs, the tape plays. Power that comes on after the data, and goes with it, hides that.",
		},
	},
	Judge: func(s *study.Study, tape string) []study.Assessment {
		part, ok := parts.Get[parts.Tape](s.Scheme.Library, tape)
		if !ok {
			return nil
		}
		protocol, ok := parts.Get[parts.Protocol](s.Scheme.Library, part.Protocol)
		if !ok || protocol.WithoutData == (parts.WithoutData{}) {
			return study.Passes("Its protocol does not say what its chips show without data.")
		}
		shows := protocol.WithoutData
		origin := parts.Origin{Basis: cmp.Or(shows.Basis, protocol.Basis), Source: cmp.Or(shows.Source, protocol.Source)}
		times, keys := byThemselves(shows)
		a := study.Assessment{Basis: origin.Basis, Source: origin.Source}
		if len(times) > 0 {
			a.Grade = finding.Note
		}
		return []study.Assessment{a.On(func() (list []study.Number) {
			for _, key := range keys {
				list = append(list, study.Said(part.Protocol, "without_data."+key, origin))
			}
			return list
		}).Say(fmt.Sprintf("Pixels of %s %s %s. They then may draw up to what they do with the cap failed, whatever the states say.", tape, lights(shows), strings.Join(times, ", and ")),
			"Where light must be off, switch the power of the tape on after its controller and off before it, by a contactor; or use a tape whose chips stay dark.").
			Worked(func(w *study.Working) {
				w.Counted("N_s", "times at which its chips light by themselves: "+study.Listed(times), len(times))
				w.When(finding.Note, "N_s > 0")
			})}
	},
}

// byThemselves lists when pixels light by themselves, and which keys say anything.
func byThemselves(shows parts.WithoutData) (times, keys []string) {
	if shows.Wakes != "" {
		keys = append(keys, "wakes")
	}
	if shows.Stops != "" {
		keys = append(keys, "stops")
	}
	if shows.Wakes == parts.WakesLit || shows.Wakes == parts.WakesPattern {
		times = append(times, "from when they are switched on to the first frame")
	}
	if shows.Stops == parts.StopsLit || shows.Stops == parts.StopsPattern {
		times = append(times, "when no more frames come")
	}
	return times, keys
}

// lights says what pixels do by themselves.
func lights(shows parts.WithoutData) string {
	if shows.Wakes == parts.WakesPattern || shows.Stops == parts.StopsPattern {
		return "show a pattern of their own"
	}
	return "light"
}
