package parts

import "slices"

// Exposure is how wet a place is, or the wettest that a thing is made for; empty means unsaid.
type Exposure string

const (
	Dry      Exposure = "dry"
	Damp     Exposure = "damp"
	Outdoors Exposure = "outdoors"
	Immersed Exposure = "immersed"
)

// Words lists the exposures, the driest first.
func (Exposure) Words() []string {
	return []string{string(Dry), string(Damp), string(Outdoors), string(Immersed)}
}

// IsDegree reports whether a text is a degree of protection: the two digits of IEC 60529, such as 65 for IP65.
func IsDegree(ip string) bool {
	return len(ip) == 2 && ip[0] >= '0' && ip[0] <= '6' && ip[1] >= '0' && ip[1] <= '9'
}

// DegreeHint says how a degree of protection is written.
const DegreeHint = "write its two digits, such as 65 for IP65: the first 0 to 6, the second 0 to 9 (IEC 60529)"

// Degree is the two digits of a degree of protection; it is not ok where a text is none.
func Degree(ip string) (solids, water int, ok bool) {
	if !IsDegree(ip) {
		return 0, 0, false
	}
	return int(ip[0] - '0'), int(ip[1] - '0'), true
}

// Wetness is the second digit of IEC 60529 that a thing needs in a place: with less than Least it is not made for it, with less than
// Wanted hardly. Both are 0 in a dry place, where nothing is asked.
type Wetness struct{ Least, Wanted int }

// Wetness is what a thing needs in a place as wet as this. Water drips from what is damp, straight or at a slant; rain is spray, and
// splashes up from the ground; what is immersed is so for ever, and 7 is tested for half an hour.
func (e Exposure) Wetness() Wetness {
	switch e {
	case Damp:
		return Wetness{1, 2}
	case Outdoors:
		return Wetness{3, 4}
	case Immersed:
		return Wetness{7, 8}
	}
	return Wetness{}
}

// KeepsOut reports whether a thing with one second digit of IEC 60529 keeps out what another one stands for: digits up to 6 imply all
// below, 7 and 8 imply each other downwards and what is up to 4, and 9 (jets of steam) what is up to 4.
func KeepsOut(digit, need int) bool {
	switch {
	case need <= 4:
		return digit >= need
	case need <= 6:
		return digit >= need && digit <= 6
	case need <= 8:
		return digit >= need && digit <= 8
	}
	return digit == need
}

// Stands reports whether a thing that is made for one exposure stands another; nothing that is unsaid stands more than dry.
func (e Exposure) Stands(place Exposure) bool {
	rank := func(e Exposure) int { return slices.Index(e.Words(), string(e)) }
	return rank(e) >= max(rank(place), 0) || rank(place) <= 0
}
