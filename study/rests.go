package study

import (
	"fmt"
	"slices"
	"strings"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A Number is one number that an assessment rests on: a key of a part, or, where Part is empty, what the scheme leaves unsaid or
// the rule itself takes.
type Number struct {
	Part   string // "tape/5v-rgb-60"; "" for a number of the scheme or of the rule
	Key    string // "rail", as farend parts names it; "site.ambient"; "1.2 times a rating"
	Basis  parts.Basis
	Source string
	Spread parts.Spread
	Is     Measure // for a trace; the zero Measure where it is no number
}

// Stated is a value of a part as a number, with the key that farend parts shows.
func Stated[T unit.Quantity](part, key string, v parts.Value[T]) Number {
	return Number{part, key, v.Basis, v.Source, v.Spread, Of(v.Is)}
}

// High is how far a value of a part may be above what it states, as a share of that; Low how far below, which is negative.
func High[T unit.Quantity](part, key string, v parts.Value[T]) Number {
	return Number{part, key + ".spread.high", v.Basis, v.Source, v.Spread, Plain(v.Spread.High)}
}

// Low is explained with High.
func Low[T unit.Quantity](part, key string, v parts.Value[T]) Number {
	return Number{part, key + ".spread.low", v.Basis, v.Source, v.Spread, Plain(v.Spread.Low)}
}

// Said is what a part says in words, such as whether it may work in parallel.
func Said(part, key string, o parts.Origin) Number {
	return Number{Part: part, Key: key, Basis: o.Basis, Source: o.Source}
}

// Being is a number with its value, where that is not stated as a quantity: ways of a junction.
func (n Number) Being(v Measure) Number {
	n.Is = v
	return n
}

// Taken is a number of a rule's own.
func Taken(key string, s Source) Number {
	return Number{Key: key, Basis: s.Basis, Source: s.String()}
}

// Ambient is the air that a rating holds for, where the scheme does not say: a number that nobody stated.
func (s *Study) Ambient() []Number {
	if s.Scheme.Site.Ambient != nil {
		return nil
	}
	return []Number{{Key: "site.ambient", Basis: parts.Unstated, Source: fmt.Sprintf("the scheme does not say; %v is taken, for which currents are tabulated", s.Scheme.Ambient())}}
}

// String names a number in a sentence.
func (n Number) String() string { return strings.TrimSpace(n.Part + " " + n.Key) }

// weakest is the number with the weakest basis, the first of several; the zero Number where there is none.
func weakest(numbers []Number) Number {
	var worst Number
	for i, n := range numbers {
		if i == 0 || parts.Weaker(worst.Basis, n.Basis) != worst.Basis {
			worst = n
		}
	}
	return worst
}

// Draw lists the numbers that decide what runs draw in a case: the set currents, or resistors, of the channels that are lit on
// their tapes; the idle current where none is.
func (s *Study) Draw(c network.Case, runs []string) []Number {
	lit := map[string]map[string]bool{} // by tape, the channels that some run lights
	for _, id := range runs {
		name, tape := s.Scheme.Runs[id].Tape, s.Scheme.Tape(id)
		if tape == nil {
			continue
		}
		if lit[name] == nil {
			lit[name] = map[string]bool{}
		}
		drives, _ := s.Scheme.Drives(c.State, id)
		for _, channel := range scheme.Channels(tape) {
			lit[name][channel] = lit[name][channel] || c.Kind == network.CapFailed || drives[channel] > 0
		}
	}
	var numbers []Number
	for _, name := range scheme.IDs(lit) {
		tape, _ := parts.Get[parts.Tape](s.Scheme.Library, name)
		numbers = append(numbers, drawOf(name, tape, lit[name])...)
	}
	return numbers
}

func drawOf(name string, tape *parts.Tape, lit map[string]bool) []Number {
	var numbers []Number
	for _, channel := range scheme.Channels(tape) {
		if lit[channel] {
			numbers = append(numbers, current(name, "channels."+channel, tape.Channels[channel]))
		}
	}
	if numbers == nil {
		return []Number{current(name, "idle", tape.Idle)}
	}
	return numbers
}

// current is the number that sets the current of a channel.
func current(part, key string, c parts.Channel) Number {
	if c.String.Given {
		return Stated(part, key+".string", c.String)
	}
	return Stated(part, key+".set", c.Set)
}

// Carried lists the numbers that decide what a cable carries in a case: the draw of the runs that it lands on, of all that hang
// on it where it lands on none.
func (s *Study) Carried(c network.Case, cable string) []Number {
	var runs []string
	for _, end := range []scheme.Ref{s.Scheme.Cables[cable].From, s.Scheme.Cables[cable].To} {
		if end.Kind == scheme.StationRef {
			runs = append(runs, end.Element)
		}
	}
	if runs == nil {
		runs = s.Network.RunsOn(cable)
	}
	return s.Draw(c, runs)
}

// CarriedByWay lists the numbers that decide what a way carries in a case.
func (s *Study) CarriedByWay(c network.Case, way string) []Number {
	var numbers []Number
	for _, cable := range s.Network.Landings(way) {
		for _, n := range s.Carried(c, cable) {
			if !slices.Contains(numbers, n) {
				numbers = append(numbers, n)
			}
		}
	}
	return numbers
}

// SetPoints lists the set points of the supplies that feed a run.
func (s *Study) SetPoints(run string) []Number {
	var numbers []Number
	for _, t := range s.feeders(run) {
		name := s.Scheme.Supplies[t].Part
		if part, ok := parts.Get[parts.Supply](s.Scheme.Library, name); ok {
			numbers = append(numbers, Stated(name, "volts", part.Volts))
		}
	}
	return numbers
}

// feeders lists the supplies whose plus reaches a run.
func (s *Study) feeders(run string) []string {
	fed := map[string]bool{}
	for _, f := range s.Network.Feeds(run) {
		for _, t := range f.Plus {
			fed[t] = true
		}
	}
	return scheme.IDs(fed)
}

// decisive is the share of the lost voltage from which a number that loses it decides.
const decisive = 0.1

// Dropped lists the numbers that decide the voltage at the lowest pixel of a run in a case: the set points of its supplies, what
// its pixels draw, and of all that loses voltage on the way what makes a tenth of the loss or more.
func (s *Study) Dropped(c network.Case, run string) []Number {
	numbers := append(s.SetPoints(run), s.Draw(c, []string{run})...)
	losses := s.losses(s.Result(c.Name), run)
	lost := sum(losses)
	for _, l := range losses {
		if l.volts >= decisive*lost && l.volts > 0 {
			numbers = append(numbers, l.Number)
		}
	}
	return numbers
}

// A loss is a number with the voltage that goes with it.
type loss struct {
	Number
	volts float64
}

// losses lists what loses voltage between the supplies of a run and its lowest pixel.
func (s *Study) losses(r *network.Result, run string) []loss {
	all := s.railLosses(r.Runs[run], run)
	for _, t := range s.feeders(run) {
		name := s.Scheme.Supplies[t].Part
		if part, ok := parts.Get[parts.Supply](s.Scheme.Library, name); ok {
			all = append(all, loss{Stated(name, "source_resistance", part.SourceResistance), float64(part.SourceResistance.Is) * float64(r.Supplies[t].Amps.Peak)})
		}
	}
	boards := map[string]bool{}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		cable := s.Scheme.Cables[id]
		for _, ends := range [][2]scheme.Ref{{cable.From, cable.To}, {cable.To, cable.From}} {
			if near, far := ends[0], ends[1]; far.Kind == scheme.StationRef && far.Element == run {
				all = append(all, s.cableLosses(r, id)...)
				if near.Kind == scheme.WayRef {
					all = append(all, s.wayLosses(r, near.String())...)
					boards[near.Element] = true
				}
			}
		}
	}
	for _, board := range scheme.IDs(boards) {
		all = append(all, s.inletLosses(r, board)...)
	}
	return all
}

// railLosses shares what is lost along a run between its rails and their joints.
func (s *Study) railLosses(r network.Run, run string) []loss {
	name, tape := s.Scheme.Runs[run].Tape, s.Scheme.Tape(run)
	if tape == nil {
		return nil
	}
	volts := float64(r.VoltsHigh - r.VoltsLow)
	rail, joint := float64(tape.Rail.Is), 0.0
	if every := float64(tape.JointEvery.Is); every > 0 {
		joint = float64(tape.Joint.Is) / every
	}
	all := []loss{{Stated(name, "rail", tape.Rail), volts * rail / (rail + joint)}}
	if tape.RailReturn.Given {
		all = append(all, loss{Stated(name, "rail_return", tape.RailReturn), volts * float64(tape.RailReturn.Is) / (rail + float64(tape.RailReturn.Is))})
	}
	if joint > 0 {
		all = append(all, loss{Stated(name, "joint", tape.Joint), volts * joint / (rail + joint)})
	}
	return all
}

// cableLosses shares what a cable loses between its cores and its fuse.
func (s *Study) cableLosses(r *network.Result, id string) []loss {
	cable, at := s.Scheme.Cables[id], r.Cables[id]
	part, ok := parts.Get[parts.Cable](s.Scheme.Library, cable.Part)
	if !ok {
		return nil
	}
	fuse := s.fuseLoss(cable.Fuse, at.Plus.Peak)
	return append(fuse, loss{Stated(cable.Part, "r20", part.R20), max(0, float64(at.Drop)-sum(fuse))})
}

func (s *Study) wayLosses(r *network.Result, way string) []loss {
	amps := r.Ways[way].Amps.Peak
	all := s.fuseLoss(s.Scheme.Fuses[way], amps)
	board, socket, _ := strings.Cut(way, ".")
	if part, ok := s.Scheme.WayPart(way); ok {
		all = append(all, loss{Stated(s.Scheme.Boards[board].Part, "ways."+socket+".resistance", part.Resistance), float64(part.Resistance.Is) * float64(amps)})
	}
	return all
}

func (s *Study) inletLosses(r *network.Result, board string) []loss {
	var all []loss
	if part, ok := s.Scheme.BoardPart(board); ok {
		both := float64(r.Boards[board].Inlet.Peak) + float64(r.Boards[board].Return.Peak)
		all = append(all, loss{Stated(s.Scheme.Boards[board].Part, "inlet.resistance", part.Inlet.Resistance), float64(part.Inlet.Resistance.Is) * both})
	}
	for _, id := range s.Network.Landings(board + ".in") {
		all = append(all, s.cableLosses(r, id)...)
	}
	return all
}

// fuseLoss is what a fuse loses, taken as hot.
func (s *Study) fuseLoss(name string, amps unit.Ampere) []loss {
	part, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
	if !ok {
		return nil
	}
	key, ohms := "resistance_hot", part.ResistanceHot
	if !ohms.Given {
		key, ohms = "resistance", part.Resistance
	}
	return []loss{{Stated(name, key, ohms), float64(ohms.Is) * float64(max(amps, -amps))}}
}

func sum(losses []loss) float64 {
	total := 0.0
	for _, l := range losses {
		total += l.volts
	}
	return total
}
