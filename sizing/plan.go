package sizing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A plan is a scheme in the making: runs with their feeds, in groups that share a supply and a board. What mending learns
// stays in it: how richly each run is fed, how much supplies and boards must have over what is drawn, how thick inlets are.
type plan struct {
	wish Wish
	tape *parts.Tape
	shelf
	runs   []*run
	groups []*group
	spare  float64 // what supplies and boards must have over what is drawn, as a factor
	inlet  int     // which of the cables an inlet has at least
	lift   float64 // by how much supplies are trimmed up
	many   bool    // its faults are more than a check follows without being asked
	gentle int     // the largest of the blades behind which rails of the tape bear a short, see trial
}

// A run is a piece of a light.
type run struct {
	id     string
	label  string
	begin  unit.Metre // from where the light begins
	pixels int
	riches int // how much more richly it is fed than its fuses ask, see feeding
	feeds  []feed
}

// A feed lands at a mark of its run, and alone feeds a piece of its positive.
type feed struct {
	id    string // of its cable
	way   string // "A1.2"
	from  int    // the mark where its piece begins: the positive is cut there, but at the start of the run
	mark  int
	fuse  int // which of the blades
	thick int // by how many sizes its cable is thicker than the riches of its run ask
}

// A group shares a supply and a board; feeder joins them.
type group struct {
	supply, board string // identifiers
	supplyPart    *named[parts.Supply]
	boardPart     *named[parts.Board]
	feeder        string // the identifier of a cable
	cable, fuse   int    // which of the cables and of the inline fuses it has
	runs          []*run
}

// A Cannot is the error of a wish that no scheme of this catalogue can meet; Hint says what to wish instead.
type Cannot struct{ Text, Hint string }

func (e *Cannot) Error() string { return e.Text }

// What a wish may ask for: a draft is a beginning, and larger ones want a designer.
const (
	longest  = 500.0 // metres of one light
	farthest = 100.0 // metres from supply to light
)

func newPlan(wish Wish, library *parts.Library) (*plan, error) {
	tape, ok := parts.Get[parts.Tape](library, wish.Tape)
	switch {
	case !ok:
		return nil, &Cannot{fmt.Sprintf("there is no tape %q", wish.Tape), hintOr(finding.DidYouMean(wish.Tape, library.Names("tape")), "farend parts tape lists them")}
	case len(wish.Lights) == 0:
		return nil, &Cannot{"there is nothing to light", "say where light goes and how long it is, such as west handrail 4.8 m"}
	case !(wish.Level > 0 && wish.Level <= 1):
		return nil, &Cannot{fmt.Sprintf("a brightness of %v cannot be sent", wish.Level), "write more than 0 % and at most 100 %"}
	case !(wish.Away > 0 && wish.Away <= farthest):
		return nil, &Cannot{fmt.Sprintf("the supply cannot stand %v away", wish.Away), fmt.Sprintf("write more than 0 m and at most %v", unit.Metre(farthest))}
	}
	wish.Title = oneLine(wish.Title)
	p := &plan{wish: wish, tape: tape, spare: 1}
	if err := p.fill(library, tape); err != nil {
		return nil, err
	}
	for _, light := range wish.Lights {
		if !(light.Length > 0 && light.Length <= longest) {
			return nil, &Cannot{fmt.Sprintf("%s cannot be %v long", light.Label, light.Length), fmt.Sprintf("write more than 0 m and at most %v for one light", unit.Metre(longest))}
		}
		r := &run{label: oneLine(light.Label), pixels: p.wholePieces(light.Length)}
		if r.pixels == 0 {
			return nil, &Cannot{fmt.Sprintf("%s is shorter than one piece of %s, %v", light.Label, wish.Tape, p.pitch(tape.CutEvery)), "make it longer, or choose another tape"}
		}
		p.runs = append(p.runs, p.parted(r, p.mostPixels())...)
	}
	return p, nil
}

// oneLine is a text without line breaks and double spaces.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func hintOr(near, otherwise string) string {
	if near != "" {
		return "did you mean " + near + "?"
	}
	return otherwise
}

// wholePieces is the pixels of the whole pieces in a length of the tape.
func (p *plan) wholePieces(length unit.Metre) int {
	every := p.tape.CutEvery
	return int(math.Floor((float64(length)*float64(p.tape.Pixels.Is)+1e-6)/float64(every))) * every
}

// pitch is the length of so many pixels.
func (p *plan) pitch(pixels int) unit.Metre {
	return unit.Metre(float64(pixels) / float64(p.tape.Pixels.Is))
}

// rate is how often a second all pixels of a port shall be sent.
const rate = 40

// mostPixels is how many pixels one port sends at that rate: the frame is bits times period, and the latch gap. A clocked
// protocol is taken to run at 1 MHz at most, though its chips may stand more: long leads do not (common practice, no source).
func (p *plan) mostPixels() int {
	const usual, slow = 1.25e-6, 1e-6
	bits, period, latch := 24, usual, 0.0
	if protocol := p.protocol; protocol != nil {
		bits, latch = protocol.Bits, float64(protocol.Latch.Is)
		switch {
		case protocol.Clocked:
			period = slow
			if protocol.ClockMax.Is > 0 {
				period = max(slow, 1/float64(protocol.ClockMax.Is))
			}
		case protocol.Period.Is > 0:
			period = float64(protocol.Period.Is)
		}
	}
	return max(p.tape.CutEvery, int((1.0/rate-latch)/(period*float64(bits))))
}

// parted cuts a run into as many equal pieces as it takes for none to have more than so many pixels.
func (p *plan) parted(r *run, most int) []*run {
	every := p.tape.CutEvery
	pieces := (r.pixels + most - 1) / max(most, 1)
	if pieces < 2 {
		return []*run{r}
	}
	var runs []*run
	for i, from := 0, 0; i < pieces; i++ {
		to := r.pixels * (i + 1) / pieces / every * every
		if i == pieces-1 {
			to = r.pixels
		}
		if to > from {
			runs = append(runs, &run{label: r.label, begin: r.begin + p.pitch(from), pixels: to - from})
			from = to
		}
	}
	return runs
}

// feeding is by how many feeds a run at one degree of riches has more than it needs, and which of the cables they are at least: first
// none, thin then thicker, then one.
func feeding(riches int) (more, cable int) { return riches / 2, riches%2 + riches/10 }

// feedsOf is how many feeds a run has: as many as it takes for none to need a fuse behind which a short would harm the rails, and what its
// riches add. A run has no more than one feed for each piece that it could be cut into.
func (p *plan) feedsOf(r *run) int {
	more, _ := feeding(r.riches)
	need := int(math.Ceil(p.needs(r)/p.holds(p.blades[p.gentle]) - 1e-9))
	return min(max(need, 1)+more, r.pixels/p.tape.CutEvery)
}

// needs is the current that the fuses of a run are chosen for, all together: what is lit, or three quarters of what is drawn with the cap
// failed (see heaviest), at nominal voltage.
func (p *plan) needs(r *run) float64 {
	lit, all := p.draws(r)
	return max(lit, capShare*all)
}

// mostRiches is where a run is better cut in two.
const mostRiches = 16

// draws is what a run draws at nominal voltage: at the brightest level in white, and with every channel full on at the upper end
// of its spread.
func (p *plan) draws(r *run) (lit, all float64) {
	for name, c := range p.tape.Channels {
		amps, most := float64(c.Set.Is), float64(c.Set.Upper())
		if c.String.Given {
			over := float64(p.tape.Volts.Is - c.Lo.Is)
			amps, most = over/float64(c.String.Is), over/float64(c.String.Lower())
		}
		all += most
		if p.isWhite(name) {
			lit += amps * float64(p.wish.Level)
		}
	}
	idle := float64(p.tape.Idle.Set.Is)
	return float64(r.pixels) * (lit + idle), float64(r.pixels) * (all + idle)
}

// isWhite reports whether a channel makes the colour white: the white channels where the tape has some, else all.
func (p *plan) isWhite(name string) bool {
	whites := []string{"white", "warm", "cold"}
	for _, w := range whites {
		if _, has := p.tape.Channels[w]; has {
			return slices.Contains(whites, name)
		}
	}
	return name != "amber"
}

// pieces are the feeds of a run: one at its start; several in the middle of as many pieces of its positive, as equal as the tape can be cut.
// Where a piece is so short that its middle is its beginning, its feed lands there, on its own side of the cut.
func (p *plan) pieces(r *run, feeds int) []feed {
	if feeds < 2 {
		return make([]feed, 1)
	}
	every := p.tape.CutEvery
	list := make([]feed, feeds)
	for i := range list {
		from, to := r.pixels*i/feeds/every*every, r.pixels*(i+1)/feeds/every*every
		list[i].from, list[i].mark = from, from+(to-from)/2/every*every
	}
	return list
}

// pack puts the runs, in their order, into groups that a supply and a board can serve. A run that no group can serve is cut.
func (p *plan) pack() error {
	for {
		tooLarge, err := p.packed()
		if err != nil || tooLarge < 0 {
			return err
		}
		pieces := p.parted(p.runs[tooLarge], (p.runs[tooLarge].pixels+1)/2)
		if len(pieces) < 2 {
			return &Cannot{fmt.Sprintf("one piece of %s draws more than any supply and board of the catalogue give", p.wish.Tape), "choose another tape"}
		}
		p.runs = slices.Replace(p.runs, tooLarge, tooLarge+1, pieces...)
	}
}

// packed is the index of the first run that no group can serve, −1 if all are served.
func (p *plan) packed() (tooLarge int, err error) {
	old := p.groups
	p.groups = nil
	for i, r := range p.runs {
		if r.riches > mostRiches && r.pixels > p.tape.CutEvery {
			return i, nil
		}
		p.feed(r, p.pieces(r, p.feedsOf(r)))
		if n := len(p.groups); n > 0 {
			if last := p.groups[n-1]; p.serve(last, append(slices.Clone(last.runs), r)) {
				continue
			}
		}
		fresh := &group{}
		if !p.serve(fresh, []*run{r}) {
			return i, nil
		}
		if p.groups = append(p.groups, fresh); len(p.groups) > 50 {
			return -1, &Cannot{"the wish needs more than 50 supplies", "wish less at once, or a tape of a higher voltage"}
		}
	}
	p.guessFuses(old)
	p.number()
	return -1, nil
}

// feed lands feeds on a run, keeping fuses and cables of those it has; where it had others, each is taken to carry the same.
func (p *plan) feed(r *run, feeds []feed) {
	old := r.feeds
	r.feeds = feeds
	for i := range feeds {
		if len(old) == len(feeds) {
			feeds[i].fuse, feeds[i].thick = old[i].fuse, old[i].thick
		} else {
			feeds[i].fuse = p.smallest(p.blades, p.needs(r)/float64(len(feeds)))
		}
	}
}

// guessFuses gives feeders the fuses they had in the groups before, or those that what they feed is taken to need.
func (p *plan) guessFuses(old []*group) {
	for i, g := range p.groups {
		if i < len(old) && slices.Equal(old[i].runs, g.runs) {
			g.fuse = old[i].fuse
			continue
		}
		total := 0.0
		for _, r := range g.runs {
			total += p.needs(r)
		}
		g.fuse = p.smallest(p.inlines, total)
	}
}

// smallest is the first of the fuses that carries so much with something to spare, or the last.
func (s *shelf) smallest(fuses []named[parts.Fuse], amps float64) int {
	for i, f := range fuses {
		if s.holds(f) >= amps {
			return i
		}
	}
	return len(fuses) - 1
}

// serve finds the smallest supply and board that serve the runs, and makes them a group; it reports whether there are any.
func (p *plan) serve(g *group, runs []*run) bool {
	lit, all, needs, feeds := 0.0, 0.0, 0.0, 0
	for _, r := range runs {
		l, a := p.draws(r)
		lit, all, needs, feeds = lit+l, all+a, needs+p.needs(r), feeds+len(r.feeds)
	}
	if needs > p.holds(p.inlines[len(p.inlines)-1]) {
		return false
	}
	for _, s := range p.supplies {
		if lit*p.spare > 0.75*float64(s.part.Amps.Is) || all*p.spare > float64(s.part.Amps.Is) {
			continue
		}
		for _, b := range p.boards {
			if feeds <= len(b.part.Ways) && len(runs) <= len(b.part.Ports) && all*p.spare <= float64(b.part.Inlet.Amps.Is) {
				g.runs, g.supplyPart, g.boardPart = runs, &s, &b
				g.cable = max(g.cable, p.inlet)
				return true
			}
		}
	}
	return false
}

// spared is the share of its rating that a fuse is loaded with: 75 %, and a twentieth less so that it is not tight.
const spared = 0.75 * 0.95

// air is what a draft says of the air around its fuses.
const air unit.Celsius = 30

// holds is what a fuse is loaded with at most in that air.
func (s *shelf) holds(f named[parts.Fuse]) float64 {
	left := 1.0
	if curve, ok := network.Curve(s.library, f.part); ok {
		left, _ = curve.Factor(air)
	}
	return float64(f.part.Rating.Is) * spared * min(left, 1)
}

// number gives every thing its identifier.
func (p *plan) number() {
	runs, cables := 0, 0
	cable := func() string { cables++; return fmt.Sprintf("W%d", cables) }
	for i, g := range p.groups {
		g.supply, g.board, g.feeder = fmt.Sprintf("T%d", i+1), fmt.Sprintf("A%d", i+1), cable()
		ways, used := waysOf(g.boardPart.part), 0
		for _, r := range g.runs {
			runs++
			r.id = fmt.Sprintf("E%d", runs)
			for k := range r.feeds {
				r.feeds[k].id, r.feeds[k].way = cable(), g.board+"."+ways[used]
				used++
			}
		}
	}
}

func waysOf(b *parts.Board) []string { return sorted(b.Ways) }

// sorted is the keys of a map, shorter ones first.
func sorted[T any](m map[string]T) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), strings.Compare(a, b)) })
	return keys
}
