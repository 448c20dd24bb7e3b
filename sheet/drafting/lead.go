package drafting

import (
	"fmt"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// A Core is what a core of a data lead is for.
type Core string

// What cores of data leads are for. One carries the supply where the lead has some, however many are left (network.New counts one, too).
const (
	DataCore   Core = "data"
	ClockCore  Core = "clock"
	BackupCore Core = "backup"
	GroundCore Core = "ground"
	SupplyCore Core = "+"
)

// LeadCores is what each core of a data lead is for, in the order in which they are told; how many are joined to nothing; and what has no core, where
// there are too few. Of a cable that is not chosen they are as many as are asked for.
type LeadCores struct {
	For    []Core
	Dead   int  // joined to nothing at either end
	Opened bool // the core for ground is among them
	Unsaid int  // for which nobody says, for the pixels at the end are not chosen
	Lacks  []Core
}

// Cores is what those of a data lead are for: data; a second line beside it where the pixels at the end have one, and where it is a backup line those before
// them, too; ground, where it is joined; and the supply, where the lead carries that.
func Cores(s *scheme.Scheme, id string) (c LeadCores) {
	lead := s.Data[id]
	takes, known := lineOf(s, lead.To.Element)
	second := Core("")
	switch {
	case known && takes.Clocked:
		second = ClockCore
	case known && takes.Backup && lead.From.Kind == scheme.RunRef:
		if sends, ok := lineOf(s, lead.From.Element); ok && sends.Backup {
			second = BackupCore
		}
	}
	laid, chosen := parts.Get[parts.Cable](s.Library, lead.Part)
	c.Opened = lead.Ground == scheme.OpenGround
	left := len(wanted)
	if chosen {
		left = laid.Cores
	}
	given := map[Core]bool{}
	for _, core := range []struct {
		is    Core
		asked bool
	}{{DataCore, true}, {GroundCore, !c.Opened}, {SupplyCore, lead.Power}, {second, second != ""}} {
		switch {
		case !core.asked:
		case left > 0:
			given[core.is] = true
			left--
		default:
			c.Lacks = append(c.Lacks, core.is)
		}
	}
	for _, core := range wanted {
		if given[core] {
			c.For = append(c.For, core)
		}
	}
	switch {
	case chosen && known:
		c.Dead = left
	case chosen:
		c.Unsaid = left
	}
	return c
}

// wanted are all that a core may be for, in the order in which they are told.
var wanted = []Core{DataCore, ClockCore, BackupCore, GroundCore, SupplyCore}

// lineOf is the protocol of a run; it is not ok where its tape is not chosen.
func lineOf(s *scheme.Scheme, run string) (*parts.Protocol, bool) {
	tape := s.Tape(run)
	if tape == nil {
		return nil, false
	}
	return parts.Get[parts.Protocol](s.Library, tape.Protocol)
}

// CoreWords says core by core what those of a data lead are for, in the same words on every sheet, and what becomes of those that are for nothing: 1 data,
// 1 ground, 1 spare: joined to nothing, insulate it at both ends.
func CoreWords(s *scheme.Scheme, id string) string {
	c, lead := Cores(s, id), s.Data[id]
	var list []string
	for _, core := range c.For {
		words := "1 " + string(core)
		if core == SupplyCore {
			words += " of the supply"
		}
		list = append(list, words)
	}
	words := strings.Join(list, ", ")
	it := "it"
	if c.Dead > 1 {
		it = "them"
	}
	switch {
	case c.Unsaid > 0:
		words += fmt.Sprintf(", %d of which nothing is known: the pixels of %s are not chosen", c.Unsaid, lead.To)
	case c.Dead > 0 && c.Opened:
		words += fmt.Sprintf(", %d joined to nothing (ground is left open): insulate %s at both ends", c.Dead, it)
	case c.Dead > 0:
		words += fmt.Sprintf(", %d spare: joined to nothing, insulate %s at both ends", c.Dead, it)
	case c.Opened:
		words += ", ground left open"
	}
	if len(c.Lacks) > 0 {
		_, laid := LaidWords(s, Style{}, lead.Part)
		words += fmt.Sprintf("; no core for %s: it takes %d, and there are %d", coreNames(c.Lacks), len(c.For)+len(c.Lacks), laid)
	}
	return layout.Join("; ", words, backupWords(s, id, c))
}

func coreNames(list []Core) string {
	var names []string
	for _, core := range list {
		names = append(names, string(core))
	}
	return study.Several(names)
}

// backupWords say where a backup line goes that the lead has a core for, and what becomes of its pads where it begins or ends with the lead, as the rule
// signal/backup-line has it.
func backupWords(s *scheme.Scheme, id string, c LeadCores) string {
	lead := s.Data[id]
	takes, _ := lineOf(s, lead.To.Element)
	into := takes != nil && takes.Backup
	outOf := false
	if lead.From.Kind == scheme.RunRef {
		sends, _ := lineOf(s, lead.From.Element)
		outOf = sends != nil && sends.Backup
	}
	switch {
	case into && outOf && len(c.Lacks) == 0:
		return fmt.Sprintf("backup from the backup output of %s to the backup input of %s", lead.From, lead.To)
	case into && outOf:
		return ""
	case into:
		return fmt.Sprintf("the backup input of %s goes to ground there, unless the sheet of its chip says otherwise", lead.To)
	case outOf:
		return fmt.Sprintf("the backup output of %s is joined to nothing", lead.From)
	}
	return ""
}

// BufferWords are the buffer of a data lead, where it stands and what feeds it; "" where there is none.
func BufferWords(s *scheme.Scheme, id string) string {
	lead := s.Data[id]
	if lead.Buffer == nil {
		return ""
	}
	return BufferName(s, lead.Buffer) + " at " + lead.End(lead.Buffer.At).String() + ", " + BufferFeed(s, lead)
}

// BufferName is a buffer by its part.
func BufferName(s *scheme.Scheme, b *scheme.LeadBuffer) string {
	if _, ok := parts.Get[parts.Buffer](s.Library, b.Part); !ok {
		return "buffer not chosen"
	}
	return "buffer " + BareName(b.Part)
}

// BufferFeed says where the buffer of a data lead takes its supply and its ground; of one at a run whose rails have another voltage, that nothing feeds it.
func BufferFeed(s *scheme.Scheme, lead scheme.Lead) string {
	run := lead.Feeds(lead.Buffer.At)
	switch tape := s.Tape(run); {
	case run == "":
		return "+ and − from the board"
	case Unfed(s, lead):
		return "nothing there feeds it: join it to no rail of " + run + ", which has " + layout.Nominal(tape.Volts.Is)
	}
	return "+ and − from the rails of " + run + " there"
}

// Unfed reports whether the buffer of a data lead stands at a run whose tape has another voltage than it is made for, as the rule signal/buffer judges.
func Unfed(s *scheme.Scheme, lead scheme.Lead) bool {
	return lead.Buffer != nil && !s.FeedsBuffer(lead.Feeds(lead.Buffer.At), lead.Buffer.Part)
}

// BufferSymbol is a triangle in the direction of the signal (IEC 60617, from memory).
func BufferSymbol(centre draw.Point) draw.Path {
	return draw.Area(draw.Paper, draw.Pen{Tone: draw.Ink, Width: draw.Thin}, draw.Point{X: centre.X - 1.6, Y: centre.Y - 1.6}, draw.Point{X: centre.X + 1.6, Y: centre.Y}, draw.Point{X: centre.X - 1.6, Y: centre.Y + 1.6})
}
