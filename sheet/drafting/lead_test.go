package drafting_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
)

// led is a scheme with one lead, D1, from a port or a run E1 to a run E2, and tape at both.
func led(from, to string, lead scheme.Lead) *scheme.Scheme {
	lead.To = scheme.Ref{Kind: scheme.RunRef, Element: "E2"}
	lead.From = scheme.Ref{Kind: scheme.RunRef, Element: "E1"}
	if from == "" {
		lead.From = scheme.Ref{Kind: scheme.PortRef, Element: "A1", Socket: "P1"}
	}
	return &scheme.Scheme{Library: parts.Catalogue(), Runs: map[string]scheme.Run{"E1": {Tape: from}, "E2": {Tape: to}}, Data: map[string]scheme.Lead{"D1": lead}}
}

// kinds are a tape of the catalogue for each kind of line.
func kinds(t *testing.T) (plain, clocked, backup string) {
	t.Helper()
	library := parts.Catalogue()
	for _, name := range library.Names("tape") {
		tape, _ := parts.Get[parts.Tape](library, name)
		switch p, ok := parts.Get[parts.Protocol](library, tape.Protocol); {
		case !ok:
		case p.Clocked:
			clocked = name
		case p.Backup:
			backup = name
		default:
			plain = name
		}
	}
	if plain == "" || clocked == "" || backup == "" {
		t.Fatalf("the catalogue has no tape of some kind: %q, %q, %q", plain, clocked, backup)
	}
	return plain, clocked, backup
}

// Of every data cable of the catalogue, with every kind of line at both ends, each core is told once: what is for something, what is for nothing, and what is
// missing come to as many as there are, and as many as are asked for. By hand: data takes one; ground one, where it is joined; a clock one; a backup line one
// between two runs that have it; the supply one.
func TestEachCoreOfADataLeadIsToldOnce(t *testing.T) {
	plain, clocked, backup := kinds(t)
	library := parts.Catalogue()
	cables := 0
	for _, name := range library.Names("cable") {
		if !strings.HasPrefix(name, "cable/data-") {
			continue
		}
		cables++
		cable, _ := parts.Get[parts.Cable](library, name)
		for _, from := range []string{"", plain, clocked, backup} {
			for _, to := range []string{plain, clocked, backup} {
				for _, ground := range []scheme.Ground{"", scheme.OpenGround} {
					for _, power := range []bool{false, true} {
						s := led(from, to, scheme.Lead{Part: name, Ground: ground, Power: power})
						need := 1
						for _, asks := range []bool{ground == "", power, to == clocked, from == backup && to == backup} {
							if asks {
								need++
							}
						}
						c, words := drafting.Cores(s, "D1"), drafting.CoreWords(s, "D1")
						if len(c.For)+c.Dead != cable.Cores || len(c.For)+len(c.Lacks) != need || c.Dead != max(cable.Cores-need, 0) {
							t.Errorf("%s from %q to %q: %+v of %d cores, %d asked for", name, from, to, c, cable.Cores, need)
						}
						told := 0
						for _, phrase := range strings.Split(strings.Split(words, ";")[0], ", ") {
							n := 0
							if fmt.Sscanf(phrase, "%d ", &n); n > 0 {
								told += n
							}
						}
						if told != cable.Cores || (c.Dead > 0) != strings.Contains(words, "insulate") || (need > cable.Cores) != strings.Contains(words, "no core for") {
							t.Errorf("%s from %q to %q is told as %q", name, from, to, words)
						}
					}
				}
			}
		}
	}
	if cables < 5 {
		t.Errorf("only %d data cables", cables)
	}
}

func TestCoresInWords(t *testing.T) {
	plain, clocked, backup := kinds(t)
	for _, c := range []struct {
		from, to string
		lead     scheme.Lead
		want     string
	}{
		{"", plain, scheme.Lead{Part: "cable/data-3x0.5"}, "1 data, 1 ground, 1 spare: joined to nothing, insulate it at both ends"},
		{plain, plain, scheme.Lead{Part: "cable/data-4x0.5"}, "1 data, 1 ground, 2 spare: joined to nothing, insulate them at both ends"},
		{"", plain, scheme.Lead{Part: "cable/data-cat5e-pair"}, "1 data, 1 ground"},
		{"", plain, scheme.Lead{Part: "cable/data-3x0.5", Power: true}, "1 data, 1 ground, 1 + of the supply"},
		{"", plain, scheme.Lead{Part: "cable/data-4x0.5", Power: true}, "1 data, 1 ground, 1 + of the supply, 1 spare: joined to nothing, insulate it at both ends"},
		{plain, plain, scheme.Lead{Part: "cable/data-3x0.5", Ground: scheme.OpenGround}, "1 data, 2 joined to nothing (ground is left open): insulate them at both ends"},
		{"", clocked, scheme.Lead{Part: "cable/data-3x0.5"}, "1 data, 1 clock, 1 ground"},
		{"", clocked, scheme.Lead{Part: "cable/data-cat5e-pair"}, "1 data, 1 ground; no core for clock: it takes 3, and there are 2"},
		{clocked, clocked, scheme.Lead{Part: "cable/data-3x0.5", Power: true}, "1 data, 1 ground, 1 + of the supply; no core for clock: it takes 4, and there are 3"},
		{backup, backup, scheme.Lead{Part: "cable/data-3x0.5"}, "1 data, 1 backup, 1 ground; backup from the backup output of E1 to the backup input of E2"},
		{backup, backup, scheme.Lead{Part: "cable/data-cat5e-pair"}, "1 data, 1 ground; no core for backup: it takes 3, and there are 2"},
		{"", backup, scheme.Lead{Part: "cable/data-3x0.5"}, "1 data, 1 ground, 1 spare: joined to nothing, insulate it at both ends; the backup input of E2 goes to ground there, unless the sheet of its chip says otherwise"},
		{backup, plain, scheme.Lead{Part: "cable/data-cat5e-pair"}, "1 data, 1 ground; the backup output of E1 is joined to nothing"},
		{"", "choose", scheme.Lead{Part: "cable/data-3x0.5"}, "1 data, 1 ground, 1 of which nothing is known: the pixels of E2 are not chosen"},
		{"", clocked, scheme.Lead{Part: "choose"}, "1 data, 1 clock, 1 ground"},
	} {
		if got := drafting.CoreWords(led(c.from, c.to, c.lead), "D1"); got != c.want {
			t.Errorf("from %q to %q: it says %q, want %q", c.from, c.to, got, c.want)
		}
	}
}

func TestABufferInWords(t *testing.T) {
	plain, _, _ := kinds(t)
	for _, c := range []struct {
		from, to string
		at       scheme.End
		want     string
	}{
		{"", plain, scheme.FromEnd, "buffer ahct-5v at A1.P1, + and − from the board"},
		{"", five, scheme.ToEnd, "buffer ahct-5v at E2, + and − from the rails of E2 there"},
		{five, plain, scheme.FromEnd, "buffer ahct-5v at E1, + and − from the rails of E1 there"},
		{high, five, scheme.FromEnd, "buffer ahct-5v at E1, nothing there feeds it: join it to no rail of E1, which has 24 V"},
		{five, high, scheme.ToEnd, "buffer ahct-5v at E2, nothing there feeds it: join it to no rail of E2, which has 24 V"},
		{"choose", five, scheme.FromEnd, "buffer ahct-5v at E1, + and − from the rails of E1 there"},
	} {
		s := led(c.from, c.to, scheme.Lead{Buffer: &scheme.LeadBuffer{Part: "buffer/ahct-5v", At: c.at}})
		if got := drafting.BufferWords(s, "D1"); got != c.want {
			t.Errorf("it says %q, want %q", got, c.want)
		}
	}
	if got := drafting.BufferWords(led("", plain, scheme.Lead{}), "D1"); got != "" {
		t.Errorf("without one it says %q", got)
	}
}

// Tape of 5 V, for which the buffers of the catalogue are made, and of 24 V, which would destroy them.
const five, high = "tape/5v-rgb-60", "tape/24v-rgb-20x8"

// A junction joins the cores of one pole: by hand, two cables of both poles, one of three cores a pole, and one of the positive alone.
func TestSplicesOfAJunction(t *testing.T) {
	at, there := scheme.Ref{Kind: scheme.JunctionRef, Element: "X1"}, scheme.Ref{Kind: scheme.SupplyRef, Element: "T1"}
	s := &scheme.Scheme{Library: parts.Catalogue(), Cables: map[string]scheme.Cable{
		"W1": {From: there, To: at}, "W2": {From: at, To: there}, "W3": {From: at, To: there, CoresPerPole: 3}, "W10": {From: at, To: there, Pole: scheme.Plus},
		"W11": {From: there, To: there},
	}}
	if got, want := fmt.Sprint(drafting.Splices(s, "X1")), "[{X1+ plus [W1 W2 W3 W10] 6} {X1− return [W1 W2 W3] 5}]"; got != want {
		t.Errorf("they are %s, want %s", got, want)
	}
	if got := drafting.Splices(s, "X2"); got != nil {
		t.Errorf("nothing lands on X2, and it is %v", got)
	}
}
