package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// open is what a part is called that is still to be chosen.
const open = "choose"

// together keeps numbers of a title with their units.
func together(title string) string { return amount.ReplaceAllString(title, "${1}"+layout.Thin+"${2}") }

var amount = regexp.MustCompile(`(\d) ((?:V|A|W)\b|mm²|Ω)`)

// joinedBy sets phrases one after the other, those left out that are empty.
func joinedBy(between string, phrases ...string) string {
	var list []string
	for _, p := range phrases {
		if p != "" {
			list = append(list, p)
		}
	}
	return strings.Join(list, between)
}

// bareName is the name of a part without its kind.
func bareName(part string) string {
	if _, name, is := strings.Cut(part, "/"); is {
		return name
	}
	return part
}

// poleWords are the poles of a cable, or the pads that it lands on.
func poleWords(p scheme.Pole) string {
	switch p {
	case scheme.Plus:
		return "+"
	case scheme.Return:
		return "−"
	}
	return "+ and −"
}

// stationWords are a place on a run as its bar says it.
func (d *diagrammed) stationWords(run string, at scheme.Station) string {
	text := at.String()
	tape := d.s.Tape(run)
	if tape == nil || at.Start || at.End {
		return text
	}
	return text + ", " + layout.Nominal(unit.Metre(float64(at.Mark)/float64(tape.Pixels.Is)))
}

// heldIn says in which enclosure a thing is.
func (d *diagrammed) heldIn(id string) string {
	box := d.boxes[id]
	if box == "" {
		return ""
	}
	return joinedBy(", ", "in "+box, d.s.Enclosures[box].Label)
}

// copperWords are what a cable of the scheme has for copper, in the same words on every sheet: all cores that are laid, with their section,
// and what of them is used where that is not all, or not both poles: 2 × 1.5 mm², + alone.
func copperWords(s *scheme.Scheme, style Style, id string) string {
	c := s.Cables[id]
	laid, cores := laidWords(s, style, c.Part)
	perPole := max(c.CoresPerPole, 1)
	switch used := poles(c) * perPole; {
	case cores == 0:
		return laid
	case poles(c) == 2 && used == cores:
		return laid
	case poles(c) == 2:
		return fmt.Sprintf("%s, %d used", laid, used)
	case perPole > 1:
		return fmt.Sprintf("%s, %s alone in %d", laid, poleWords(c.Pole), perPole)
	}
	return laid + ", " + poleWords(c.Pole) + " alone"
}

// laidWords are the cores of a cable by its part, and how many they are: none where it is not chosen.
func laidWords(s *scheme.Scheme, style Style, part string) (words string, cores int) {
	c, ok := parts.Get[parts.Cable](s.Library, part)
	if !ok {
		return "cable not chosen", 0
	}
	return fmt.Sprintf("%d%s×%s%s", c.Cores, layout.Thin, layout.Thin, style.Section(c.Area.Is)), c.Cores
}

// poles is how many poles a cable has.
func poles(c scheme.Cable) int {
	if c.Pole == scheme.Plus || c.Pole == scheme.Return {
		return 1
	}
	return 2
}

// leadWords are what stands over the line of a cable, after its identifier: copper, length, and the current in the heaviest state.
func (d *diagrammed) leadWords(id string) string {
	c := d.s.Cables[id]
	length := ""
	if c.Length != nil {
		length = layout.Nominal(*c.Length)
	}
	amps := ""
	if d.amps[id] > 0 {
		amps = layout.Quantity(d.amps[id])
	}
	return joinedBy(", ", copperWords(d.s, d.style, id), length, amps)
}

// besideWords are what stands under it: its inline fuse, contactors, connectors, and what it is called.
func (d *diagrammed) besideWords(id string) string {
	c := d.s.Cables[id]
	phrases := []string{}
	if c.Fuse != "" {
		at := c.From
		if c.FuseAt == scheme.ToEnd {
			at = c.To
		}
		phrases = append(phrases, "fuse "+d.fuseWords(c.Fuse)+" at "+at.String())
	}
	if q := d.switching(id); q != "" {
		contactor, words := d.s.Contactors[q], q+" not chosen"
		if part, ok := parts.Get[parts.Relay](d.s.Library, contactor.Part); ok {
			words = q + " " + layout.Nominal(part.Amps.Is)
		}
		phrases = append(phrases, joinedBy(", ", words, contactor.Label))
	}
	for i, name := range []string{c.Ends.From, c.Ends.To} {
		if name == "" {
			continue
		}
		words := ends(c)[i].String() + ": "
		if part, ok := parts.Get[parts.Connector](d.s.Library, name); ok {
			words += bareName(name) + ", " + layout.Nominal(part.Amps.Is)
		} else {
			words += "connector not chosen"
		}
		phrases = append(phrases, words)
	}
	return joinedBy("; ", append(phrases, c.Label)...)
}

// switching is the contactor in a cable, which has one at the most; "" where there is none.
func (d *diagrammed) switching(cable string) string {
	for id, q := range d.s.Contactors {
		if q.In == cable {
			return id
		}
	}
	return ""
}

// fuseWords are the rating of a fuse and its kind.
func (d *diagrammed) fuseWords(part string) string {
	f, ok := parts.Get[parts.Fuse](d.s.Library, part)
	if !ok {
		return "not chosen"
	}
	return joinedBy(" ", layout.Nominal(f.Rating.Is), fuseKind(part, string(f.Holder)))
}

// fuseKind is the kind of a fuse: its holder, and of one in a cable its name, which tells more: inline maxi of fuse/inline-maxi-30A.
func fuseKind(part, holder string) string {
	_, name, _ := strings.Cut(part, "/")
	at := strings.LastIndexByte(name, '-')
	if kind := strings.ReplaceAll(name[:max(at, 0)], "-", " "); at > 0 && holder == "inline" && strings.HasPrefix(kind, holder) && strings.HasSuffix(name, "A") {
		return kind
	}
	return holder
}

// wayWords are what stands before and behind the fuse of a way.
func (d *diagrammed) wayWords(way string, spare bool) (name, guarded string) {
	name = way
	if part, ok := d.s.WayPart(way); ok {
		name += "  " + layout.Nominal(part.Amps.Is)
	}
	switch fuse := d.s.Fuses[way]; {
	case fuse == "" && spare:
		guarded = "spare: no fuse fitted"
	case fuse == "" && !d.bridges(way):
		guarded = "no fuse: " + poleWords(scheme.Return) + " alone"
	case fuse == "":
		guarded = "no fuse: bridged"
	case fuse == open:
		guarded = "fuse not chosen"
	default:
		guarded = d.fuseWords(fuse)
	}
	if spare && d.s.Fuses[way] != "" {
		guarded = "spare, " + guarded
	}
	return name, guarded
}

// bridges reports whether the positive of any cable lands on a way that has no fuse.
func (d *diagrammed) bridges(way string) bool {
	return slices.ContainsFunc(d.slots[elementOf(way)], func(s slot) bool {
		return s.place == way && s.cable != "" && bridged(d.s, d.ref(s), s.cable)
	})
}

// headed is an identifier with its label.
func headed(id, label string) string { return joinedBy("  ", id, label) }

func (d *diagrammed) supplyWords(id string) (head string, lines []string) {
	t := d.s.Supplies[id]
	part, ok := parts.Get[parts.Supply](d.s.Library, t.Part)
	if !ok {
		return headed(id, t.Label), []string{"supply not chosen", d.heldIn(id)}
	}
	set := "set to " + layout.Nominal(d.s.SetPoint(id))
	return headed(id, t.Label), []string{together(part.Title), set + ", rated " + layout.Nominal(part.Amps.Is), d.heldIn(id)}
}

func (d *diagrammed) boardWords(id string) (head string, lines []string) {
	b := d.s.Boards[id]
	part, ok := d.s.BoardPart(id)
	if !ok {
		return headed(id, b.Label), []string{d.unfused(id), "board not chosen", d.heldIn(id)}
	}
	unfed := ""
	if len(d.slots[id]) == 0 || d.slots[id][0].place != id+".in" {
		unfed = "no cable lands on it"
	}
	return headed(id, b.Label), []string{d.unfused(id), together(part.Title), joinedBy("; ", "inlet "+layout.Nominal(part.Inlet.Amps.Is), unfed, d.heldIn(id))}
}

func (d *diagrammed) junctionWords(id string) (head string, lines []string) {
	x := d.s.Junctions[id]
	part, ok := parts.Get[parts.Junction](d.s.Library, x.Part)
	if !ok {
		return headed(id, x.Label), []string{"junction not chosen", d.heldIn(id)}
	}
	return headed(id, x.Label), []string{bareName(x.Part) + ", " + layout.Nominal(part.Amps.Is), d.heldIn(id)}
}

func (d *diagrammed) runWords(id string) (head string, lines []string) {
	run := d.s.Runs[id]
	volts, pixels := "", strconv.Itoa(run.Count)+" pixels"
	length := ""
	if tape := d.s.Tape(id); tape != nil {
		volts = layout.Nominal(tape.Volts.Is)
		length = layout.Nominal(unit.Metre(float64(run.Count) / float64(tape.Pixels.Is)))
	}
	fed := ""
	if len(d.slots[id]) == 0 {
		fed = "no cable feeds it"
	}
	return headed(id, run.Label), []string{joinedBy(", ", volts, pixels, length), fed}
}

// pastFuses is what a data lead does that has the supply in its spare cores.
const pastFuses = "carries the supply past the fuses"

// dataWords are the data leads at a run, the one that enters it first.
func (d *diagrammed) dataWords(id string) (list []string) {
	for _, lead := range d.into[id] {
		list = append(list, d.dataLead(lead)+" from "+d.s.Data[lead].From.String()+d.powered(lead))
	}
	for _, lead := range d.from[id] {
		list = append(list, d.dataLead(lead)+" to "+d.s.Data[lead].To.String()+d.powered(lead))
	}
	return list
}

// powered says of a data lead that it carries the supply, where it does.
func (d *diagrammed) powered(lead string) string {
	if d.s.Data[lead].Power {
		return ": " + pastFuses
	}
	return ""
}

// unfused is what passes the fuses of a board: the data leads from it that carry the supply, and the bridged ways that are in use.
func (d *diagrammed) unfused(board string) string {
	var leads, ways []string
	for _, id := range scheme.IDs(d.s.Data) {
		if lead := d.s.Data[id]; lead.Power && lead.From.Kind == scheme.PortRef && lead.From.Element == board {
			leads = append(leads, id+" "+pastFuses+", to "+lead.To.Element)
		}
	}
	for _, s := range d.slots[board] {
		if s.cable != "" && s.place != board+".in" && bridged(d.s, d.ref(s), s.cable) && !slices.Contains(ways, s.place) {
			ways = append(ways, s.place)
		}
	}
	if len(ways) > 0 {
		leads = append(leads, "bridged, with no fuse: "+some(ways))
	}
	return strings.Join(leads, "; ")
}

// bridged reports whether the positive of a cable lands on a way that has no fuse.
func bridged(s *scheme.Scheme, at scheme.Ref, cable string) bool {
	return at.Kind == scheme.WayRef && s.Fuses[at.String()] == "" && s.Cables[cable].Pole.Has(scheme.Plus)
}

func (d *diagrammed) dataLead(id string) string {
	length := ""
	if l := d.s.Data[id].Length; l != nil {
		length = layout.Nominal(*l)
	}
	return joinedBy(" ", id, length)
}

// small is the text of diagrams.
var (
	small  = draw.Text{Size: draw.Smallest, Tone: draw.Ink}
	strong = draw.Text{Size: draw.Smallest, Tone: draw.Ink, Face: draw.SemiBold}
	quiet  = draw.Text{Size: draw.Smallest, Tone: draw.Graphite}
)

// put sets a text at a place.
func put(like draw.Text, words string, x, y float64) draw.Text {
	like.Words, like.At = words, draw.Point{X: x, Y: y}
	return like
}

// wrapped breaks each phrase into lines of a width, at most so many in all; the last is cut where there were more.
func wrapped(like draw.Text, width float64, most int, phrases ...string) (lines []string) {
	for _, p := range phrases {
		lines = append(lines, layout.Wrap(like, p, width)...)
	}
	if len(lines) > most {
		lines = append(lines[:most-1], layout.Clip(like, lines[most-1]+" …", width))
	}
	return lines
}
