package parts

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
