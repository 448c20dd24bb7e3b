package wiring

import (
	"cmp"
	"math"
	"slices"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
)

// A block is a thing on a sheet, or a part of it where its cables take more than one sheet; or a reference to another sheet.
type block struct {
	id     string // "" of references
	kind   scheme.Kind
	first  bool // not a continuation
	column int  // of those of the sheet; before that is settled, its rank
	slots  []*terminal
	wide   float64

	part portion // of the thing's slots

	placed           bool
	top, row, bottom float64
	x                float64
	head             string
	words            []string // under its head
	data             []string // of runs
	marks            []*mark  // of runs

	// Of a reference: the place on the other sheet.
	place string
}

// A mark is a marked place of a run where it stands on the sheet.
type mark struct {
	marked
	terminals []*terminal
	y         float64
}

// A terminal is a slot on a sheet.
type terminal struct {
	slot
	of    *block
	left  bool // its cable comes from the left
	x, y  float64
	lead  *lead
	begun bool // its row is settled
}

// A lead is a cable on a sheet: it leaves a on the right, with its words over that row, and meets b.
type lead struct {
	id           string
	a, b         *terminal
	above, below []string
	indent       float64 // of its words behind its identifier
	over         float64 // from the line to the feet of the words over it
	up, down     float64 // what its row takes
	track        float64 // where it turns
}

// straight reports whether it turns nowhere.
func (l *lead) straight() bool { return l.b.left && math.Abs(l.a.y-l.b.y) < 1e-6 }

// A spread is one sheet of a single-line diagram being laid out. Every cable has a row of its own, which nothing to the right of its
// beginning shares, so that it can be drawn on as far as it goes; where it must turn it does so once, in a channel that has no words.
type spread struct {
	*diagrammed
	field   draw.Box
	blocks  []*block
	leads   []*lead
	gaps    int
	strip   float64 // what a row has for its words
	columns []column
	cursor  float64 // the lowest row so far
	runs    float64 // the lowest run so far
	lastRun *block
	lastRow float64
	lastAt  int
	nexts   []*block // runs in the order of their first rows
	beyond  bool     // cables run from run to run, to the right of them
	fits    bool
}

// A column has its left edge, its width, and the channel before the next.
type column struct {
	x, wide, channel float64
	runs             bool
	turns            []*lead
}

// The measures of a sheet, in millimetres.
const (
	rowGap      = 1.2 // between rows
	blockGap    = 3
	trackGap    = 1.6
	channelLeft = 3 // beside tracks
	widest      = 84
	narrowest   = 33
	overLine    = 1.7 // from a line to the feet of the words over it
	overContact = 2.5 // the same where it has a contact
	markGap     = 3.3
	keyHigh     = 8
	idShare     = 0.45 // of a strip that an identifier may take
	lineTop     = 0.76 * draw.Smallest * 25.4 / 72
	lineFoot    = 0.22 * draw.Smallest * 25.4 / 72
)

// widths of blocks, and of what stands in them.
var widths = map[scheme.Kind]float64{scheme.SupplyRef: 43, scheme.InletRef: 60, scheme.JunctionRef: 32, scheme.RunRef: 64, scheme.Unresolved: 27}

// A portion is a part of a thing's slots, from one to before another.
type portion struct {
	id       string
	from, to int
}

// newSpread lays portions out on a field.
func newSpread(d *diagrammed, field draw.Box, portions []portion) *spread {
	s := &spread{diagrammed: d, field: field, fits: true}
	s.field.Max.Y -= keyHigh
	at := map[slot]*terminal{}
	for _, sh := range portions {
		s.add(sh, at)
	}
	s.connect(at)
	s.setColumns()
	s.setWords()
	s.placeAll()
	s.placeRuns()
	s.setTracks()
	return s
}

func (s *spread) add(sh portion, at map[slot]*terminal) {
	b := &block{id: sh.id, kind: s.kindOf(sh.id), column: s.rank[sh.id], first: sh.from == 0, part: sh}
	b.wide = widths[b.kind]
	for _, sl := range s.slots[sh.id][sh.from:sh.to] {
		t := &terminal{slot: sl, of: b}
		if sl.cable != "" {
			t.left = s.enters(sl)
			at[sl] = t
		}
		b.slots = append(b.slots, t)
	}
	s.blocks = append(s.blocks, b)
}

// connect makes leads of the cables; where an end is on another sheet a reference stands for it.
func (s *spread) connect(at map[slot]*terminal) {
	for _, b := range s.blocks {
		for _, t := range b.slots {
			if t.cable == "" || t.lead != nil {
				continue
			}
			far, here := at[s.other(t.slot)], true
			if far == nil {
				far, here = s.reference(t), false
			}
			l := &lead{id: t.cable, a: t, b: far}
			if t.left || here && !far.left && s.before(far, t) {
				l.a, l.b = far, t
			}
			t.lead, far.lead = l, l
			s.leads = append(s.leads, l)
			if here && !l.b.left && l.a.of.kind == scheme.RunRef {
				s.beyond = true
			}
		}
	}
	for _, b := range s.blocks {
		for _, t := range b.slots {
			if t.lead != nil && t.lead.a == t && b.kind == scheme.RunRef {
				s.beyond = true
			}
		}
	}
}

// before is the order of two ends that both leave to the right.
func (s *spread) before(a, b *terminal) bool {
	if ra, rb := s.rank[a.of.id], s.rank[b.of.id]; ra != rb {
		return ra < rb
	}
	return a.end == scheme.FromEnd && b.end == scheme.ToEnd && a.of.id != b.of.id && s.indexOf(a.of) < s.indexOf(b.of)
}

func (s *spread) indexOf(b *block) int { return slices.Index(s.blocks, b) }

// reference is the block that stands for an end on another sheet: before what is entered from the left, else behind it.
func (s *spread) reference(t *terminal) *terminal {
	b := &block{place: s.other(t.slot).place, column: -1, wide: widths[scheme.Unresolved], first: true}
	far := &terminal{slot: s.other(t.slot), of: b, left: !t.left}
	b.slots = []*terminal{far}
	return far
}

// references lists the blocks that stand for other sheets, in the order of their leads.
func (s *spread) references() (list []*block) {
	for _, l := range s.leads {
		for _, t := range []*terminal{l.a, l.b} {
			if t.of.id == "" {
				list = append(list, t.of)
			}
		}
	}
	return list
}

// setColumns numbers the columns that the sheet has, and says how wide their words may be.
func (s *spread) setColumns() {
	ranks := map[int]bool{}
	for _, b := range s.blocks {
		ranks[b.column] = true
	}
	sorted := func() (list []int) {
		for r := range ranks {
			list = append(list, r)
		}
		slices.Sort(list)
		return list
	}
	for _, l := range s.leads { // a reference stands in a column that is there, where it can
		switch {
		case l.a.of.id == "":
			l.a.of.column = nearest(sorted(), l.b.of.column, -1)
		case l.b.of.id == "":
			l.b.of.column = nearest(sorted(), l.a.of.column, 1)
		default:
			continue
		}
		for _, t := range []*terminal{l.a, l.b} {
			ranks[t.of.column] = true
		}
	}
	order := sorted()
	s.columns = make([]column, len(order))
	for _, b := range append(slices.Clone(s.blocks), s.references()...) {
		b.column = slices.Index(order, b.column)
		s.columns[b.column].wide = max(s.columns[b.column].wide, b.wide)
		s.columns[b.column].runs = s.columns[b.column].runs || b.kind == scheme.RunRef
	}
	s.gaps = max(len(order)-1, 0)
	if s.beyond && s.gaps < len(order) {
		s.gaps++
	}
	s.setStrip(channelLeft * 3)
}

// nearest is the rank of the column before another or after it; where there is none, the next rank on that side, which makes one.
func nearest(order []int, rank, step int) int {
	i := slices.Index(order, rank) + step
	if i < 0 {
		return rank - 1
	}
	if i >= len(order) {
		return rank + 1
	}
	return order[i]
}

// setStrip divides the width that columns and channels leave.
func (s *spread) setStrip(channels float64) {
	room := s.field.Width() - channels*float64(max(s.gaps, 1))
	for _, c := range s.columns {
		room -= c.wide
	}
	s.strip = min(room/float64(max(s.gaps, 1)), widest)
	if s.gaps > 0 && s.strip < narrowest {
		s.fits, s.strip = false, max(s.strip, 20)
	}
}

// setWords breaks all words to their widths.
func (s *spread) setWords() {
	for _, b := range s.blocks {
		var lines []string
		width := b.wide - 3
		switch b.kind {
		case scheme.SupplyRef:
			b.head, lines = s.supplyWords(b.id)
			width = b.wide - 10
		case scheme.InletRef:
			b.head, lines = s.boardWords(b.id)
		case scheme.JunctionRef:
			b.head, lines = s.junctionWords(b.id)
			width = b.wide - 1
		default:
			b.head, lines = s.runWords(b.id)
			width = b.wide - runWordsAt
			b.data = layout.WrapAll(small, width-4, 5, s.dataWords(b.id)...)
		}
		if !b.first {
			b.head, lines, b.data = b.id+", continued", nil, nil
		}
		b.words = layout.WrapAll(small, width, 5, lines...)
	}
	for _, l := range s.leads {
		l.indent = layout.Wide(strong, layout.Fit(strong, l.id, s.strip*idShare)) + 1.6
		l.above = layout.WrapAll(small, s.strip-l.indent-2, 3, s.leadWords(l.id))
		l.below = layout.WrapAll(small, s.strip-4, 3, s.besideWords(l.id))
		l.over = overLine
		if s.switching(l.id) != "" {
			l.over = overContact
		}
		l.up = l.over + lineTop + float64(max(len(l.above), 1)-1)*layout.Pitch(small.Size)
		l.down = 1.1
		if len(l.below) > 0 {
			l.down = overLine + lineTop + lineFoot + float64(len(l.below)-1)*layout.Pitch(small.Size)
		}
		if l.a.of.id == "" || l.b.of.id == "" { // a reference has two lines about its row
			l.up, l.down = max(l.up, 3.2), max(l.down, 3.2)
		}
		if l.a.of.kind == scheme.InletRef { // the words of the way
			l.up = max(l.up, overLine+lineTop)
		}
	}
}

// placeAll gives every row its height on the sheet, from the top downwards.
func (s *spread) placeAll() {
	s.cursor, s.runs = s.field.Min.Y, s.field.Min.Y
	for _, b := range s.blocks {
		if b.kind != scheme.RunRef && !b.placed {
			if t := s.awaited(b); t != nil {
				s.placeReference(t)
			} else {
				s.place(b, 0)
			}
		}
		for t := s.awaited(b); t != nil; t = s.awaited(b) {
			s.placeReference(t)
		}
	}
	s.nexts = append(s.nexts, slices.DeleteFunc(slices.Clone(s.blocks), func(b *block) bool { return b.kind != scheme.RunRef || slices.Contains(s.nexts, b) })...)
	if s.cursor > s.field.Max.Y {
		s.fits = false
	}
}

// awaited is a slot of a block that is entered from another sheet and has no row yet.
func (s *spread) awaited(b *block) *terminal {
	for _, t := range b.slots {
		if t.left && t.lead.a.of.id == "" && !t.lead.a.begun {
			return t
		}
	}
	return nil
}

func (s *spread) placeReference(t *terminal) { s.lay(t.lead.a, 0) }

// place gives a block and all that hangs on it rows, its own row at least so low.
func (s *spread) place(b *block, row float64) {
	b.placed = true
	above := s.headroom(b)
	b.top = max(s.cursor, row-above)
	b.row = b.top + above
	s.cursor = b.top
	var entering, leaving []*terminal
	for _, t := range b.slots {
		switch {
		case t.left:
			entering = append(entering, t)
		case b.kind == scheme.InletRef && t.place == b.id+".in":
			if len(leaving) == 0 && s.cursor == b.top {
				s.cursor += s.boardHead(b)
			}
			s.lay(t, 0)
			b.row = max(b.row, t.y+3.5)
		default:
			leaving = append(leaving, t)
		}
	}
	if b.kind == scheme.InletRef {
		s.cursor = max(s.cursor, b.row+1.5)
	} else {
		s.cursor = max(s.cursor, b.row-4)
	}
	for i, t := range leaving {
		switch {
		case i == 0 && b.kind != scheme.InletRef:
			s.lay(t, b.row)
			b.row = t.y
			b.top = b.row - above
		default:
			s.lay(t, 0)
		}
	}
	for i, t := range entering {
		t.y, t.begun = b.row+2.6*float64(i), true
		s.cursor = max(s.cursor, t.y+2)
	}
	b.bottom = s.ownBottom(b)
	s.cursor = max(s.cursor, b.bottom) + blockGap
}

// headroom is from the top of a block to its own row.
func (s *spread) headroom(b *block) float64 {
	pitch := layout.Pitch(small.Size)
	switch b.kind {
	case scheme.SupplyRef:
		return pitch + 1 + converter/2
	case scheme.InletRef:
		return s.boardHead(b) + 3
	case scheme.JunctionRef:
		return pitch*float64(1+len(b.words)) + 1.6
	}
	return 3.4
}

// boardHead is the height of the words at the top of a board.
func (s *spread) boardHead(b *block) float64 {
	return layout.Pitch(small.Size)*float64(1+len(b.words)) + 1.5
}

// ownBottom is where a block ends that has its rows.
func (s *spread) ownBottom(b *block) float64 {
	low := b.row
	for _, t := range b.slots {
		low = max(low, t.y)
	}
	switch b.kind {
	case scheme.SupplyRef:
		lines := len(b.words) + 1 // and the mains
		return max(low+1.5, b.row+converter/2+float64(lines)*layout.Pitch(small.Size)+1.5)
	case scheme.InletRef:
		return low + 3
	}
	return low + 1.5
}

// lay gives a slot that leaves to the right its row, and with it what hangs on it.
func (s *spread) lay(t *terminal, row float64) {
	t.begun = true
	l := t.lead
	switch {
	case l == nil: // a way without a cable
		t.y = max(s.cursor+overLine+lineTop, row)
		s.cursor = t.y + 1.1 + rowGap
	case l.b == t: // the end of a cable that comes back from the right
		t.y = max(s.cursor+overLine+lineTop, row)
		s.cursor = t.y + 1.1 + rowGap
	default:
		y := max(s.cursor+l.up, row)
		child := l.b.of
		if l.b.left && child.id != "" && child.kind != scheme.RunRef && !child.placed {
			s.place(child, y)
			t.y = child.row
			l.b.y = child.row
			s.cursor = max(s.cursor, t.y+l.down+rowGap)
			s.first(child, l.b)
			return
		}
		if child.kind == scheme.RunRef && l.b.left {
			y = s.atRun(child, l.b, y)
		}
		if child.id == "" {
			if len(s.columns) > 0 && s.columns[child.column].runs { // it stands among runs
				y = max(y, s.runs+referenceHigh)
				s.runs = y + referenceHigh + 1.6
			}
			l.b.y, l.b.begun = y, true
		}
		t.y = y
		s.cursor = y + l.down + rowGap
	}
}

// first puts the slot by which a block was reached into its own row, and the others that enter it below.
func (s *spread) first(b *block, by *terminal) {
	n := 1
	for _, t := range b.slots {
		if t.left && t != by {
			t.y = b.row + 2.6*float64(n)
			n++
		}
	}
	by.y = b.row
}

// setTracks gives every cable that turns a place to turn at, so that those of one channel do not meet, and settles what stands where.
func (s *spread) setTracks() {
	for i := range s.columns {
		s.columns[i].turns = nil
	}
	for _, l := range s.leads {
		if !l.straight() {
			at := l.b.of.column
			if l.b.left {
				at--
			} else {
				at = max(at, l.a.of.column)
			}
			s.columns[at].turns = append(s.columns[at].turns, l)
		}
	}
	x := s.field.Min.X
	total, gaps := 0.0, 0
	for i := range s.columns {
		c := &s.columns[i]
		c.channel = channelLeft
		if n := len(c.turns); n > 0 {
			c.channel = 2*channelLeft + trackGap*float64(n-1)
		}
		if i < s.gaps {
			total += c.channel
			gaps++
		}
	}
	if excess := total - channelLeft*3*float64(gaps); excess > 0 {
		room := s.field.Width() - total
		for _, c := range s.columns {
			room -= c.wide
		}
		if gaps > 0 && room/float64(gaps) < s.strip-1e-9 { // rows were broken for a wider strip: tracks come nearer to each other
			if room/float64(gaps) < s.strip-8 {
				s.fits = false
			}
			squeeze := max((s.field.Width()-s.strip*float64(gaps)-s.widthOfColumns())/total, 0.2)
			for i := range s.columns {
				s.columns[i].channel *= squeeze
			}
		}
	}
	for i := range s.columns {
		c := &s.columns[i]
		c.x = x
		x += c.wide + s.strip + c.channel
		s.setTurns(c)
	}
	for _, b := range append(slices.Clone(s.blocks), s.references()...) {
		b.x = s.columns[b.column].x
		for _, t := range b.slots {
			t.x = s.edge(b, t)
		}
	}
}

func (s *spread) widthOfColumns() (sum float64) {
	for _, c := range s.columns {
		sum += c.wide
	}
	return sum
}

// setTurns orders the turns of a channel so that few lines cross: those that go down from the lowest to the highest, then those that go up.
func (s *spread) setTurns(c *column) {
	slices.SortStableFunc(c.turns, func(a, b *lead) int {
		downA, downB := a.b.y > a.a.y, b.b.y > b.a.y
		switch {
		case downA != downB && downA:
			return -1
		case downA != downB:
			return 1
		case downA:
			return cmp.Compare(b.a.y, a.a.y)
		}
		return cmp.Compare(a.a.y, b.a.y)
	})
	from := c.x + c.wide + s.strip + channelLeft*c.channel/max(2*channelLeft+trackGap*float64(len(c.turns)-1), 1)
	step := 0.0
	if n := len(c.turns); n > 1 {
		step = (c.channel - 2*(from-c.x-c.wide-s.strip)) / float64(n-1)
	}
	for i, l := range c.turns {
		l.track = from + float64(i)*step
	}
}

// edge is where a slot of a block stands.
func (s *spread) edge(b *block, t *terminal) float64 {
	switch b.kind {
	case scheme.SupplyRef:
		return b.x + b.wide - 1
	case scheme.InletRef:
		if t.left {
			return b.x
		}
		return b.x + b.wide
	case scheme.JunctionRef, scheme.RunRef:
		return b.x + barAt
	}
	if t.left {
		return b.x
	}
	return b.x + b.wide
}

// barAt is from the left edge of a junction or run to its bar.
const barAt = 1.5
