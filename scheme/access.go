package scheme

import (
	"cmp"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
	"farend/unit"
)

// Ambient is the hottest air around cables and boards. 30 °C, the temperature for which tables of current-carrying
// capacity are given (IEC 60364-5-52, B.52.1), stands in where the scheme does not say.
func (s *Scheme) Ambient() unit.Celsius { return or(s.Site.Ambient, 30) }

// Coldest is the coldest air; where the scheme does not say, 0 °C, outdoors −20 °C, or the ambient if that is lower.
func (s *Scheme) Coldest() unit.Celsius {
	usual := unit.Celsius(0)
	if s.Site.Exposure == parts.Outdoors {
		usual = -20
	}
	return or(s.Site.Coldest, min(usual, s.Ambient()))
}

// Suits is the wettest place that the sheath of a cable or data lead is made for: as the scheme says of this one, else as its part
// says; empty where neither does.
func (s *Scheme) Suits(id string) Exposure {
	own, name := s.Cables[id].Suits, s.Cables[id].Part
	if lead, is := s.Data[id]; is {
		own, name = lead.Suits, lead.Part
	}
	if part, ok := parts.Get[parts.Cable](s.Library, name); ok {
		return cmp.Or(own, part.Suits)
	}
	return own
}

// SetPoint is what a supply is set to: as trimmed, else as its part comes; 0 where it has no part.
func (s *Scheme) SetPoint(supply string) unit.Volt {
	if trim := s.Supplies[supply].Volts; trim != nil {
		return *trim
	}
	if part, ok := parts.Get[parts.Supply](s.Library, s.Supplies[supply].Part); ok {
		return part.Volts.Is
	}
	return 0
}

// RunIP is the degree of protection of a run: as the scheme says of this one, else as its tape says; empty where neither does.
func (s *Scheme) RunIP(id string) string {
	if tape := s.Tape(id); tape != nil {
		return cmp.Or(s.Runs[id].IP, tape.IP)
	}
	return s.Runs[id].IP
}

// Cap is the highest drive the control system will send, 0 to 1.
func (s *Scheme) Cap() float64 { return float64(or(s.Aims.Cap, 1)) }

// EvennessAim is the least ratio of the dimmest to the brightest pixel of one run; 0.8 where the scheme does not say.
func (s *Scheme) EvennessAim() float64 { return float64(or(s.Aims.Evenness, 0.8)) }

// ColourShiftAim is the largest Δu'v' within one run; 0.004 where the scheme does not say.
func (s *Scheme) ColourShiftAim() float64 { return or(s.Aims.ColourShift, 0.004) }

// Tape is the tape of a run, nil where there is no such run or tape.
func (s *Scheme) Tape(run string) *parts.Tape {
	tape, _ := parts.Get[parts.Tape](s.Library, s.Runs[run].Tape)
	return tape
}

// FeedsBuffer reports whether the rails of a run have a voltage that a buffer is made for. A port ("") has it, for what a board has beside its rails is not in a
// scheme; so does whatever is not chosen.
func (s *Scheme) FeedsBuffer(run, part string) bool {
	tape := s.Tape(run)
	buffer, ok := parts.Get[parts.Buffer](s.Library, part)
	return !ok || tape == nil || buffer.Suits(tape.Volts.Is)
}

// BoardPart is the part of a board; the second result is false where there is no such board or its part is not chosen.
func (s *Scheme) BoardPart(id string) (*parts.Board, bool) {
	return parts.Get[parts.Board](s.Library, s.Boards[id].Part)
}

// WayPart is a way, such as A1.2, of its board's part.
func (s *Scheme) WayPart(name string) (parts.Way, bool) {
	id, socket, _ := strings.Cut(name, ".")
	board, ok := s.BoardPart(id)
	if !ok {
		return parts.Way{}, false
	}
	way, ok := board.Ways[socket]
	return way, ok
}

// PortPart is the port that a reference names, of its board's part; false for what is not a port.
func (s *Scheme) PortPart(ref Ref) (parts.Port, bool) {
	board, ok := s.BoardPart(ref.Element)
	if ref.Kind != PortRef || !ok {
		return parts.Port{}, false
	}
	port, ok := board.Ports[ref.Socket]
	return port, ok
}

// Identifiers are all that are taken: of supplies, boards, runs, cables and whatever else has one.
func (s *Scheme) Identifiers() map[string]bool {
	taken := map[string]bool{}
	for _, section := range sections() {
		for _, id := range section.ids(s) {
			taken[id] = true
		}
	}
	return taken
}

// StateNames lists the states in natural order.
func (s *Scheme) StateNames() []string { return IDs(s.States) }

// Env is the surroundings of a cable: the air, how it is installed, how many loaded circuits lie together, and how many
// cores each pole has. Ratings are for two loaded cores; of a cable that has more, each further pair is one more circuit in the
// bundle (notes to IEC 60364-5-52 table B.52.17, from memory).
func (c Cable) Env(s *Scheme) (ambient unit.Celsius, method Method, bundle int, perPole int) {
	method = c.Method
	if method == "" {
		method = Conduit
	}
	loaded := c.Poles() * c.PerPole()
	return or(c.Ambient, s.Ambient()), method, max(c.Bundle, 1) + (loaded+1)/2 - 1, c.PerPole()
}

// Poles is how many poles a cable has.
func (c Cable) Poles() int {
	if c.Pole == Plus || c.Pole == Return {
		return 1
	}
	return 2
}

// PerPole is how many of its cores each pole has, in parallel.
func (c Cable) PerPole() int { return max(c.CoresPerPole, 1) }

// Place is where a key stands in the file, or the nearest key around it that is there.
func (s *Scheme) Place(path ...string) finding.Pos {
	return nearest(s.Places, s.File, document.Pointer(path...))
}

func nearest(places map[string]finding.Pos, file, pointer string) finding.Pos {
	for pointer != "" {
		if pos, ok := places[pointer]; ok {
			return pos
		}
		pointer = pointer[:strings.LastIndexByte(pointer, '/')]
	}
	return finding.Pos{File: file, Line: 1, Column: 1}
}

func or[T any](value *T, otherwise T) T {
	if value != nil {
		return *value
	}
	return otherwise
}

// WithCuts is the scheme with other cuts in a run; all else is shared.
func (s *Scheme) WithCuts(run string, cuts []Cut) *Scheme {
	other := *s
	other.Runs = maps.Clone(s.Runs)
	r := other.Runs[run]
	r.Cuts = cuts
	other.Runs[run] = r
	return &other
}

// Senders lists the data leads that begin at a port, in the order of the ports; a port has one.
func (s *Scheme) Senders() []string {
	var leads []string
	for _, id := range IDs(s.Data) {
		if s.Data[id].From.Kind == PortRef {
			leads = append(leads, id)
		}
	}
	slices.SortStableFunc(leads, func(a, b string) int { return finding.Natural(s.Data[a].From.String(), s.Data[b].From.String()) })
	return leads
}

// Chained lists the runs that data goes through from a run on: each hands it to one more at most.
func (s *Scheme) Chained(run string) (runs []string) {
	next := map[string]string{}
	for _, d := range s.Data {
		if d.From.Kind != PortRef {
			next[d.From.Element] = d.To.Element
		}
	}
	for ; run != "" && !slices.Contains(runs, run); run = next[run] {
		runs = append(runs, run)
	}
	return runs
}

// Landed is the station of a run that a place by its name means, such as E1@px72 for E1@1.2m: the nearest cut mark, as of a cable that lands there. What
// is wrong with a name that is none is text, with a hint; both are "" of what is on no run.
func (s *Scheme) Landed(name string) (place, text, hint string) {
	var ref Ref
	element, _, is := strings.Cut(name, "@")
	run, known := s.Runs[element]
	tape := s.Tape(element)
	if !is || !known || tape == nil {
		return name, "", ""
	}
	if err := ref.UnmarshalText([]byte(name)); err != nil {
		var wrong *unit.Error
		if errors.As(err, &wrong) {
			return "", wrong.Text, wrong.Hint
		}
		return "", err.Error(), ""
	}
	if text, hint = ref.Station.resolve(run.Count, float64(run.Count), tape, element); text != "" {
		return "", text, hint
	}
	if ref.Station.Before && !run.cutAt(ref.Station.Mark) {
		return "", element + " is not cut at px" + strconv.Itoa(ref.Station.Mark) + ", so there is no side before a cut", "leave the last - out"
	}
	ref.Kind = StationRef
	return ref.String(), "", ""
}
