package study

import (
	"slices"

	"farend/network"
	"farend/scheme"
	"farend/unit"
)

// A Feeding is an end of a cable that something feeds.
type Feeding struct {
	End     scheme.End
	Entered bool // whether current enters there in some case; where none does, it is a fault in the cable that would draw from there
	network.Behind
}

// Feedings lists the ends of a cable that are fed, with what has to protect the cable there. Where current enters it is all that copper
// leads to, tape as well. Where none does it is what cables, boards and junctions lead to: what rails let through into a
// fault only a fault that is solved knows. A cable without current that only tape leads to is fed by that. Through a link of the return alone comes home
// what is fed to the place where current enters it.
func (s *Study) Feedings(cable string) []Feeding {
	entered, powered := s.Entered(cable), s.Scheme.Cables[cable].Pole.Has(scheme.Plus)
	var fed []Feeding
	for _, end := range []scheme.End{"from", "to"} {
		f := Feeding{End: end, Entered: slices.Contains(entered, end)}
		switch {
		case f.Entered:
			f.Behind = s.Network.Behind(cable, end)
		case powered:
			f.Behind = s.Network.BehindByWire(cable, end)
		}
		if f.feeds() {
			fed = append(fed, f)
		}
	}
	if len(fed)+len(entered) > 0 || !powered {
		return fed
	}
	for _, end := range []scheme.End{"from", "to"} {
		if f := (Feeding{End: end, Behind: s.Network.Behind(cable, end)}); f.feeds() {
			fed = append(fed, f)
		}
	}
	return fed
}

func (f Feeding) feeds() bool { return len(f.Fuses)+len(f.Bare) > 0 }

// leak is a current that counts as none: rounding, and what pixels leak.
const leak unit.Ampere = 1e-3

// Entered lists the ends of a cable at which current enters in some case: by its plus, or by its return where it has no plus.
func (s *Study) Entered(cable string) []scheme.End {
	along, against := false, false
	for _, c := range s.Cases() {
		r := s.Result(c.Name).Cables[cable]
		mean := r.Plus.Mean
		if s.Scheme.Cables[cable].Pole == scheme.Return {
			mean = -r.Return.Mean
		}
		along, against = along || mean > leak, against || mean < -leak
	}
	var ends []scheme.End
	if along {
		ends = append(ends, "from")
	}
	if against {
		ends = append(ends, "to")
	}
	return ends
}

// Homeward is, where the return of a cable brings home more in a case than the plus sends, the end at which the return is entered, and
// that at which the plus is; the first is "" where it does not.
func (s *Study) Homeward(c network.Case, cable string) (home, sent scheme.End) {
	r := s.Result(c.Name).Cables[cable]
	if r.Return.RMS <= r.Plus.RMS*(1+rounding) || r.Return.RMS <= leak {
		return "", ""
	}
	return entered(-r.Return.Mean), entered(r.Plus.Mean)
}
