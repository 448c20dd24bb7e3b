package signal

import (
	"math/rand"
	"testing"

	"farend/finding"
	"farend/parts"
	"farend/unit"
)

// Whether two windows have a length in common is what trying every length says, whatever ends are stated.
func TestSharedIsWhatTryingEveryLengthSays(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	value := func(ns int) parts.Value[unit.Second] {
		return parts.Value[unit.Second]{Is: unit.Second(ns) * 1e-9, Given: true, Basis: parts.Datasheet, Source: "made up"}
	}
	d := durations()[3] // the low of a 0: nothing need be stated
	seen := map[finding.Grade]int{}
	for range 5000 {
		kind := func(name string) (chainKind, int, int) {
			lo, hi := 1+r.Intn(20), 0
			hi = lo + r.Intn(10)
			w := parts.Window{}
			if r.Intn(4) > 0 {
				w.Min = value(lo)
			} else {
				lo = 0
			}
			if r.Intn(4) > 0 {
				w.Max = value(hi)
			} else {
				hi = 1000
			}
			p := &parts.Protocol{}
			p.Zero.Low = w
			return chainKind{name: name, is: p, runs: []string{"E1"}}, lo, hi
		}
		a, aLo, aHi := kind("protocol/a")
		b, bLo, bHi := kind("protocol/b")
		common := false
		for ns := 1; ns <= 40; ns++ {
			common = common || ns >= aLo && ns <= aHi && ns >= bLo && ns <= bHi
		}
		want := finding.Pass
		if !common {
			want = finding.Tight
		}
		got := finding.Pass
		for _, x := range shared("A1.P1", a, b, d) {
			got = max(got, x.Grade)
		}
		seen[got]++
		if got != want {
			t.Fatalf("%d to %d ns and %d to %d ns: %s, want %s", aLo, aHi, bLo, bHi, got, want)
		}
	}
	if seen[finding.Pass] < 500 || seen[finding.Tight] < 500 {
		t.Errorf("only %v were met", seen)
	}
}

// Every pair of the catalogue gets one verdict, the same both ways; a protocol beside itself passes unless it says too little.
func TestEveryPairOfProtocolsIsJudgedTheSameBothWays(t *testing.T) {
	library := parts.Catalogue()
	verdict := func(a, b string) finding.Grade {
		kind := func(name string) chainKind {
			p, _ := parts.Get[parts.Protocol](library, name)
			return chainKind{name, p, []string{"E1"}}
		}
		worst := finding.Pass
		for _, x := range mixed("A1.P1", kind(a), kind(b)) {
			worst = max(worst, x.Grade)
			if x.Grade != finding.Pass && (x.Text == "" || x.Remedy == "") {
				t.Errorf("%s beside %s says nothing", a, b)
			}
		}
		return worst
	}
	names := library.Names("protocol")
	for _, a := range names {
		for _, b := range names {
			if one, other := verdict(a, b), verdict(b, a); one != other {
				t.Errorf("%s beside %s is %s, and %s the other way", a, b, one, other)
			}
		}
		if got := verdict(a, a); got != finding.Pass && got != finding.Unknown {
			t.Errorf("%s beside itself is %s", a, got)
		}
	}
	for _, c := range []struct {
		a, b string
		want finding.Grade
	}{
		{"single-wire-800k-24", "single-wire-800k-24-50us", finding.Pass},               // a one that is low for 580 to 600 ns
		{"single-wire-800k-24-80us", "single-wire-800k-24-80us-long-one", finding.Pass}, // 750 ns high is a one to both
		{"single-wire-800k-24-rgb", "single-wire-800k-24-rgb-long-one", finding.Fails},  // 525 to 675 ns, and 925 to 1075 ns
		{"clocked-32", "clocked-32-latched", finding.Pass},
		{"clocked-32", "clocked-24", finding.Fails},
		{"single-wire-800k-48", "single-wire-800k-24", finding.Tight},
	} {
		if got := verdict("protocol/"+c.a, "protocol/"+c.b); got != c.want {
			t.Errorf("%s beside %s is %s, want %s", c.a, c.b, got, c.want)
		}
	}
}
