package parts_test

import (
	"strings"
	"testing"

	"farend/parts"
)

func TestNamesOfPartsAreMeantByTheirNumbers(t *testing.T) {
	library := parts.Catalogue()
	for _, c := range []struct{ kind, name, want string }{
		{"fuse", "fuse/blade-7A", "fuse/blade-7.5A"}, // by value, though 1A is as few letters away
		{"fuse", "fuse/blade-100A", "fuse/blade-40A"},
		{"fuse", "fuse/blade-75A", "fuse/blade-7.5A"}, // a point left out
		{"fuse", "fuse/inline-30", "fuse/inline-30A"},
		{"fuse", "fuse/blaed-10A", "fuse/blade-10A"},
		{"fuse", "blade-10A", "fuse/blade-10A"},
		{"fuse", "Blade-10a", "fuse/blade-10A"},
		{"fuse", "blade-7A", "fuse/blade-7.5A"},
		{"fuse", "fuses/blade-10A", "fuse/blade-10A"},
		{"fuse", "10A", ""},
		{"cable", "cable/flex-2x3", "cable/flex-2x2.5 cable/flex-2x4"},
		{"cable", "flex-2x2.5", "cable/flex-2x2.5"},
		{"cable", "cable/flex-2x15", "cable/flex-2x1.5"},
		{"cable", "cable/flex-9x2.5", "cable/flex-2x2.5"},
		{"cable", "cable/pair-13.4awg", "cable/pair-13awg cable/pair-14awg"},
		{"tape", "tape/5v-rgb-06", "tape/5v-rgb-60"}, // two figures swapped
		{"tape", "tape/5v-rgb-600", "tape/5v-rgb-60"},
		{"tape", "tape/5v-rgb-50", "tape/5v-rgb-60"},
		{"tape", "", ""},
		{"tape", "/", ""},
		{"fuse", "fuse/blade-7A – slow", ""}, // so long a tail is no slip; letters of more than one byte have hung it,
		{"fuse", "fuse/b\xffl\xe2\x80", ""},
	} {
		if got := strings.Join(library.Meant(c.kind, c.name), " "); got != c.want {
			t.Errorf("%s %q is meant to be %q, want %q", c.kind, c.name, got, c.want)
		}
	}
}

func FuzzMeant(f *testing.F) {
	library := parts.Catalogue()
	for _, name := range []string{"fuse/blade-7A", "cable/flex-2x3", "µ–\xff7", "İ2"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		for _, meant := range library.Meant("cable", name) {
			if _, ok := library.Find(meant); !ok {
				t.Errorf("%q is said to be %q, which is no part", name, meant)
			}
		}
	})
}

func TestARatingStandsForAPart(t *testing.T) {
	library := parts.Catalogue()
	for _, c := range []struct{ kind, text, usual, want string }{
		{"fuse", "10A", "fuse/blade-", "fuse/blade-10A"},
		{"fuse", "7.5 A", "fuse/inline-", "fuse/inline-7.5A"},
		{"fuse", "0.05 A", "fuse/blade-", "fuse/ptc-0.05A"},
		{"fuse", "11 A", "fuse/blade-", ""},
		{"fuse", "10", "fuse/blade-", ""},
		{"cable", "2.5mm2", "cable/flex-2x", "cable/flex-2x2.5"},
	} {
		if got, ok := library.Rated(c.kind, c.text, c.usual); got != c.want || ok != (c.want != "") {
			t.Errorf("%s of %s is %q (%v), want %q", c.kind, c.text, got, ok, c.want)
		}
	}
	if got := library.Named("fuse", "maxi"); len(got) != 6 || got[0] != "fuse/inline-maxi-30A" {
		t.Errorf("maxi is in %v", got)
	}
	if got := library.Named("fuse", ""); len(got) != 0 {
		t.Errorf("nothing is in %v", got)
	}
}
