package study

import (
	"context"
	"slices"
	"strings"
	"sync"

	"farend/circuit"
	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A Division says of a run that several fuses feed what a fault may burn with, no fuse seeing it, in its leads and on its tape: as its fuses are, and if
// one fuse of their sum stood for all of them where they begin; and on its tape both with its positive whole, and cut midway between the feeds. In the dark.
type Division struct {
	Run     string
	Fuses   []string    // the fuses that are met first from its tape, where the positive is whole
	Sum     unit.Ampere // their ratings together
	Is      bool        // the positive is cut between the feeds as it is
	Lead    Two         // in leads to tape whose positive is whole
	LeadCut Two         // in leads to tape whose positive is cut
	Whole   Two         // on tape whose positive is whole
	Cut     Two         // on tape whose positive is cut
	Marks   []int
	Places  int // that were asked of the tape
}

// Two are the powers with several fuses, and with one of their sum.
type Two struct{ Several, One unit.Watt }

func (t *Two) take(several, one unit.Watt) {
	t.Several, t.One = max(t.Several, several), max(t.One, one)
}

// Divided is what Divisions lists, where faults were followed however long it took; nil elsewhere.
func (s *Study) Divided() []Division { return s.divided }

// Divisions are those of all runs that several fuses of one kind feed, in order.
func (s *Study) Divisions(ctx context.Context, progress func(done, total int)) ([]Division, error) {
	var list []Division
	runs := scheme.IDs(s.Scheme.Runs)
	count := counter(len(runs), progress)
	for _, run := range runs {
		d, ok, err := s.division(ctx, run)
		if err != nil {
			return nil, err
		}
		count()
		if ok {
			list = append(list, d)
		}
	}
	return list, nil
}

// division is that of one run; it is not ok where fewer than two fuses feed it, their kinds differ, or its feeds stand at one mark.
func (s *Study) division(ctx context.Context, run string) (d Division, ok bool, err error) {
	d = Division{Run: run, Marks: s.fedAt(run)}
	between := s.between(run, d.Marks)
	if len(between) == 0 {
		return d, false, nil
	}
	others := slices.DeleteFunc(slices.Clone(s.Scheme.Runs[run].Cuts), func(c scheme.Cut) bool { return c.Pole == scheme.Plus })
	d.Is = len(others) < len(s.Scheme.Runs[run].Cuts)
	whole, err := s.recut(run, others)
	if err != nil {
		return d, false, err
	}
	cut, err := s.recut(run, slices.Concat(others, between))
	if err != nil {
		return d, false, err
	}
	band, ok := whole.instead(&d)
	if !ok {
		return d, false, nil
	}
	if err := whole.ask(ctx, &d, band, &d.Lead, &d.Whole); err != nil {
		return d, false, err
	}
	err = cut.ask(ctx, &d, band, &d.LeadCut, &d.Cut)
	return d, err == nil, err
}

// fedAt are the marks of a run at which the plus of a cable lands, in order.
func (s *Study) fedAt(run string) (marks []int) {
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		c := s.Scheme.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.StationRef && ref.Element == run && c.Pole.Has(scheme.Plus) {
				marks = append(marks, ref.Station.Mark)
			}
		}
	}
	slices.Sort(marks)
	return slices.Compact(marks)
}

// between are cuts of the positive midway between marks, at cut marks of the tape.
func (s *Study) between(run string, marks []int) (cuts []scheme.Cut) {
	tape := s.Scheme.Tape(run)
	if tape == nil {
		return nil
	}
	every := max(tape.CutEvery, 1)
	for i := 1; i < len(marks); i++ {
		if at := (marks[i-1] + marks[i]) / 2 / every * every; at > marks[i-1] && at < marks[i] {
			cuts = append(cuts, scheme.Cut{At: scheme.Station{Pixel: at, Mark: at}, Pole: scheme.Plus})
		}
	}
	return cuts
}

// recut is a study of the scheme with a run cut otherwise, of which nothing is solved yet.
func (s *Study) recut(run string, cuts []scheme.Cut) (*Study, error) {
	n, err := network.New(s.Scheme.WithCuts(run, cuts))
	if err != nil {
		return nil, err
	}
	return &Study{Scheme: n.Scheme, Network: n, edges: new(sync.Map)}, nil
}

// instead is the band of one fuse for all that feed a run whose positive is whole.
func (s *Study) instead(d *Division) (band fuse.Band, ok bool) {
	tape := network.Fault{Kind: network.PolesMeet, At: d.Run + "@start"}
	d.Fuses = s.Network.Sections(tape).Nearest()
	curve := ""
	var first Guard
	for _, name := range d.Fuses {
		g, known := s.Guard(name)
		if !known || g.Fuse == nil || curve != "" && g.Fuse.Curve != curve {
			return fuse.Band{}, false
		}
		curve, d.Sum = g.Fuse.Curve, d.Sum+g.Fuse.Rating.Is
		first = g
	}
	if len(d.Fuses) < 2 {
		return fuse.Band{}, false
	}
	one := *first.Fuse
	one.Rating = parts.Value[unit.Ampere]{Is: d.Sum, Given: true}
	first.Fuse = &one
	return s.Band(first, first.Cold)
}

// ask finds the powers in the leads and on the tape of a run.
func (s *Study) ask(ctx context.Context, d *Division, band fuse.Band, lead, tape *Two) error {
	c, _ := s.Network.CaseNamed(string(network.Dark))
	k := s.strikerIn([]network.Case{c.Taken(network.Through)})
	if err := k.settle(ctx); err != nil {
		return err
	}
	var faults []network.Fault
	for _, p := range s.Network.Places() {
		f := network.Fault{Kind: network.PolesMeet, At: p.Name}
		on, near := strings.HasPrefix(p.Name, d.Run+"@"), s.Network.Sections(f).Nearest()
		if on || slices.ContainsFunc(near, func(fuse string) bool { return slices.Contains(d.Fuses, fuse) }) {
			faults = append(faults, f)
		}
	}
	found, one := make([]Two, len(faults)), k.together(d.Fuses, band)
	parallel(len(faults), func(w *circuit.Worker, i int) {
		a, err := k.aim(faults[i])
		if err != nil || ctx.Err() != nil {
			return
		}
		found[i] = Two{k.quiet(ctx, w, a, 0, nil, nil).best.Watts, k.quiet(ctx, w, a, 0, nil, one).best.Watts}
	})
	for i, f := range faults {
		if strings.HasPrefix(f.At, d.Run+"@") {
			d.Places++
			tape.take(found[i].Several, found[i].One)
		} else {
			lead.take(found[i].Several, found[i].One)
		}
	}
	return ctx.Err()
}

// A together is one fuse in the place of several, where they begin.
type together struct {
	guards  []int
	is      map[int]bool
	opensBy unit.Ampere // from which on it surely opens within an Hour
}

func (k *striker) together(names []string, band fuse.Band) *together {
	t := &together{is: map[int]bool{}, opensBy: band.OpensBy(Hour)}
	for _, name := range names {
		if g, known := k.guardAt[name]; known {
			t.guards, t.is[g] = append(t.guards, g), true
		}
	}
	return t
}

// ratio is what the fuse carries, of all that it stands for, over what surely opens it.
func (t *together) ratio(currents []unit.Ampere, wire []int) float64 {
	sum := unit.Ampere(0)
	for _, g := range t.guards {
		sum += currents[wire[g]]
	}
	return float64(sum / t.opensBy)
}
