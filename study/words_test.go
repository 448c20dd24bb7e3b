package study_test

import (
	"strings"
	"testing"

	"farend/study"
)

func TestNumbersAreReadWithTheirUnits(t *testing.T) {
	for _, c := range []struct {
		reads study.Reading
		v     float64
		si    string
		want  string
	}{
		{"", 1.5e-6, "m2", "1.50 mm²"}, {"", 0.877, "A", "877 mA"}, {"", 3.4, "V", "3.40 V"}, {"", 12, "A2s", "12.0 A²s"}, {"", 116, "°C", "116 °C"},
		{"", 0.073, "1", "0.0730"}, {"", 3e-5, "1", "< 0.0001"}, {"", 0, "1", "0"},
		{study.AsPercent, 0.85, "1", "85.0 %"}, {study.AsPercent, 3e-5, "1", "0.00300 %"}, {study.AsCount, 5, "1", "5"}, {study.AsTimes, 74, "1", "74.0 times"}, {study.AsTimes, 74, "A", "74.0 A"}, {study.AsCount, 2, "A", "2.00 A"},
		{"", 2, "", "2.00"},
	} {
		if got := (study.Rule{Reads: c.reads}).Words(c.v, c.si); got != c.want {
			t.Errorf("%v %v %q: %s, want %s", c.reads, c.v, c.si, got, c.want)
		}
	}
}

func TestSeveralNamesAreListedAsInASentence(t *testing.T) {
	for n, want := range []string{"nothing", "a", "a and b", "a, b and c"} {
		if got := study.Several(strings.Fields("a b c")[:n]); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
	if got := study.Several(strings.Fields("a b c d e f g h i")); got != "a, b, c, d, e, f, g, h and i" {
		t.Error(got)
	}
	if got := study.Several(strings.Fields("a b c d e f g h i j")); got != "a, b, c, d, e, f, g, h and 2 more" {
		t.Error(got)
	}
}
