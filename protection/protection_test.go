package protection_test

import (
	"math"
	"testing"

	"farend/internal/schemetest"
	"farend/protection"
	"farend/study"
)

// Most schemes show one rule that judges a load; what faults do in them is left to those that show that.
func TestSchemesAreJudgedAsTheySay(t *testing.T) {
	schemetest.Run(t, "testdata/*.scheme.yaml", protection.LoadRules())
}

func TestFaultsAreJudgedAsTheySay(t *testing.T) {
	schemetest.Run(t, "testdata/faults/*.scheme.yaml", protection.Rules())
}

// exact is the relative difference from arithmetic by hand: the solver stops at 1e-9 of the largest current, and the knees of
// the pixels in these schemes leave e^−40.
const exact = 1e-6

// The sums stand in the comments of the schemes; here value and limit are compared in full.
func TestValuesAndLimitsAgreeWithArithmeticByHand(t *testing.T) {
	factor := math.Sqrt((70.0 - 45) / (70 - 30)) // IEC 60364-5-52 B.52.14 by its formula
	for _, c := range []struct {
		scheme, rule, subject, in string
		value, limit              float64
	}{
		{"bundle", "protection/cable-current", "W1", "state/full", 10, 16.5 * factor * 0.7},
		{"bundle", "protection/cable-current", "W2", "state/full", 10, 18},
		{"cap-failed", "protection/cable-current", "W1", "state/full", 12, 23},
		{"cap-failed", "protection/cable-current", "W1", "peak/full", 30 * math.Sqrt(0.4), 23},
		{"cap-failed", "protection/cable-current", "W1", "cap-failed", 30, 23},
		{"cap-failed", "protection/supply-load", "T1", "peak/full", 30, 60},
		{"peak", "protection/supply-load", "T1", "state/half", 5, 8},
		{"peak", "protection/supply-load", "T1", "peak/half", 10, 8},
		{"peak", "protection/supply-load", "T3", "peak/half", 8, 40 / 5.4},
		{"peak", "protection/cable-current", "W1", "peak/half", 10 * math.Sqrt(0.5), 20},
		{"fuses", "protection/fuse-load", "A1.1", "state/full", 6, 5.625},
		{"fuses", "protection/inline-fuse-load", "W1", "state/full", 22.3, 22.5},
		{"limits", "protection/supply-load", "T4", "state/full", 8, 7},
		{"limits", "protection/supply-load", "T2", "state/full", 8, 7},
		// 2 + 0.6·V = 6·(V − c·I − 2) + 0.001 of idle current, c = 2 mΩ of cable and 1 µΩ of rail; running, 6.001 A over 1 mΩ
		{"limits", "protection/supply-start", "T7", "state/full", (13.999 + 12*0.002001) / (5.4 - 3.6*0.002001), 10 - 0.006001},
		{"parallel", "protection/rail-current", "E3", "state/full", 0.5, 30},
	} {
		s := schemetest.Study(t, "testdata/"+c.scheme+".scheme.yaml")
		a, ok := assessed(s.Assess(protection.Rules()), c.rule, c.subject, c.in)
		if !ok || a.Value == nil || a.Limit == nil {
			t.Errorf("%s: no %s of %s in %s", c.scheme, c.rule, c.subject, c.in)
			continue
		}
		if math.Abs(*a.Value-c.value) > exact*c.value || math.Abs(*a.Limit-c.limit) > exact*c.limit {
			t.Errorf("%s: %s of %s in %s is %v against %v, want %v against %v", c.scheme, c.rule, c.subject, c.in, *a.Value, *a.Limit, c.value, c.limit)
		}
	}
}

func assessed(all []study.Assessed, rule, subject, in string) (study.Assessed, bool) {
	for _, a := range all {
		if a.Rule.Name == rule && a.Subject == subject && a.Case == in {
			return a, true
		}
	}
	return study.Assessed{}, false
}

func TestFixesRemoveWhatTheyAreFor(t *testing.T) {
	for _, c := range []struct {
		scheme, rule, subject, path string
		value                       any
	}{
		{"loose", "protection/data-power", "D1", "/data/D1/power", nil},
		{"fuses", "protection/way-fuse", "A1.3", "/fuses/A1.3", "fuse/blade-7.5A"}, // 4.8 A needs 6.4 A; the cable allows 20 A
	} {
		s, seen := schemetest.Study(t, "testdata/"+c.scheme+".scheme.yaml"), 0
		for _, f := range s.Findings(s.Assess(protection.Rules())) {
			if f.Rule != c.rule || f.Subject != c.subject {
				continue
			}
			seen++
			if len(f.Edits) != 1 || f.Edits[0].Path != c.path || f.Edits[0].Value != c.value {
				t.Errorf("%s of %s proposes %v, want %s: %v", c.rule, c.subject, f.Edits, c.path, c.value)
			}
		}
		if seen != 1 {
			t.Errorf("%s of %s was found %d times, want once", c.rule, c.subject, seen)
		}
	}
}

// Sums of faults, worked out from the parts of the schemes; the pixels that draw beside the fault leave less than three thousandths.
func TestFaultsAgreeWithArithmeticByHand(t *testing.T) {
	board := 0.1e-3 + 2*1.91e-3 + 2.9e-3 + 3*0.1e-3 // supply, W1, its fuse, both poles of the inlet and the way
	for _, c := range []struct {
		scheme, rule, subject string
		value, limit          float64
	}{
		{"leads", "protection/far-short", "A1.1", 5 / (board + 7.7e-3 + 2*30*19.5e-3 + 1e-5), 13.5},
		{"leads", "protection/far-short", "A1.2", 5 / (board + 7.7e-3 + 2*5*7.98e-3 + 1e-5), 13.5},
		{"contacts", "protection/short-heat", "W2", 5 / (0.1e-3 + 2*3.3e-3 + 3.97e-3 + 4*1e-3 + 2*7.5*13.3e-3 + 1e-5), 15},
		{"lost", "protection/lost-return", "D2", 600 * 0.01, 3},
		{"lost", "protection/lost-conductor", "A2.1", 680 * 0.01, 5},
		{"rails", "protection/short-heat", "E1", 6.75 * 6.75 * 1800 / (math.Pow(226*17.241e-2, 2) * math.Log((234.5+160)/(234.5+35))), 1},
	} {
		s := schemetest.Study(t, "testdata/faults/"+c.scheme+".scheme.yaml")
		found := false
		for _, a := range s.Assess(protection.Rules()) {
			if a.Rule.Name != c.rule || a.Subject != c.subject || a.Value == nil {
				continue
			}
			found = found || math.Abs(*a.Value-c.value) < 3e-3*c.value && math.Abs(*a.Limit-c.limit) < exact*c.limit
		}
		if !found {
			t.Errorf("%s: %s of %s is not %.5g against %.5g", c.scheme, c.rule, c.subject, c.value, c.limit)
		}
	}
}
