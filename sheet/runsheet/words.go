package runsheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
)

// A benchWords is a paragraph of the sheet: a heading, and what stands under it; with a box to tick where something is to be done or asked.
type benchWords struct {
	heading string
	says    []string
	tick    bool
}

// told is the words of the sheet.
func (s *runSheet) told() []benchWords {
	return []benchWords{
		{heading: "Tape", says: s.tapeWords()},
		{heading: "Polarity", says: []string{
			"+ is drawn solid, − long-dashed, data thin with an arrow. Check the print on the tape: the order of pads differs by reel.",
			"The arrow printed on the tape points away from data-in, as drawn.",
		}},
		{heading: "Data", says: s.dataWords()},
		{heading: "Mounting", says: s.mountWords()},
		{heading: "Ends and sealing", says: s.endWords(), tick: true},
		{heading: "Bench checks, before any cable is connected", says: s.checkWords(), tick: true},
	}
}

func (s *runSheet) tapeWords() []string {
	every := s.tape.CutEvery
	marks := fmt.Sprintf("Pixels %s apart (%s); cut marks every %s, %s. Pixels count from 0 at data-in, and the mark of a pixel lies just before it.", s.apart(1), layout.Nominal(s.tape.Pixels.Is), eachOf(every, "pixel"), s.apart(every))
	says := []string{s.tape.Title + " (" + s.run.Tape + ")" + onReel(s.run.Reel) + ".", marks}
	if _, count := s.factory(); count > 0 {
		says = append(says, fmt.Sprintf("Factory joints every %s, counted from data-in: %d of them (%s). A reel may begin elsewhere: look where they are, and lay no feed on one.", layout.Nominal(s.tape.JointEvery.Is), count, s.tape.JointEvery.Basis))
	} else if !s.tape.JointEvery.Given {
		says = append(says, "Whether the tape has factory joints is not stated: look for them.")
	}
	decimals := "whole millimetre"
	if s.pitch()*float64(s.tape.CutEvery) < 5 {
		decimals = "tenth of a millimetre"
	}
	return append(says, "Positions are pixels times that distance, to the nearest "+decimals+", from the data-in end. The marks on the tape decide: count pixels, and cut and solder at the mark nearest to the millimetres given.")
}

// apart is the length of some pixels as it stands on paper, to a hundredth of a millimetre.
func (s *runSheet) apart(pixels int) string {
	return layout.Nominal(layout.Written(strconv.FormatFloat(float64(pixels)*s.pitch(), 'f', 2, 64) + " mm"))
}

func onReel(name string) string {
	if name == "" {
		return ""
	}
	return ", reel " + name
}

func eachOf(n int, what string) string {
	if n == 1 {
		return what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// dataWords say where data comes from and goes to.
func (s *runSheet) dataWords() []string {
	says := s.secondLine()
	if lead, ok := s.into(); ok {
		says = append(says, s.leadWords(lead, "In: ", "from "+s.st.Scheme.Data[lead].From.String()))
	} else {
		says = append(says, "In: no lead ends here. What sends to it?")
	}
	if port, before := s.port(); port != "" {
		says = append(says, fmt.Sprintf("Its first pixel is number %d of port %s, its last number %d, counted from 0.", before, port, before+s.run.Count-1))
	}
	if lead, ok := s.onward(); ok {
		return append(says, s.leadWords(lead, "Out: ", "to "+s.st.Scheme.Data[lead].To.String()))
	}
	return append(says, "Out: the last run of its chain; nothing is joined to data-out.")
}

// mountWords say where the ends of the run are on the plan.
func (s *runSheet) mountWords() []string {
	points := s.st.Scheme.Drawing[s.id].Points
	if len(points) < 2 {
		return []string{"Where it is mounted, and at which end data comes in, is not drawn. Ask."}
	}
	at := func(p [2]float64) string {
		return "x " + drafting.Coordinate(p[0]) + ", y " + drafting.Coordinate(p[1])
	}
	says := []string{"On the plan, x to the right and y up, its data-in end is at " + at(points[0]) + ", its data-out end at " + at(points[len(points)-1]) + "."}
	if line := s.st.Scheme.Drawing[s.id].Length(); scheme.Disagree(line, *s.run.Length) {
		says = append(says, "The drawing has it otherwise: its line there is "+s.mm(float64(line)*float64(s.tape.Pixels.Is))+" long, its tape "+s.mm(float64(s.run.Count))+". Ask before you cut.")
	}
	switch turns := len(s.bent()); {
	case turns == 0:
	case turns > mostBends:
		says = append(says, fmt.Sprintf("It bends %d times, as the plan draws it.", turns))
	default:
		says = append(says, "It bends where the table of places says so, at the share of its length at which it does on the plan; "+atMarks)
	}
	return says
}

// mostBends is up to how many bends of a run are listed. A curve is drawn with many.
const mostBends = 12

// atMarks is what to mind of bends (common practice, no source).
const atMarks = "bend between pixels, never across a chip or a joint."

// bent are the bends of the run as it is drawn.
func (s *runSheet) bent() []drafting.Bend { return drafting.Bends(s.st.Scheme.Drawing[s.id].Points) }

// bendRows are the rows of the table for the bends from a place to another, both in pixels from data-in.
func (s *runSheet) bendRows(from, to float64) (rows [][5]string) {
	list := s.bent()
	if len(list) > mostBends {
		return nil
	}
	for _, b := range list {
		at := b.Share * float64(s.run.Count)
		if at <= from || at > to {
			continue
		}
		spot := runSpot{at: at, mark: -1}
		if m := math.Round(at); math.Abs(at-m) < atMark {
			spot.mark = int(m)
		}
		side := "to the left"
		if b.Turn < 0 {
			side = "to the right"
		}
		rows = append(rows, [5]string{s.mm(at), s.pixel(spot), fmt.Sprintf("bend, %.0f° %s", math.Abs(b.Turn), side), "", "seen from above, looking away from data-in"})
	}
	return rows
}

// secondLine says what is beside the data line on the tape; the rules of signals judge the leads.
func (s *runSheet) secondLine() (says []string) {
	protocol, ok := parts.Get[parts.Protocol](s.st.Scheme.Library, s.tape.Protocol)
	if ok && protocol.Clocked {
		says = append(says, "A clock has a pad and a core of its own beside data: exchange them nowhere.")
	}
	if ok && protocol.Backup {
		says = append(says, "A backup line has a pad of its own beside data: exchange them nowhere.")
	}
	return says
}

// leadWords is a data lead with what is in it.
func (s *runSheet) leadWords(id, begin, where string) string {
	d := s.st.Scheme.Data[id]
	words := begin + s.laid(id)
	if d.Length != nil {
		words += ", " + layout.Nominal(*d.Length)
	}
	words += ", " + where + "; cores: " + drafting.CoreWords(s.st.Scheme, id)
	if port, ok := s.st.Scheme.PortPart(d.From); ok && port.Series.Given {
		words += "; " + layout.Nominal(port.Series.Is) + " in the port"
	}
	if d.Series > 0 {
		words += "; " + layout.Nominal(d.Series) + " in the data core where it begins"
	}
	if d.Power {
		words += "; " + drafting.PastFuses
	}
	return layout.Join("; ", words, drafting.BufferWords(s.st.Scheme, id)) + "."
}

// endWords are what closes the ends, and questions where nobody says.
func (s *runSheet) endWords() []string {
	var says []string
	ip := s.st.Scheme.RunIP(s.id)
	if ip == "" {
		says = append(says, "Degree of protection of the tape as installed: not stated. Ask.")
	} else {
		says = append(says, "Tape as installed: IP"+ip+". A cut end has it again only when it is closed as the maker of the tape says.")
	}
	cables := 0
	for _, spot := range s.spots {
		cables += len(spot.feeds)
	}
	leads := 0
	for _, of := range []func() (string, bool){s.into, s.onward} {
		if _, ok := of(); ok {
			leads++
		}
	}
	entries := fmt.Sprintf("%s and %s", study.Counted(cables, "cable end"), study.Counted(leads, "data lead"))
	switch s.st.Scheme.Site.Exposure {
	case "":
		says = append(says, "How wet the place is: not stated. Ask before the ends are closed.")
	case parts.Dry:
		says = append(says, "Dry place. Cover bare pads and joints; relieve "+entries+" of pull.")
	default:
		says = append(says, study.Capital(string(s.st.Scheme.Site.Exposure))+": end caps on both ends, of which kind? The scheme does not say.",
			"Glands or filled sleeves for "+entries+": which? The scheme does not say.")
	}
	if s.st.Scheme.Site.Exposure == "" {
		says = append(says, "End caps, and glands for "+entries+": which? The scheme does not say.")
	}
	return says
}

// chosen is a part by its name, or that a part of that kind is not chosen yet.
func (s *runSheet) chosen(kind, part string) string {
	if !strings.HasPrefix(part, kind+"/") {
		return kind + " not chosen"
	}
	return part
}

// checkWords are what a meter should show.
func (s *runSheet) checkWords() []string {
	says := []string{"Each piece of each rail from end to end as in the table of pieces, which is of tape at 20" + layout.Thin + "°C and of a meter that errs by nothing: the wider bands of the commissioning sheet have both in them. Short the tips of the meter first and take that off; below 0.5" + layout.Thin + "Ω use four wires."}
	if len(s.run.Cuts) > 0 {
		says = append(says, "Across each cut, on the rail that is cut: no continuity. On the other rail: continuity still.")
	}
	return append(says,
		"+ to −: no short, in either direction. Chips and capacitors make a reading climb; one that stays near nought is a short.",
		"+ to data and − to data, at every pad that was soldered: no short.",
		"Each feed: its + core to the + pad and its − core to the − pad, by the print, before it is energised for the first time.",
		"How to measure is common practice, no source.")
}

// landed is a cable in two lines beside the drawing.
func (s *runSheet) landed(l runLanding) [2]string {
	c := s.st.Scheme.Cables[l.id]
	from := "from " + l.far.String()
	if guard := s.guarded(l); guard != "" {
		from += ", " + guard
	}
	side := ""
	if l.before {
		side = ", before the cut"
	}
	return [2]string{l.id + "  " + drafting.PoleWords(c.Pole) + side, drafting.CopperWords(s.st.Scheme, s.style, l.id) + ", " + from}
}

// capacitor is one in a line.
func (s *runSheet) capacitor(id string) string {
	c, ok := parts.Get[parts.Capacitor](s.st.Scheme.Library, s.st.Scheme.Capacitors[id].Part)
	if !ok {
		return id + ", capacitor not chosen"
	}
	micro := strconv.FormatFloat(math.Round(float64(c.Capacitance.Is)*1e12)/1e6, 'f', -1, 64) // as they are printed and sold
	return id + ", " + layout.Nominal(layout.Written(micro+" µF")) + ", " + layout.Nominal(c.VoltsMax.Is)
}

// rests says on what the numbers rest.
func (s *runSheet) rests() string {
	rests := fmt.Sprintf("Resistances at 20%s°C with all spreads together: rail %s (%s)", layout.Thin, layout.Nominal(s.tape.Rail.Is), s.tape.Rail.Basis)
	if s.tape.RailReturn.Given {
		rests += fmt.Sprintf(", return %s (%s)", layout.Nominal(s.tape.RailReturn.Is), s.tape.RailReturn.Basis)
	}
	if s.tape.Joint.Given {
		rests += fmt.Sprintf(", joint %s (%s)", layout.Nominal(s.tape.Joint.Is), s.tape.Joint.Basis)
	}
	return rests + fmt.Sprintf("; pixels to a metre (%s). Nothing is energised at the bench. Mains work is a licensed electrician's; local rules come first.", s.tape.Pixels.Basis)
}

// described is the sheet in sentences.
func (s *runSheet) described() string {
	say := []string{fmt.Sprintf("Run %s, %d pixels of %s, cut to %s and drawn from its data-in end on the left.", s.id, s.run.Count, s.run.Tape, s.mm(float64(s.run.Count)))}
	for _, row := range s.rows() {
		say = append(say, strings.Join([]string{row[0], row[1], row[2]}, " ")+strings.TrimSuffix(": "+row[3], ": ")+".")
	}
	return strings.ReplaceAll(strings.Join(say, " "), layout.Thin, " ")
}

// rows are the table of everything at its place: millimetres, pixel, what, cable and fuse, note.
func (s *runSheet) rows() [][5]string {
	var rows [][5]string
	bent := 0.0
	for _, at := range s.spots {
		rows = append(rows, s.bendRows(bent, at.at)...)
		bent = max(bent, at.at)
		mm, pixel := s.mm(at.at), s.pixel(at)
		add := func(what, by string, notes ...string) {
			if s.atFactory(at.at) {
				notes = append(notes, "a factory joint is here")
			}
			rows = append(rows, [5]string{mm, pixel, what, by, layout.Join("; ", notes...)})
		}
		if at.mark == 0 {
			s.addLead(s.into, "data-in end", add)
		}
		cut := at.cut != ""
		for _, l := range at.feeds {
			if cut && !l.before {
				s.addCut(at, add)
				cut = false
			}
			by := s.copper(l.id) + ", its end “" + string(l.end) + "”; from " + l.far.String()
			if guard := s.guarded(l); guard != "" {
				by += ", " + guard
			}
			add("solder "+drafting.PoleWords(s.st.Scheme.Cables[l.id].Pole), by, s.landingNotes(at, l)...)
		}
		if cut {
			s.addCut(at, add)
		}
		for _, id := range at.capacitors {
			add("capacitor, + and −", s.capacitor(id), s.st.Scheme.Capacitors[id].Label)
		}
		if at.soldered {
			add("soldered joint, all pads", "", "+ to +, data to data, − to −")
		}
		if at.mark == s.run.Count {
			what := "data-out end: cut off"
			if _, on := s.onward(); on {
				what = "data-out end: data goes on"
			}
			s.addLead(s.onward, what, add)
		}
	}
	return rows
}

func (s *runSheet) addCut(at runSpot, add func(what, by string, notes ...string)) {
	rail, leave := "cut + and −", "data stays whole"
	switch at.cut {
	case scheme.Plus:
		rail, leave = "cut + only", "− and data stay whole"
	case scheme.Return:
		rail, leave = "cut − only", "+ and data stay whole"
	}
	add(rail, "", "at the mark nearest", leave)
}

func (s *runSheet) landingNotes(at runSpot, l runLanding) []string {
	c := s.st.Scheme.Cables[l.id]
	var notes []string
	switch {
	case l.before:
		notes = append(notes, "on the data-in side of the cut")
	case at.cut != "":
		notes = append(notes, "on the data-out side of the cut")
	}
	if perPole := c.CoresPerPole; perPole > 1 {
		notes = append(notes, fmt.Sprintf("%d cores to each pad", perPole))
	}
	connector := c.Ends.From
	if l.end == scheme.ToEnd {
		connector = c.Ends.To
	}
	if connector != "" {
		notes = append(notes, "by "+s.chosen("connector", connector))
	}
	return append(notes, c.Label)
}

// leadOf is a data lead at an end, in the table.
func (s *runSheet) leadOf(of func() (string, bool)) string {
	lead, ok := of()
	if !ok {
		return "no data lead"
	}
	d := s.st.Scheme.Data[lead]
	words := s.laid(lead) + ", from " + d.From.String()
	if d.From.Element == s.id && d.From.Kind == scheme.RunRef {
		words = s.laid(lead) + ", to " + d.To.String()
	}
	if d.Power {
		words += "; " + drafting.PastFuses
	}
	return words + "; " + drafting.CoreWords(s.st.Scheme, lead)
}

// addLead adds the row of an end of the run to the table, its data lead core by core, and that of a buffer which stands there.
func (s *runSheet) addLead(of func() (string, bool), what string, add func(what, by string, notes ...string)) {
	lead, ok := of()
	add(what, s.leadOf(of))
	if ok && s.buffered(lead) {
		d := s.st.Scheme.Data[lead]
		add("buffer, between pad and "+lead, s.chosen("buffer", d.Buffer.Part), drafting.BufferFeed(s.st.Scheme, d))
	}
}

// buffered reports whether the buffer of a data lead stands at the run.
func (s *runSheet) buffered(lead string) bool {
	d := s.st.Scheme.Data[lead]
	return d.Buffer != nil && d.End(d.Buffer.At).Element == s.id
}

// pieceRows are the table of the pieces of both rails.
func (s *runSheet) pieceRows() [][5]string {
	var rows [][5]string
	for _, p := range s.pieces {
		name := "+"
		if p.pole == scheme.Return {
			name = "−"
		}
		is, low, high := s.ohms(p)
		pixels := fmt.Sprintf("px%s%d to %d", layout.Thin, p.from, p.to-1)
		ohms := layout.Quantity(is)
		if low != high {
			ohms += ", " + layout.Quantity(low) + " to " + layout.Quantity(high)
		}
		rows = append(rows, [5]string{name, pixels, s.mm(float64(p.to - p.from)), p.by, ohms})
	}
	return rows
}

// key says what the signs of the drawing are.
func (s *runSheet) key() []layout.Entry {
	dot := draw.Disc(draw.Ink, draw.Point{}, 0.9)
	ring := []draw.Path{draw.Disc(draw.Ink, draw.Point{}, 0.9), draw.Disc(draw.Paper, draw.Point{}, 0.55)}
	entries := []layout.Entry{
		layout.Shown(layout.Stroke(tapePlusPen, dot), "+ rail; dot: solder here"),
		layout.Shown(layout.Stroke(tapeReturnPen, ring...), "− rail; ring: solder here"),
		layout.Shown(func(at draw.Point) []draw.Path {
			return []draw.Path{draw.Line(tapeDataPen, at, draw.Point{X: at.X + 12, Y: at.Y}), layout.Head(draw.Blueprint, at, draw.Point{X: at.X + 8, Y: at.Y})}
		}, "data, away from data-in"),
	}
	if len(s.run.Cuts) > 0 {
		entries = append(entries, layout.Shown(func(at draw.Point) []draw.Path {
			y := at.Y
			return append([]draw.Path{
				draw.Line(tapePlusPen, at, draw.Point{X: at.X + 6 - cutGap, Y: y}), draw.Line(tapePlusPen, draw.Point{X: at.X + 6 + cutGap, Y: y}, draw.Point{X: at.X + 12, Y: y}),
			}, cutStrokes(draw.Point{X: at.X + 6, Y: y})...)
		}, "cut this rail; the others stay whole"))
	}
	if _, count := s.factory(); count > 0 && s.band.factory {
		entries = append(entries, layout.Shown(func(at draw.Point) []draw.Path {
			return append([]draw.Path{draw.Line(tapePlusPen, at, draw.Point{X: at.X + 12, Y: at.Y})}, factoryTick(at.X+6, at.Y)...)
		}, "factory joint"))
	}
	if len(s.run.Joints) > 0 {
		entries = append(entries, layout.Shown(func(at draw.Point) []draw.Path {
			return append([]draw.Path{draw.Line(tapePlusPen, at, draw.Point{X: at.X + 12, Y: at.Y})}, solderTick(at.X+6, at.Y)...)
		}, "soldered joint"))
	}
	for _, of := range []func() (string, bool){s.into, s.onward} {
		if lead, ok := of(); ok && s.buffered(lead) {
			entries = append(entries, layout.Shown(func(at draw.Point) []draw.Path {
				return []draw.Path{draw.Line(tapeDataPen, at, draw.Point{X: at.X + 12, Y: at.Y}), drafting.BufferSymbol(draw.Point{X: at.X + 6, Y: at.Y})}
			}, "buffer in the data lead"))
			break
		}
	}
	if s.band.pixels {
		entries = append(entries, layout.Shown(func(at draw.Point) []draw.Path {
			return []draw.Path{pixelBox(draw.Point{X: at.X + 6, Y: at.Y})}
		}, "pixel"))
	}
	return append(entries, layout.Noted(s.band.tickWords(s.tape.CutEvery)))
}
