package wiring

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
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// open is what a part is called that is still to be chosen.
const open = "choose"

// together keeps numbers of a title with their units.
func together(title string) string { return amount.ReplaceAllString(title, "${1}"+layout.Thin+"${2}") }

var amount = regexp.MustCompile(`(\d) ((?:V|A|W)\b|mm²|Ω)`)

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
	return layout.Join(", ", "in "+box, d.s.Enclosures[box].Label)
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
	if out := d.out[id]; out > 0 {
		amps += " (+" + layout.Thin + layout.Quantity(out) + ")"
	}
	return layout.Join(", ", drafting.CopperWords(d.s, d.style, id), length, amps)
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
		phrases = append(phrases, layout.Join(", ", words, contactor.Label))
	}
	for i, name := range []string{c.Ends.From, c.Ends.To} {
		if name == "" {
			continue
		}
		words := ends(c)[i].String() + ": "
		if part, ok := parts.Get[parts.Connector](d.s.Library, name); ok {
			words += drafting.BareName(name) + ", " + layout.Nominal(part.Amps.Is)
		} else {
			words += "connector not chosen"
		}
		phrases = append(phrases, words)
	}
	return layout.Join("; ", append(phrases, c.Label)...)
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
	return layout.Join(" ", layout.Nominal(f.Rating.Is), fuseKind(part, string(f.Holder)))
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
		guarded = "no fuse: " + drafting.PoleWords(scheme.Return) + " alone"
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
		return s.place == way && s.cable != "" && drafting.Bridged(d.s, d.ref(s), s.cable)
	})
}

// headed is an identifier with its label.
func headed(id, label string) string { return layout.Join("  ", id, label) }

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
	return headed(id, b.Label), []string{d.unfused(id), together(part.Title), layout.Join("; ", "inlet "+layout.Nominal(part.Inlet.Amps.Is), unfed, d.heldIn(id))}
}

func (d *diagrammed) junctionWords(id string) (head string, lines []string) {
	x := d.s.Junctions[id]
	part, ok := parts.Get[parts.Junction](d.s.Library, x.Part)
	if !ok {
		return headed(id, x.Label), []string{"junction not chosen", d.spliceWords(id), d.heldIn(id)}
	}
	return headed(id, x.Label), []string{drafting.BareName(x.Part) + ", " + layout.Nominal(part.Amps.Is), d.spliceWords(id), d.heldIn(id)}
}

// spliceWords say how many splices a junction is: one for each pole.
func (d *diagrammed) spliceWords(id string) string {
	var names []string
	for _, splice := range drafting.Splices(d.s, id) {
		names = append(names, splice.Name)
	}
	switch len(names) {
	case 0:
		return "no cable lands on it"
	case 1:
		return "1 splice: " + names[0]
	}
	return fmt.Sprintf("%d splices: %s", len(names), study.Several(names))
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
	return headed(id, run.Label), []string{layout.Join(", ", volts, pixels, length), fed}
}

// dataWords are the data leads at a run, the one that enters it first.
func (d *diagrammed) dataWords(id string) (list []string) {
	for _, lead := range d.into[id] {
		list = append(list, layout.Join("; ", d.dataLead(lead)+" from "+d.s.Data[lead].From.String()+d.powered(lead), d.bufferWords(lead, id)))
	}
	for _, lead := range d.from[id] {
		list = append(list, layout.Join("; ", d.dataLead(lead)+" to "+d.s.Data[lead].To.String()+d.powered(lead), d.bufferWords(lead, id)))
	}
	return list
}

// bufferWords are the buffer of a data lead as its end at a run tells it: one that stands there, or at the port at the other end, which has no line of
// its own. One at another run is told there.
func (d *diagrammed) bufferWords(lead, run string) string {
	l := d.s.Data[lead]
	if l.Buffer == nil {
		return ""
	}
	switch at := l.End(l.Buffer.At); {
	case at.Element == run:
		where := " here, on the rails"
		if drafting.Unfed(d.s, l) {
			where = " here, and nothing feeds it"
		}
		return drafting.BufferName(d.s, l.Buffer) + where
	case at.Kind == scheme.PortRef:
		return drafting.BufferName(d.s, l.Buffer) + " at " + at.String()
	}
	return ""
}

// powered says of a data lead that it carries the supply, where it does.
func (d *diagrammed) powered(lead string) string {
	if d.s.Data[lead].Power {
		return ": " + drafting.PastFuses
	}
	return ""
}

// unfused is what passes the fuses of a board: the data leads from it that carry the supply, and the bridged ways that are in use.
func (d *diagrammed) unfused(board string) string {
	var leads, ways []string
	for _, id := range scheme.IDs(d.s.Data) {
		if lead := d.s.Data[id]; lead.Power && lead.From.Kind == scheme.PortRef && lead.From.Element == board {
			leads = append(leads, id+" "+drafting.PastFuses+", to "+lead.To.Element)
		}
	}
	for _, s := range d.slots[board] {
		if s.cable != "" && s.place != board+".in" && drafting.Bridged(d.s, d.ref(s), s.cable) && !slices.Contains(ways, s.place) {
			ways = append(ways, s.place)
		}
	}
	if len(ways) > 0 {
		leads = append(leads, "bridged, with no fuse: "+drafting.Some(ways))
	}
	return strings.Join(leads, "; ")
}

func (d *diagrammed) dataLead(id string) string {
	length := ""
	if l := d.s.Data[id].Length; l != nil {
		length = layout.Nominal(*l)
	}
	return layout.Join(" ", id, length)
}

// small is the text of diagrams.
var (
	small  = draw.Text{Size: draw.Smallest, Tone: draw.Ink}
	strong = draw.Text{Size: draw.Smallest, Tone: draw.Ink, Face: draw.SemiBold}
	quiet  = draw.Text{Size: draw.Smallest, Tone: draw.Graphite}
)
