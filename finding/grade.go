package finding

// A Grade says how bad a finding is. Worse grades are larger; the zero value is Pass.
type Grade int

const (
	Pass    Grade = iota
	Note          // worth knowing
	Tight         // works, with little margin
	Unknown       // not assessed, and why
	Fails         // will not do what was asked
	Danger        // can hurt or burn
)

var gradeNames = [...]string{"pass", "note", "tight", "unknown", "fails", "danger"}

func (g Grade) String() string { return gradeNames[g] }

// Letter is the mark that stands in the grade's box, so that colour is never the only signal.
func (g Grade) Letter() string { return [...]string{" ", "N", "T", "?", "F", "D"}[g] }

// MarshalText writes the grade as its word.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }
