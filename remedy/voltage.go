package remedy

import (
	"maps"
	"slices"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Apart is how far the nominal voltages of a tape and its supply may differ, over that of the tape.
const Apart = 0.15

// Rehang takes a run off a supply of another voltage than its tape's. Where everything on that supply is of one other voltage, the
// supply is the odd one, and one of that voltage takes its place. Else the cable that leads from it to runs of that voltage alone goes
// to the supply of their voltage that has most to spare, which is taken out of parallel work that its part forbids.
func Rehang(s *study.Study, run, supply string) []finding.Edit {
	tape := s.Scheme.Tape(run)
	if tape == nil {
		return nil
	}
	if alike(s, s.Network.RunsOn(supply), tape) {
		return exchanged(s, supply, tape)
	}
	for _, cable := range s.Network.Landings(supply) {
		side, other := "from", s.Scheme.Cables[cable].To
		if s.Scheme.Cables[cable].To.String() == supply {
			side, other = "to", s.Scheme.Cables[cable].From
		}
		if runs := beyond(s, other, cable); !slices.Contains(runs, run) || !alike(s, runs, tape) {
			continue
		}
		if to := spare(s, run); to != "" {
			return separated([]finding.Edit{edit(to, "cables", cable, side)}, asunder(s, []string{to}))
		}
	}
	return nil
}

// alike reports whether the tapes of runs are all of the voltage of one.
func alike(s *study.Study, runs []string, tape *parts.Tape) bool {
	return !slices.ContainsFunc(runs, func(id string) bool {
		other := s.Scheme.Tape(id)
		return other == nil || other.Volts.Is != tape.Volts.Is
	})
}

// exchanged puts a supply of a tape's voltage in the place of one of another, as it comes.
func exchanged(s *study.Study, supply string, tape *parts.Tape) []finding.Edit {
	amps := unit.Ampere(0)
	for _, run := range s.Network.RunsOn(supply) {
		amps += asks(s, run)
	}
	edits := changed(supplyFor(s, supply, tape.Volts.Is, tape.Volts.Is, amps), s.Scheme.Supplies[supply].Part, "supplies", supply, "part")
	if edits != nil && s.Scheme.Supplies[supply].Volts != nil {
		edits = append(edits, edit(nil, "supplies", supply, "volts"))
	}
	return edits
}

// beyond lists the runs that hang on a place by cables, junctions, inlets and ways, without going back along one cable.
func beyond(s *study.Study, at scheme.Ref, without string) []string {
	runs, seen := map[string]bool{}, map[string]bool{}
	for queue := []scheme.Ref{at}; len(queue) > 0; queue = queue[1:] {
		here := queue[0]
		if seen[here.String()] {
			continue
		}
		seen[here.String()] = true
		switch here.Kind {
		case scheme.StationRef:
			runs[here.Element] = true
			continue
		case scheme.InletRef:
			if part, ok := s.Scheme.BoardPart(here.Element); ok {
				for socket := range part.Ways {
					queue = append(queue, scheme.Ref{Element: here.Element, Kind: scheme.WayRef, Socket: socket})
				}
			}
		}
		for _, id := range s.Network.Landings(here.String()) {
			if id != without {
				queue = append(queue, far(s.Scheme.Cables[id], here.String()))
			}
		}
	}
	return scheme.IDs(runs)
}

// spare is the supply of a run's voltage that has most to spare in the worst case, and enough for the run; "" if there is none.
func spare(s *study.Study, run string) string {
	best, room := "", asks(s, run)
	for _, t := range scheme.IDs(s.Scheme.Supplies) {
		if !matches(s, t, run) {
			continue
		}
		left := unit.Ampere(0)
		for i, c := range s.Cases() {
			r := s.Result(c.Name).Supplies[t]
			if free := r.Rated - r.Amps.Peak; i == 0 || free < left {
				left = free
			}
		}
		if left > room {
			best, room = t, left
		}
	}
	return best
}

// Unlike mends two supplies of unlike set points on one copper: where the higher can be set to what the lower has, it is; else they are
// parted.
func Unlike(s *study.Study, low, high string) []finding.Edit {
	_, known := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[low].Part)
	b, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[high].Part)
	if !known || !ok {
		return nil
	}
	switch set := s.Scheme.SetPoint(low); {
	case set == b.Volts.Is && s.Scheme.Supplies[high].Volts != nil:
		return []finding.Edit{edit(nil, "supplies", high, "volts")}
	case set >= b.VoltsMin.Or(b.Volts).Is && set <= b.VoltsMax.Or(b.Volts).Is:
		return []finding.Edit{edit(plain(float64(set))+" V", "supplies", high, "volts")}
	}
	return Part(s, low)
}

// Part takes a supply out of parallel with others: a data lead that carries power past the fuses no longer does; the positive rail of
// a run that both feed is cut half-way between two of its feeds; or the one cable of a supply whose voltage no run on that copper has
// is taken out. It asks the network laid out with that change whether they are parted, and every stretch still fed.
func Part(s *study.Study, supply string) []finding.Edit {
	for _, id := range scheme.IDs(s.Scheme.Data) {
		if d := s.Scheme.Data[id]; d.Power {
			d.Power = false
			other := *s.Scheme
			other.Data = maps.Clone(other.Data)
			other.Data[id] = d
			if parted(&other, s, supply) {
				return []finding.Edit{edit(nil, "data", id, "power")}
			}
		}
	}
	for _, id := range scheme.IDs(s.Scheme.Runs) {
		for _, mark := range between(s, id) {
			if cut := (scheme.Cut{At: scheme.Station{Pixel: mark, Mark: mark}, Pole: scheme.Plus}); parted(s.Scheme.WithCuts(id, append(slices.Clone(s.Scheme.Runs[id].Cuts), cut)), s, supply) {
				return []finding.Edit{edit(map[string]any{"at": cut.At.String(), "pole": string(cut.Pole)}, "runs", id, "cuts", "-")}
			}
		}
	}
	for _, odd := range append([]string{supply}, s.Network.Partners(supply)...) {
		if cable := stray(s, odd); cable != "" && parted(withoutCable(s.Scheme, cable), s, supply) {
			return []finding.Edit{edit(nil, "cables", cable)}
		}
	}
	return nil
}

// stray is the one cable of a supply whose voltage none of the runs on its copper has; "" if it has several, or some run has it.
func stray(s *study.Study, supply string) string {
	runs, landed := s.Network.RunsOn(supply), s.Network.Landings(supply)
	if len(landed) != 1 || len(runs) == 0 || slices.ContainsFunc(runs, func(run string) bool { return matches(s, supply, run) }) {
		return ""
	}
	return landed[0]
}

func withoutCable(sch *scheme.Scheme, cable string) *scheme.Scheme {
	other := *sch
	other.Cables = maps.Clone(sch.Cables)
	delete(other.Cables, cable)
	return &other
}

// between lists the marks half-way between neighbouring feeds of a run.
func between(s *study.Study, run string) []int {
	tape := s.Scheme.Tape(run)
	var landed, marks []int
	for _, l := range landings(s, run) {
		landed = append(landed, l.mark)
	}
	slices.Sort(landed)
	landed = slices.Compact(landed)
	for i := 1; i < len(landed) && tape != nil; i++ {
		if half := (landed[i] - landed[i-1]) / tape.CutEvery / 2; half > 0 {
			marks = append(marks, landed[i-1]+half*tape.CutEvery)
		}
	}
	return marks
}

// parted reports whether a supply has fewer partners in another scheme, in which every run is fed as well as before.
func parted(other *scheme.Scheme, s *study.Study, supply string) bool {
	n, err := network.New(other)
	return err == nil && len(n.Partners(supply)) < len(s.Network.Partners(supply)) && feedsAsWell(s, n)
}
