package board

import (
	"strings"

	"farend/finding"
	"farend/network"
	"farend/remedy"
	"farend/study"
)

var inletCurrent = study.Rule{
	Name: "board/inlet-current", Title: "Inlet current", Scope: study.Boards, Safety: true,
	Doc: study.Doc{
		What:    "The heating (rms) current of each pole of a board's inlet, in every state, its peak, in the dark and with the cap failed, against the inlet's rating.",
		Why:     "Everything on the board goes through two terminals and their copper. Overloaded, they are where a board scorches first.",
		Formula: []string{"max(I_p, I_m) ≤ I_r"},
		Symbols: []study.Symbol{
			{Sign: "I_p", Unit: "A", Means: "rms current into the plus pole over the pulse-width cycle"},
			{Sign: "I_m", Unit: "A", Means: "rms current out of the return pole"},
			{Sign: "I_r", Unit: "A", Means: "rating of the inlet, each pole"},
		},
		Sources: contactSources("the maker of the board"),
		Limits: []string{
			"A rating holds for a clamp that is tight, on clean copper of the right size, in air for which the maker gave it. None of that is known here.",
			"How warm the inlet gets is not computed: there is no thermal curve. How an overload ends is asked with the cap failed alone; in a state it should not be there at all.",
			"The board's own copper, between inlet and ways, is taken to be as strong as the inlet.",
		},
		Grades: contactGrades("the board has no part yet"),
		Example: study.Example{
			Given: []string{"Six runs of 1,300, 1,100, 970, 700, 700 and 230 pixels of 10 mA hang on a board whose inlet is rated for 40 A."},
			Sums:  []string{"(1300 + 1100 + 970 + 700 + 700 + 230) × 10 mA = 50 A", "1.2 × 40 A = 48 A", "50 A > 48 A"},
			Value: "50 A", Limit: "40 A", Grade: finding.Danger,
			Says: "Heat goes with the square: 56 % more than the inlet is made for.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := s.Scheme.BoardPart(id)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a board part.")
		}
		inlet := contact{"The inlet of " + id, s.Scheme.Boards[id].Part, "inlet.amps", part.Inlet.Amps}
		var found []study.Assessment
		for _, c := range s.Cases() {
			r := s.Result(c.Name).Boards[id]
			poles := []flow{one("rms current into its plus pole", r.Inlet.RMS), one("rms current out of its return pole", r.Return.RMS)}
			found = append(found, inlet.judge(s, poles, c, func() []study.Number { return s.Draw(c, s.Network.RunsOn(id)) }, "Move runs to another board, or use one with a larger inlet.", fed(s, id+".in")))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Board(s, id) })
	},
}

var wayCurrent = study.Rule{
	Name: "board/way-current", Title: "Way current", Scope: study.Ways, Safety: true,
	Doc: study.Doc{
		What:    "The heating (rms) current of a way, out through its fuse holder and plus terminal and home through its return terminal, in every state, its peak, in the dark and with the cap failed, against the way's rating.",
		Why:     "A fuse holder that is too hot softens its springs, gets hotter still and may carry its fuse along. A return terminal has no fuse at all, and may carry what other ways send out.",
		Formula: []string{"max(I_p, I_m) ≤ I_r"},
		Symbols: []study.Symbol{
			{Sign: "I_p", Unit: "A", Means: "rms current out of the plus terminal over the pulse-width cycle"},
			{Sign: "I_m", Unit: "A", Means: "current through the return terminal: the rms currents of the cables that bring it home there, added up"},
			{Sign: "I_r", Unit: "A", Means: "rating of the way"},
		},
		Sources: contactSources("the maker of the board"),
		Limits: []string{
			"A rating holds for a tight clamp and a sound holder, in air for which the maker gave it. None of that is known here.",
			"How warm the holder gets is not computed: there is no thermal curve. How an overload ends is asked with the cap failed alone; in a state it should not be there at all.",
			"The rating is taken for both terminals and the holder alike, whichever is weakest.",
			"Where several cables share a return terminal, rms currents that do not peak together are still added: careful.",
		},
		Grades: contactGrades("never by itself: a board without a part has no ways yet, and board/inlet-current says so"),
		Example: study.Example{
			Given: []string{"A way rated for 10 A feeds 1,100 pixels of 10 mA."},
			Sums:  []string{"1100 × 10 mA = 11 A", "1.2 × 10 A = 12 A", "11 A > 10 A", "11 A < 12 A"},
			Value: "11 A", Limit: "10 A", Grade: finding.Fails,
			Says: "Too much for ever, and not yet so much that it is called a danger.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := s.Scheme.WayPart(id)
		if !ok {
			return nil
		}
		board, socket, _ := strings.Cut(id, ".")
		name := s.Scheme.Boards[board].Part
		out := contact{id, name, "ways." + socket + ".amps", part.Amps}
		home := out
		home.name = "The return terminal of " + id
		var found []study.Assessment
		for _, c := range s.Cases() {
			numbers := func() []study.Number { return s.CarriedByWay(c, id) }
			r := s.Result(c.Name)
			leaving := []flow{one("rms current out of its plus terminal", r.Ways[id].Amps.RMS)}
			found = append(found, out.judge(s, leaving, c, numbers, "Split its load over two ways, or use a board with stronger ways.", holder(s, id)))
			if back := returned(s, r, id); max(back[0].sum(), back[1].sum()) > r.Ways[id].Amps.RMS {
				found = append(found, home.judge(s, back[:], c, numbers, "Bring the return of each feed home to the way that feeds it.", fed(s, id)).Fixed(func() []finding.Edit { return remedy.ReturnTerminal(s, id) }))
			}
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Way(s, id) })
	},
}

// holder is what feeds the plus terminal of a way: its own fuse, or what its bridged holder lets through.
func holder(s *study.Study, way string) func() []network.Behind {
	if s.Scheme.Fuses[way] == "" {
		return fed(s, way)
	}
	return func() []network.Behind { return []network.Behind{{Fuses: []string{way + ".fuse"}}} }
}

// returned is what goes through the return terminal of a way: the rms of all cables there that bring current home, and of all that
// lead it away. The heavier of the two, added up, is exact for one cable, and careful for several.
func returned(s *study.Study, r *network.Result, way string) [2]flow {
	var flows [2]flow
	for _, id := range s.Network.Landings(way) {
		back := r.Cables[id].Return
		i, does := 1, "leads away"
		if (back.Mean >= 0) == (s.Scheme.Cables[id].From.String() == way) {
			i, does = 0, "brings home"
		}
		flows[i] = append(flows[i], current{"rms current that " + id + " " + does, back.RMS})
	}
	return flows
}
