package sums_test

import (
	"math"
	"slices"
	"testing"

	"farend/internal/sums"
)

func TestTheCalculatorMindsSumsAndUnits(t *testing.T) {
	for _, line := range []string{
		"2 + 3 × 4 = 14", "(2 + 3) × 4 = 20", "2 × 3² = 18", "√(2 × 8) = 4", "8/2/2 = 2", "7 − 2 − 2 = 3", "10 mΩ × 2 A = 20 mV", "2 V/4 A = 0.5 Ω",
		"100 mΩ/m × 2 m = 0.2 Ω", "6 A/V × 2 V = 12 A", "1/3 = 0.33", "2/3 = 0.67", "0.5 = 50 %", "3 V × 2 A = 6 W", "2 A < 3 A", "3 A > 2 A", "1 + 1 = 2 < 3", "5 V/5 V = 1",
		"2 A ≤ 2 A", "2 A ≥ 2 A", "2 · 3 = 6", "2³ = 8", "2^0.5 = 1.414", "e^(1) = 2.718", "ln(e^(3)) = 3", "min(3 A, 2 A, 4 A) = 2 A", "max(3 A, 2 A, 4 A) = 4 A", "|2 V − 5 V| = 3 V",
		"2 − (−3) = 5", "−2 A < 1 A", "(115 A√s/mm² × 1.5 mm²)² = 29756 A²s", "1e−06 V = 1 µV", "1.5e+3 A = 1.5 kA", "2 A²s/(1 A)² = 2 s", "5 V × 1 F = 5 A × 1 s",
		"60 /m × 2 m = 120", "100 mΩ/m/100 mΩ/m = 1", "40 °C × 2.5 %/K = 1", "(2 A)² × 3 Ω = 12 W", "120 V/(60 /m) = 2 V × 1 m", "7.5 A/1.5 A = 5",
	} {
		if err := sums.Holds(line); err != nil {
			t.Error(err)
		}
	}
	for _, line := range []string{
		"2 + 3 × 4 = 20", "1/3 = 0.34", "1 A = 1 V", "1 A + 1 V = 2 A", "3 A < 2 A", "2 A > 2 A", "2 A", "(2 + 3 = 5", "2 = 2 furlong", "two = 2", "√(2 V) = 1.41 V", "2 % × 3 = 6", "2 A = 2000 mV", "",
		"3 A ≤ 2 A", "2 A ≥ 3 A", "ln(2 V) = 0.69", "2^(1 A) = 2", "min(1 A, 1 V) = 1 A", "min 1 = 1", "|2 = 2", "√(√(√(√(1 A)))) = 1 A", "2 = 2 = 3", "2..3 = 2.3", "e = 2.718", "2e = 2",
	} {
		if sums.Holds(line) == nil {
			t.Errorf("%q should not hold", line)
		}
	}
}

func TestSignsStandForQuantities(t *testing.T) {
	known := map[string]sums.Quantity{}
	for sign, text := range map[string]string{"I_30": "16.5 A", "k_g": "0.7", "Δu′v′": "0.004", "u′_1": "0.17"} {
		q, err := sums.Worth(text)
		if err != nil {
			t.Fatal(err)
		}
		known[sign] = q
	}
	sign := func(name string) (sums.Quantity, bool) { q, ok := known[name]; return q, ok }
	q, signs, err := sums.Work("2 · I_30 · k_g + 3 A", sign)
	want := []sums.Span{{From: 5, To: 9, Sign: "I_30"}, {From: 13, To: 16, Sign: "k_g"}}
	if err != nil || math.Abs(q.Value-26.1) > 1e-12 || !slices.Equal(signs, want) {
		t.Errorf("%v, signs at %v, %v", q, signs, err)
	}
	if q, signs, err = sums.Work("u′_1 + Δu′v′", sign); err != nil || math.Abs(q.Value-0.174) > 1e-12 || len(signs) != 2 {
		t.Errorf("%v, signs at %v, %v", q, signs, err)
	}
	for _, text := range []string{"I_z", "I_30 + k_g", "I_30 2", "I_30 I_30"} {
		if _, _, err := sums.Work(text, sign); err == nil {
			t.Errorf("%q should not work", text)
		}
	}
}

func TestALineIsCutAtItsFirstRelation(t *testing.T) {
	if left, relation, right, ok := sums.Cut("I_pk ≤ 2 A"); !ok || left != "I_pk" || relation != "≤" || right != "2 A" {
		t.Errorf("%q %q %q %v", left, relation, right, ok)
	}
	if _, _, _, ok := sums.Cut("2 + 2"); ok {
		t.Error("nothing is related in 2 + 2")
	}
}
