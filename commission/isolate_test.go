package commission_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"farend/commission"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// Taking out all that is named leaves nothing on a run or board; leaving any fuse or supply of it in leaves volts on it, the data leads plugged in.
func TestIsolatingTakesAllThatIsNamedAndNoMore(t *testing.T) {
	for _, name := range names(t) {
		isolates(t, name, example(t, name).st)
	}
	powered := 0
	for seed := range int64(4) { // all data leads carry the supply
		s, mistakes := scheme.Read("x.scheme.yaml", []byte(random(seed)), parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		for id, d := range s.Data {
			d.Power = true
			s.Data[id] = d
		}
		st := studied(t, s)
		isolates(t, fmt.Sprint("seed ", seed), st)
		for _, c := range cutoffs(t, st) {
			powered += len(c.Powered)
		}
	}
	if powered < 4 {
		t.Errorf("only %d data leads carry the supply", powered)
	}
}

func isolates(t *testing.T, name string, st *study.Study) {
	t.Helper()
	n := st.Network
	dark, _ := n.CaseNamed(string(network.Dark))
	type asked struct {
		of   string
		left string // in, "" where none is
	}
	var what []asked
	var cases []network.Case
	for _, c := range cutoffs(t, st) {
		all := slices.Concat(c.Fuses, c.Supplies)
		if _, run := st.Scheme.Runs[c.Of]; run && len(all) == 0 {
			t.Errorf("%s: nothing isolates %s", name, c.Of)
		}
		for _, left := range append([]string{""}, all...) {
			what = append(what, asked{c.Of, left})
			cases = append(cases, dark.Past(slices.DeleteFunc(slices.Clone(all), func(out string) bool { return out == left })...))
		}
	}
	k := 0
	err := st.Each(context.Background(), slices.Values(cases), func(s *network.Solution) error {
		a := what[k]
		k++
		volts := 0.0
		if p, run := n.Profile(s, a.of); run {
			volts = slices.Max(p.Volts)
		}
		for _, at := range append(n.Ways(), a.of+".in") {
			if network.BoardOf(at) == a.of {
				volts = max(volts, math.Abs(float64(n.VoltsAt(s, at))))
			}
		}
		if a.left == "" && volts > 1e-3 || a.left != "" && volts < 0.5 {
			t.Errorf("%s: %s has %v V with %q left in", name, a.of, volts, a.left)
		}
		return nil
	})
	if err != nil || k != len(cases) {
		t.Errorf("%s: %d of %d solved: %v", name, k, len(cases), err)
	}
}

func cutoffs(t testing.TB, st *study.Study) []commission.Cutoff {
	t.Helper()
	list, err := commission.Isolated(context.Background(), st)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Power that comes past the fuses by a data lead is part of what is opened, and nothing is said to stay live but what does.
func TestPowerByADataLeadIsOpenedToo(t *testing.T) {
	p := example(t, "library-atrium-altered").p
	for of, want := range map[string]string{
		"A2 (behind case 3): ": "take out the fuses W10, W30; unplug D9 at the port, which carries the supply",
		"A1 (east riser): ":    "take out the fuse W1",
		"E4 (case 2): ":        "take out the fuses W10, W30; unplug D4, D9 at the port; of these D9 carries the supply",
	} {
		if s := step(t, p, of, "in use"); s.Do != of+want {
			t.Error(s.Do)
		}
	}
}
