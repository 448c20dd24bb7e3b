package commission_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand"
	"strings"
	"testing"

	"farend/commission"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// anywhere is a value anywhere within its spread; in half of all cases at one of its ends.
func anywhere[T unit.Quantity](r *rand.Rand, v parts.Value[T]) parts.Value[T] {
	switch r.Intn(4) {
	case 0:
		v.Is = v.Lower()
	case 1:
		v.Is = v.Upper()
	default:
		v.Is = v.Lower() + T(r.Float64())*(v.Upper()-v.Lower())
	}
	return v
}

// built is a scheme as somebody may have built it: each run cut from a reel of its own, each cable a little longer or shorter, each
// supply set as well as a meter of 1 % tells, on a day of any temperature.
func built(r *rand.Rand, s *scheme.Scheme) *scheme.Scheme {
	other := *s
	own := parts.Set{}
	other.Runs = maps.Clone(s.Runs)
	for _, id := range scheme.IDs(s.Runs) {
		run := s.Runs[id]
		tape := *s.Tape(id)
		tape.Rail, tape.RailReturn, tape.Joint = anywhere(r, tape.Rail), anywhere(r, tape.RailReturn), anywhere(r, tape.Joint)
		tape.Channels = maps.Clone(tape.Channels)
		for _, name := range scheme.IDs(tape.Channels) {
			c := tape.Channels[name]
			c.Set, c.String = anywhere(r, c.Set), anywhere(r, c.String)
			tape.Channels[name] = c
		}
		tape.Idle.Set = anywhere(r, tape.Idle.Set)
		run.Tape = "tape/reel-of-" + id
		own[run.Tape] = &tape
		other.Runs[id] = run
	}
	other.Cables = maps.Clone(s.Cables)
	for _, id := range scheme.IDs(s.Cables) {
		c := s.Cables[id]
		if part, ok := parts.Get[parts.Cable](s.Library, c.Part); ok { // between a core that is all copper and the most that its table allows
			core := *part
			if full := unit.OhmPerMetre(1e-6 / 58 / float64(part.Area.Is)); full < core.R20.Is && core.R20.Spread == (parts.Spread{}) {
				core.R20.Spread.Low = float64(full/core.R20.Is) - 1
			}
			core.R20 = anywhere(r, core.R20)
			core.R20.Spread = parts.Spread{}
			c.Part = "cable/drum-of-" + id
			own[c.Part] = &core
		}
		length := *c.Length * unit.Metre(0.97+0.06*r.Float64())
		c.Length = &length
		if c.Ends == (scheme.Ends{}) { // a clamp at each end, as good as anybody's or as poor as a terminal may be
			clamp := parts.Connector{}
			clamp.Resistance = parts.Value[unit.Ohm]{Is: unit.Ohm(0.67e-3 * r.Float64()), Given: true}
			c.Ends.To = "connector/clamps-of-" + id
			own[c.Ends.To] = &clamp
		}
		other.Cables[id] = c
	}
	other.Boards = maps.Clone(s.Boards)
	for _, id := range scheme.IDs(s.Boards) {
		part, ok := s.BoardPart(id)
		if !ok {
			continue
		}
		board, b := *part, s.Boards[id]
		board.Ways = maps.Clone(board.Ways)
		for _, way := range scheme.IDs(board.Ways) { // contacts from next to nothing to twice what is stated
			w := board.Ways[way]
			w.Resistance.Is *= unit.Ohm(0.01 + 1.99*r.Float64())
			board.Ways[way] = w
		}
		b.Part = "board/one-of-" + id
		own[b.Part] = &board
		other.Boards[id] = b
	}
	other.Supplies = maps.Clone(s.Supplies)
	for _, id := range scheme.IDs(s.Supplies) {
		t := s.Supplies[id]
		volts := s.SetPoint(id) * unit.Volt(0.986+0.028*r.Float64())
		t.Volts = &volts
		other.Supplies[id] = t
	}
	other.Library = s.Library.With(own)
	air := s.Coldest() + unit.Celsius(r.Float64())*(s.Ambient()-s.Coldest())
	other.Site.Ambient = &air
	return &other
}

// What is built of parts within their spread reads within the bands as they are before the errors of the meter are added.
func TestWhatIsBuiltReadsWithinTheBands(t *testing.T) {
	for _, name := range names(t) {
		w := example(t, name)
		r := rand.New(rand.NewSource(1))
		for i := range 6 {
			if read := within(t, fmt.Sprintf("%s, built %d", name, i), w.p, studied(t, built(r, w.st.Scheme))); read < 15 {
				t.Errorf("%s: only %d readings were compared", name, read)
			}
		}
	}
}

// within complains of what an installation reads outside the bands, and counts what was compared.
func within(t testing.TB, name string, p commission.Procedure, st *study.Study) (read int) {
	t.Helper()
	for _, g := range p.Stages {
		for _, s := range g.Steps {
			v, ok := reads(st, s.Between, s.State)
			if !ok || s.Reading == nil {
				continue
			}
			read++
			low, high := s.Reading.Sound()
			// Where feeds share a piece the size of each share is taken to first order, which leaves a milliampere open in odd networks: a fortieth of what the
			// meter errs by, beside what the kernel leaves open.
			down, up := 0.025*(low-s.Reading.Low), 0.025*(s.Reading.High-high)
			if v < low-down-1e-9 || v > high+up+1e-9 {
				t.Errorf("%s: %s, %s: %v, without the meter %v to %v", name, s.State, s.Do, v, low, high)
			}
		}
	}
	return read
}

// reads is what a perfect meter shows between two points in a state that the study solved.
func reads(st *study.Study, between [2]string, state string) (v float64, ok bool) {
	in, lit := strings.CutPrefix(state, "lit, ")
	switch {
	case lit:
		in = "state/" + in
	case state == "all fuses in, data in, dark":
		in = string(network.Dark)
	default:
		return 0, false
	}
	r := st.Result(in)
	if r == nil {
		return 0, false
	}
	if at, is := strings.CutPrefix(between[0], "clamp on + of "); is {
		if way, is := r.Ways[at]; is {
			return math.Abs(float64(way.Amps.Mean)), true
		}
		cable, is := r.Cables[at]
		return math.Abs(float64(cable.Plus.Mean)), is
	}
	if at, is := strings.CutPrefix(between[0], "clamp on all + of "); is {
		supply, is := r.Supplies[at]
		return float64(supply.Amps.Mean), is
	}
	at, plus := strings.CutSuffix(between[0], " +")
	if !plus || between[1] != at+" −" {
		return 0, false
	}
	if side, is := strings.CutSuffix(at, ", before the cut,"); is {
		at = side + "-"
	}
	return float64(st.Network.VoltsAt(st.Solution(in), at)), true
}
