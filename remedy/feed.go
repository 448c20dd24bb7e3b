package remedy

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Feed is one more feed of a run: a cable to the middle of the piece without copper that a pixel lies in, or to its end where no
// copper is beyond. It comes from a free way of the board that feeds the run, with a fuse; from a larger board where no way is free;
// from the supply, with a fuse where it begins; from the junction of the nearest feed, where all else fails. It is made of what the
// nearest feed is made of. With a fuse of its own it gets a piece of the run to itself.
func Feed(s *study.Study, run string, pixel int) []finding.Edit {
	f, ok := feedFor(s, run, pixel)
	if !ok {
		return nil
	}
	return apart(s, run, f.from(f.fromWay, f.fromLargerBoard, f.fromSupply, f.fromJunction), f)
}

// Feeds is one more feed in each of the pieces of a run that some pixels lie in, so that pieces that are alike stay alike; only that of
// the first where there is not room for all.
func Feeds(s *study.Study, run string, pixels []int) []finding.Edit {
	if len(pixels) == 0 {
		return nil
	}
	taken, board := map[string]bool{}, ""
	var edits []finding.Edit
	var made []feed
	for _, pixel := range pixels {
		f, ok := feedFor(s, run, pixel)
		if !ok {
			continue
		}
		f.taken, f.larger, f.more = taken, &board, len(pixels)
		one := f.from(f.fromWay, f.fromLargerBoard, f.fromSupply, f.fromJunction)
		if one == nil {
			return Feed(s, run, pixels[0])
		}
		edits, made = merged(edits, one), append(made, f)
	}
	return apart(s, run, edits, made...)
}

// apart adds to the edits of some feeds the cuts by which those that have a fuse of their own have a piece of the run to themselves, and
// refits the fuses of those that were there.
func apart(s *study.Study, run string, edits []finding.Edit, made ...feed) []finding.Edit {
	landed := landings(s, run)
	if meshed(s, landed) {
		return edits
	}
	for _, f := range made {
		if l, own := f.landing(edits); own {
			landed = append(landed, l)
		}
	}
	if len(landed) == len(landings(s, run)) {
		return edits
	}
	return merged(edits, cutBetweenFeeds(s, run, landed))
}

// meshed reports whether a cable from another run feeds a run: by which of them what flows is then more than cuts take into account. What only leads
// on to another run is a load of the piece that it leads from.
func meshed(s *study.Study, landed []landing) bool {
	return slices.ContainsFunc(landed, func(l landing) bool { return l.near.Kind == scheme.StationRef && feeds(s, l) })
}

// ledOn is what cables that only lead on from between two marks of a run carry.
func ledOn(s *study.Study, run string, low, high int) unit.Ampere {
	amps := unit.Ampere(0)
	for _, l := range landings(s, run) {
		if l.mark >= low && l.mark <= high && !feeds(s, l) {
			amps += lasting(s, func(r *network.Result) unit.Ampere {
				return max(r.Cables[l.cable].Plus.RMS, -r.Cables[l.cable].Plus.Mean)
			})
		}
	}
	return amps
}

// landing is where a feed lands, by the edits that make it; it has no fuse of its own where it comes from a junction.
func (f feed) landing(edits []finding.Edit) (l landing, own bool) {
	for _, e := range edits {
		values, is := e.Value.(map[string]any)
		if !is || values["to"] != f.station {
			continue
		}
		near := f.placed(fmt.Sprint(values["from"]))
		return landing{strings.TrimPrefix(e.Path, "/cables/"), near, f.mark, strings.HasSuffix(f.station, "-")}, near.Kind != scheme.JunctionRef
	}
	return landing{}, false
}

// placed is a place that a feed comes from by its name: a junction, a supply or a way.
func (f feed) placed(name string) scheme.Ref {
	if _, is := f.s.Scheme.Junctions[name]; is {
		return scheme.Ref{Element: name, Kind: scheme.JunctionRef}
	}
	if _, is := f.s.Scheme.Supplies[name]; is {
		return scheme.Ref{Element: name, Kind: scheme.SupplyRef}
	}
	board, way, _ := strings.Cut(name, ".")
	return scheme.Ref{Element: board, Socket: way, Kind: scheme.WayRef}
}

// alone reports whether a feed has a piece to itself once the run is cut.
func (f feed) alone() bool {
	own := landing{cable: "-", mark: f.mark, before: strings.HasSuffix(f.station, "-")} // the name of no cable
	return !meshed(f.s, landings(f.s, f.run)) && len(midway(f.s, f.run, append(landings(f.s, f.run), own))) > len(midway(f.s, f.run, landings(f.s, f.run)))
}

// feedFor is one more feed of a run near a pixel; it is not ok where there is no place for one.
func feedFor(s *study.Study, run string, pixel int) (feed, bool) {
	g, ok := gapOf(s, run, pixel)
	f := feed{s: s, run: run, mark: g.mark, station: g.station(run, s.Scheme.Runs[run].Count), taken: map[string]bool{}, larger: new(string), more: 1}
	f.model, f.root = nearest(s, run, g.mark)
	f.load = share(s, run, g)
	return f, ok
}

// from is the first of several ways to lay a feed that can be.
func (f feed) from(sources ...func() []finding.Edit) []finding.Edit {
	for _, source := range sources {
		if edits := source(); edits != nil {
			return edits
		}
	}
	return nil
}

// A gap is a piece of a run between two places where copper lands or a rail is cut, and where in it one more feed does most.
type gap struct {
	low, high int  // marks
	mark      int  // of the feed
	before    bool // it lands on the side before a cut
}

// gapOf is the piece that a pixel lies in. Where copper lands at both of its ends, the feed goes to the middle; where at one, to the
// other; where at none, to the first. It is not ok where no cut mark is left between.
func gapOf(s *study.Study, run string, pixel int) (gap, bool) {
	r, tape := s.Scheme.Runs[run], s.Scheme.Tape(run)
	if tape == nil {
		return gap{}, false
	}
	landed := landings(s, run)
	g := gap{low: 0, high: r.Count}
	fed := [2]bool{slices.ContainsFunc(landed, func(l landing) bool { return l.mark == 0 }), slices.ContainsFunc(landed, func(l landing) bool { return l.mark == r.Count })}
	narrow := func(mark int, below, above bool) { // copper lands on the side below a mark, above it, or both
		switch {
		case mark > 0 && mark <= pixel && mark >= g.low:
			fed[0] = above || fed[0] && mark == g.low
			g.low = mark
		case mark > pixel && mark <= g.high && mark < r.Count:
			fed[1] = below || fed[1] && mark == g.high
			g.high = mark
		}
	}
	cut := map[int]bool{}
	for _, c := range r.Cuts {
		cut[c.At.Mark] = true
		narrow(c.At.Mark, false, false)
	}
	for _, l := range landed {
		narrow(l.mark, !cut[l.mark] || l.before, !cut[l.mark] || !l.before)
	}
	switch {
	case !fed[0]:
		g.mark = g.low
	case !fed[1]:
		g.mark, g.before = g.high, cut[g.high]
	default:
		pieces := (g.high - g.low) / tape.CutEvery
		g.mark = g.low + pieces/2*tape.CutEvery
		return g, pieces > 1
	}
	return g, true
}

// station names where a feed lands.
func (g gap) station(run string, count int) string {
	switch {
	case g.mark == 0:
		return run + "@start"
	case g.mark == count:
		return run + "@end"
	case g.before:
		return fmt.Sprintf("%s@px%d-", run, g.mark)
	}
	return fmt.Sprintf("%s@px%d", run, g.mark)
}

// A landing is where a cable with a plus lands on a run.
type landing struct {
	cable  string
	near   scheme.Ref // its other end
	mark   int
	before bool
}

func landings(s *study.Study, run string) []landing { return landed(s, run, scheme.Plus) }

// landed are the landings of cables with a pole on a run, in the order of the cables.
func landed(s *study.Study, run string, pole scheme.Pole) []landing {
	var list []landing
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		c := s.Scheme.Cables[id]
		for i, at := range ends(c) {
			if lands(at, run) && c.Pole.Has(pole) {
				list = append(list, landing{id, ends(c)[1-i], at.Station.Mark, at.Station.Before})
			}
		}
	}
	return list
}

// A feed is one more cable in the making.
type feed struct {
	s       *study.Study
	run     string
	mark    int
	station string
	load    unit.Ampere // what it is expected to carry
	model   landing     // the nearest feed of the run; its cable is "" where there is none
	root    scheme.Ref  // where that comes from: a way, a supply

	taken  map[string]bool // ways and names that feeds before it took
	larger *string         // the part of the larger board that a feed before it comes from; "" where none does
	more   int             // how many feeds there are to be
	lone   bool            // whoever makes it cuts the run, so that it has a piece to itself
	strict bool            // it is made of nothing that loses more than is allowed
}

// nearest is the feed of a run that lands nearest to a mark, and where its copper begins: it is followed through junctions.
func nearest(s *study.Study, run string, mark int) (model landing, root scheme.Ref) {
	list := landings(s, run)
	if len(list) == 0 {
		return landing{}, scheme.Ref{}
	}
	slices.SortStableFunc(list, func(a, b landing) int { return cmp.Compare(abs(a.mark-mark), abs(b.mark-mark)) })
	return list[0], beginning(s, list[0].near)
}

func abs(n int) int { return max(n, -n) }

// beginning follows cables from a junction to the first way or supply that feeds it; any other place is its own.
func beginning(s *study.Study, at scheme.Ref) scheme.Ref {
	seen := map[string]bool{at.String(): true}
	for queue := []scheme.Ref{at}; len(queue) > 0; queue = queue[1:] {
		if queue[0].Kind != scheme.JunctionRef {
			if queue[0].Kind == scheme.WayRef || queue[0].Kind == scheme.SupplyRef {
				return queue[0]
			}
			continue
		}
		for _, id := range s.Network.Landings(queue[0].String()) {
			if on := far(s.Scheme.Cables[id], queue[0].String()); !seen[on.String()] {
				seen[on.String()] = true
				queue = append(queue, on)
			}
		}
	}
	return at
}

// share is what a feed into a gap is expected to carry: the part of the run that lies nearer to it than to the ends of the gap, of what
// the run asks for in the lighting case in which that is most; and what leads on from the gap.
func share(s *study.Study, run string, g gap) unit.Ampere {
	count := s.Scheme.Runs[run].Count
	part := float64(g.high-g.low) / 2
	if len(landings(s, run)) == 0 {
		part = float64(count)
	}
	return unit.Ampere(part/float64(max(count, 1)))*lit(s, run) + ledOn(s, run, g.low, g.high)
}

// lit is the heating current that a run asks for at its tape's nominal voltage, in the lighting state in which that is most; cycles are
// taken to begin together.
func lit(s *study.Study, run string) unit.Ampere {
	tape := s.Scheme.Tape(run)
	if tape == nil {
		return 0
	}
	largest := 0.0
	idle, _ := network.Channel(tape.Idle, false).Current(float64(tape.Volts.Is))
	for _, state := range s.Scheme.StateNames() {
		drives, _ := s.Scheme.Drives(state, run)
		sum := idle
		for name, c := range tape.Channels {
			amps, _ := network.Channel(c, false).Current(float64(tape.Volts.Is))
			sum += amps * math.Sqrt(drives[name])
		}
		largest = max(largest, sum)
	}
	return unit.Ampere(largest * float64(s.Scheme.Runs[run].Count))
}

// draws reports whether a feed would take a fair part of what it is there for off the nearest one: along rails that hardly drop, current
// stays with the shorter cable.
func (f feed) draws() bool {
	const fair = 0.25
	tape, c := f.s.Scheme.Tape(f.run), f.s.Scheme.Cables[f.model.cable]
	part, ok := parts.Get[parts.Cable](f.s.Scheme.Library, c.Part)
	if !ok || tape == nil || c.Length == nil {
		return true
	}
	between := pitches(f.s, f.run, abs(f.model.mark-f.mark))
	old := 2 * float64(part.R20.Is) * float64(*c.Length)
	rail := 2 * float64(tape.Rail.Is) * float64(between)
	added := 2 * float64(part.R20.Is) * float64(*c.Length+between) // laid along it, then along the run
	return old+rail/2 >= fair*(old+rail+added)
}

// boards lists the boards that may feed the run: that of the nearest feed, that which sends it data, then the others whose supply has
// the voltage of its tape.
func (f feed) boards() []string {
	var list []string
	add := func(board string) {
		if _, ok := f.s.Scheme.BoardPart(board); ok && !slices.Contains(list, board) && f.suits(board) {
			list = append(list, board)
		}
	}
	if f.root.Kind == scheme.WayRef {
		add(f.root.Element)
	}
	for _, id := range scheme.IDs(f.s.Scheme.Data) {
		if d := f.s.Scheme.Data[id]; d.To.Element == f.run && d.From.Kind == scheme.PortRef {
			add(d.From.Element)
		}
	}
	if f.model.cable == "" {
		for _, board := range scheme.IDs(f.s.Scheme.Boards) {
			add(board)
		}
	}
	return list
}

// suits reports whether a board hangs on supplies that feed the run, or, where none does, on ones of its tape's voltage.
func (f feed) suits(board string) bool {
	on, fed := f.s.Network.SuppliesOn(board), suppliesOf(f.s, f.run)
	if len(fed) > 0 {
		return len(on) > 0 && slices.ContainsFunc(on, func(t string) bool { return slices.Contains(fed, t) })
	}
	return len(on) > 0 && !slices.ContainsFunc(on, func(t string) bool { return !matches(f.s, t, f.run) })
}

// matches reports whether a supply has the voltage of a run's tape.
func matches(s *study.Study, supply, run string) bool {
	part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[supply].Part)
	tape := s.Scheme.Tape(run)
	return ok && tape != nil && math.Abs(float64(part.Volts.Is-tape.Volts.Is)) <= Apart*float64(tape.Volts.Is)
}

func (f feed) fromWay() []finding.Edit {
	for _, board := range f.boards() {
		part, _ := f.s.Scheme.BoardPart(board)
		for _, socket := range scheme.IDs(part.Ways) {
			if way := board + "." + socket; isFree(f.s, way) && !f.taken[way] {
				if edits := f.edits(way, part.Ways[socket], board); edits != nil {
					return edits
				}
			}
		}
	}
	return nil
}

func (f feed) fromLargerBoard() []finding.Edit {
	for _, board := range f.boards() {
		name := cmp.Or(*f.larger, boardFor(f.s, board, f.more), boardFor(f.s, board, 1))
		larger, ok := parts.Get[parts.Board](f.s.Scheme.Library, name)
		if !ok {
			continue
		}
		needs := waysInUse(f.s, board)
		for _, socket := range scheme.IDs(larger.Ways) {
			if _, used := needs[socket]; used || f.taken[board+"."+socket] {
				continue
			}
			if edits := f.edits(board+"."+socket, larger.Ways[socket], board); edits != nil {
				*f.larger = name
				return append([]finding.Edit{edit(name, "boards", board, "part")}, edits...)
			}
		}
	}
	return nil
}

// edits are the new cable from a way, and the fuse there.
func (f feed) edits(way string, at parts.Way, board string) []finding.Edit {
	length, label, known := f.length(board)
	cable, link := f.made(board, length, seat{
		holder: at.Holder, like: f.s.Scheme.Fuses[f.root.String()], load: f.load, most: at.Amps.Is, volts: volts(f.s, board), short: short(f.s, board), air: f.s.Scheme.Ambient(),
	})
	if cable == "" || !known {
		return nil
	}
	f.taken[way] = true
	return append([]finding.Edit{f.laid(cable, way, length, label, ""), edit(link, "fuses", way)}, f.branches(link)...)
}

func (f feed) fromSupply() []finding.Edit {
	supply := f.root.Element
	switch f.root.Kind {
	case scheme.SupplyRef:
	case scheme.WayRef:
		supply = supplyOf(f.s, f.root.Element)
	case scheme.Unresolved: // nothing feeds the run yet
		supply = spare(f.s, f.run)
	default:
		return nil
	}
	if _, ok := parts.Get[parts.Supply](f.s.Scheme.Library, f.s.Scheme.Supplies[supply].Part); !ok { // none, or one that is not chosen and feeds nothing yet
		return nil
	}
	length, label, known := f.length(supply)
	cable, link := f.made(supply, length, seat{
		holder: "inline", like: f.s.Scheme.Cables[f.model.cable].Fuse, load: f.load, most: unit.Ampere(math.Inf(1)), volts: volts(f.s, supply), short: short(f.s, supply),
		air: f.s.Scheme.Ambient(), clamp: f.load,
	})
	if cable == "" || !known {
		return nil
	}
	return append([]finding.Edit{f.laid(cable, supply, length, label, link)}, f.branches(link)...)
}

// supplyOf is the supply from which a cable leads to the inlet of a board, "" if there is none.
func supplyOf(s *study.Study, board string) string {
	inlet := board + ".in"
	for _, id := range s.Network.Landings(inlet) {
		if at := beginning(s, far(s.Scheme.Cables[id], inlet)); at.Kind == scheme.SupplyRef {
			return at.Element
		}
	}
	return ""
}

// fromJunction takes a free place of the junction that the nearest feed comes from, or of a larger one; the fuse before it is that of all.
func (f feed) fromJunction() []finding.Edit {
	at := f.model.near
	part, ok := parts.Get[parts.Cable](f.s.Scheme.Library, f.s.Scheme.Cables[f.model.cable].Part)
	if at.Kind != scheme.JunctionRef || !ok || part.Cores < 2 {
		return nil
	}
	name := junctionFor(f.s, at.Element, junctionNeeds{cores: 1, areas: []unit.SquareMetre{part.Area.Is}})
	own := f.s.Scheme.Cables[f.model.cable].Length
	if name == "" || own == nil {
		return nil
	}
	length := metres(*own + pitches(f.s, f.run, abs(f.model.mark-f.mark)))
	edits := changed(name, f.s.Scheme.Junctions[at.Element].Part, "junctions", at.Element, "part")
	return append(edits, f.laid(f.s.Scheme.Cables[f.model.cable].Part, at.Element, length, scheme.EstimatedLength, ""))
}

// branches looks after the cables that the run itself, where it cannot be cut, would feed with more than they bear, by the fuses that are there and by those of the
// new feeds: a feed that comes from a junction and has no fuse of its own gets one where it begins, for through the run and back to the junction
// they feed it; a cable that leads on to another run gets thicker.
func (f feed) branches(link string) []finding.Edit {
	part, ok := parts.Get[parts.Fuse](f.s.Scheme.Library, link)
	if !ok || f.lone || f.alone() {
		return nil
	}
	var edits []finding.Edit
	for _, l := range landings(f.s, f.run) {
		c := f.s.Scheme.Cables[l.cable]
		switch {
		case l.near.Kind == scheme.JunctionRef && c.Fuse == "" && c.From.String() == l.near.String():
			p := inlineSeat(f.s, l.cable)
			rated, fusing := f.together(p, l.cable, "from", part)
			if own := p.smallest(f.s); own != "" && (rated > p.iz || fusing > conductor.Bearable*p.iz) {
				edits = append(edits, edit(own, "cables", l.cable, "fuse"))
			}
		case l.near.Kind == scheme.StationRef && l.near.Element != f.run:
			end := scheme.End("from")
			if c.To.Element == f.run {
				end = "to"
			}
			p := inlineSeat(f.s, l.cable)
			rated, fusing := f.together(p, l.cable, end, part)
			if iz := thinnest(f.s, []string{l.cable}); rated > iz || fusing > conductor.Bearable*iz {
				edits = append(edits, Thicker(f.s, l.cable, max(rated, fusing/conductor.Bearable))...)
			}
		}
	}
	return edits
}

// together are the ratings of all fuses that feed an end of a cable, and the currents at which they surely open, with those of the new feeds.
func (f feed) together(p seat, cable string, end scheme.End, link *parts.Fuse) (rated, fusing unit.Ampere) {
	more := unit.Ampere(f.more)
	rated, fusing = more*link.Rating.Is, more*p.opens(f.s, link)
	for _, name := range f.s.Network.Behind(cable, end).Fuses {
		if g, known := f.s.Guard(name); known && g.Fuse != nil {
			rated, fusing = rated+g.Fuse.Rating.Is, fusing+p.opens(f.s, g.Fuse)
		}
	}
	return rated, fusing
}

// laid is the new cable.
func (f feed) laid(part, from, length, label, fuse string) finding.Edit {
	values := map[string]any{"part": part, "length": length, "from": from, "to": f.station, "label": label}
	if fuse != "" {
		values["fuse"] = fuse
	}
	if like := f.s.Scheme.Cables[f.model.cable]; like.Part == part && like.Suits != "" { // what is said of one is true of more of it
		values["suits"] = string(like.Suits)
	}
	name := f.name()
	f.taken[name] = true
	return edit(values, "cables", name)
}

// made is what a feed of a length from a board or supply is made of, with the fuse that guards it in its seat: of the cable of the nearest one, as a pair, or
// the thinnest flexible pair from 1.5 mm² on; or of the next size of those that carries what it must, and with its fuse loses no more
// than is allowed, as far as that is a size that lands on tape. "" where no cable has a fuse that does.
func (f feed) made(from, length string, at seat) (cable, link string) {
	const (
		thinnest = 1.5e-6   // m²: IEC 60364-7-715 wants 1.5 mm² of copper, and less only for short flexible leads
		thickest = 6.001e-6 // m²: about what lands on tape at all (common practice, no source); thicker where the current asks for it
	)
	like := f.s.Scheme.Cables[f.model.cable]
	laid := scheme.Cable{Method: like.Method, Bundle: like.Bundle, Ambient: like.Ambient}
	kin, least := "cable/flex-", unit.SquareMetre(thinnest*0.999)
	if p, ok := parts.Get[parts.Cable](f.s.Scheme.Library, like.Part); ok && p.Cores == 2 {
		kin, least = family(like.Part), p.Area.Is
	} else if ok {
		least = max(least, p.Area.Is*0.999)
	}
	list := fitting(f.s, "cable", func(name string, p *parts.Cable) bool {
		return family(name) == kin && p.Cores == 2 && p.Area.Is >= least && float64(f.load) <= roomy*float64(carries(f.s, laid, p))
	}, func(a, b named[parts.Cable]) int { return cmp.Compare(a.part.Area.Is, b.part.Area.Is) })
	metres, _ := unit.Parse[unit.Metre](length)
	allowed := f.allowed(from)
	for _, p := range list {
		if cable != "" && p.part.Area.Is > thickest {
			break
		}
		at.iz = carries(f.s, laid, p.part)
		own := at.smallest(f.s)
		if own == "" {
			continue
		}
		if cable == "" && !f.strict {
			cable, link = p.name, own
		}
		if f.loses(p.part, metres)+inFuse(f.s, own, f.load) <= allowed {
			return p.name, own
		}
	}
	return cable, link
}

// inFuse is what a fuse loses at a current, taken as hot.
func inFuse(s *study.Study, name string, amps unit.Ampere) unit.Volt {
	p, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
	if !ok {
		return 0
	}
	return unit.Volt(float64(p.ResistanceHot.Or(p.Resistance).Is) * float64(amps))
}

// loses is what a cable of a length loses at the load, warm, over both cores.
func (f feed) loses(p *parts.Cable, length unit.Metre) unit.Volt {
	const warm = 1.2 // over 20 °C: copper at 70 °C (IEC 60364-5-52: PVC insulation)
	return unit.Volt(2 * warm * float64(p.R20.Is) * float64(length) * float64(f.load))
}

// allowed is what a feed from a place may lose with its fuse: of 5 % of nominal voltage (IEC 60364-7-715, 715.525) what is left after that on
// which the nearest feed hangs; all where it comes from the supply itself.
func (f feed) allowed(from string) unit.Volt {
	left := 0.05 * f.s.Scheme.Tape(f.run).Volts.Is
	model := f.s.Scheme.Cables[f.model.cable]
	if _, supply := f.s.Scheme.Supplies[from]; supply || f.model.cable == "" {
		return left
	}
	end := scheme.End("to")
	if !lands(model.To, f.run) {
		end = "from"
	}
	upstream := unit.Volt(0)
	for _, c := range f.s.Cases() {
		for _, t := range suppliesOf(f.s, f.run) {
			lost, ok := f.s.Network.Lost(f.s.Solution(c.Name), t, f.model.cable, end)
			if r := f.s.Result(c.Name); ok && c.Kind == network.State {
				own := r.Cables[f.model.cable].Drop + inFuse(f.s, f.s.Scheme.Fuses[f.root.String()], r.Ways[f.root.String()].Amps.RMS)
				upstream = max(upstream, lost-own)
			}
		}
	}
	return roomy*left - upstream
}

// name is an identifier that is not taken for one more cable.
func (f feed) name() string {
	return following(f.s, scheme.IDs(f.s.Scheme.Cables), "W", f.taken)
}

// following is an identifier that is not taken: the letters that those of a kind go by here, and the next number.
func following(s *study.Study, ids []string, letters string, more map[string]bool) string {
	last := 0
	for _, id := range ids {
		head := strings.TrimRight(id, "0123456789")
		if n, err := strconv.Atoi(id[len(head):]); err == nil && n < 1e6 && n > last {
			letters, last = head, n
		}
	}
	for taken := s.Scheme.Identifiers(); ; {
		last++
		if name := letters + strconv.Itoa(last); !taken[name] && !more[name] {
			return name
		}
	}
}

// Return brings a power return to where a pixel is: a cable that lands there and carries the plus alone gets its return; where there is
// none, one more feed does it.
func Return(s *study.Study, run string, pixel int) []finding.Edit {
	for _, l := range landings(s, run) {
		if !cutBetween(s.Scheme.Runs[run], l, pixel) {
			if edits := WithReturn(s, l.cable); edits != nil {
				return merged(edits, lone(s, run))
			}
		}
	}
	return Feed(s, run, pixel)
}

// lone opens the ground of a data lead to a run that draws more than the core may carry, and is about to have one power return: if that came loose, all
// would go home by the data ground. The data keeps its reference by the power return.
func lone(s *study.Study, run string) []finding.Edit {
	var edits []finding.Edit
	for _, id := range scheme.IDs(s.Scheme.Data) {
		d := s.Scheme.Data[id]
		rating, said := s.Network.LeadAmpacity(id)
		if d.To.Element == run && d.Ground != scheme.OpenGround && said && s.Network.Returns(run) < 1 && asks(s, run) > rating.Is {
			edits = append(edits, edit(string(scheme.OpenGround), "data", id, "ground"))
		}
	}
	return edits
}

// cutBetween reports whether the return rail is cut between a landing and a pixel.
func cutBetween(r scheme.Run, l landing, pixel int) bool {
	return slices.ContainsFunc(r.Cuts, func(c scheme.Cut) bool {
		m := c.At.Mark
		beyond := l.mark < m && pixel >= m || l.mark > m && pixel < m || l.mark == m && l.before != (pixel < m)
		return c.Pole.Has(scheme.Return) && beyond
	})
}
