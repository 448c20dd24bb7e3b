package scheme

import (
	"strconv"
	"strings"

	"farend/finding"
	"farend/unit"
)

// A Kind says what a reference points to. The zero Kind is not resolved yet.
type Kind int

const (
	Unresolved  Kind = iota
	SupplyRef        // T1: the terminals of a supply
	InletRef         // A1.in: the inlet of a board
	WayRef           // A1.2: a fused way of a board; the socket is "2"
	PortRef          // A1.P1: a data port of a board; the socket is "P1"
	StationRef       // E1@start, E1@end, E1@px120, E1@px120-, E1@2.5m: a cut mark of a run
	JunctionRef      // X1: a junction
	RunRef           // E1: a run as a whole; data leads only
)

func (k Kind) String() string {
	return [...]string{"place", "supply", "inlet", "way", "port", "station", "junction", "run"}[k]
}

// A Ref names a place where copper may end. Reading its text settles Text, Element, Socket and the text of the station;
// reading the scheme settles Kind and the station's mark.
type Ref struct {
	Text    string // as the user wrote it
	Element string // identifier of a supply, board, run or junction
	Kind    Kind
	Socket  string // of a board: "in", a way or a port
	Station Station
}

// A Station is a place on a run. As read from text it says what the user wrote; once resolved, Mark is the cut mark just
// before pixel Mark, Pixel is the same number, Metres is nil, and Start and End say whether the mark is the first or
// the last.
type Station struct {
	Text   string // as the user wrote it, without "@"
	Start  bool
	End    bool
	Pixel  int
	Metres *unit.Metre // from the data-in end
	Before bool        // the side before a cut, written "px150-"
	Mark   int         // 0 to the number of pixels
}

const (
	refHint     = "write a supply such as T1, an inlet A1.in, a way A1.1, a port A1.P1, a junction X1, or a station E1@start"
	stationHint = "write start, end, a pixel such as px120, or a length such as 2.5m"
)

// UnmarshalText reads a reference. It judges the form only, not whether there is such an element.
func (r *Ref) UnmarshalText(text []byte) error {
	whole := strings.TrimSpace(string(text))
	read := Ref{Text: whole, Element: whole}
	if element, station, at := strings.Cut(whole, "@"); at {
		read.Element = strings.TrimSpace(element)
		if err := read.Station.UnmarshalText([]byte(station)); err != nil {
			return err
		}
	} else if element, socket, dot := strings.Cut(whole, "."); dot {
		read.Element, read.Socket = element, socket
		if !socketName(socket) {
			return &unit.Error{Text: strconv.Quote(whole) + " is not a place", Hint: "write the inlet A1.in, a way A1.1 or a port A1.P1"}
		}
	}
	if !Identifier(read.Element) {
		return &unit.Error{Text: strconv.Quote(whole) + " is not a place", Hint: refHint}
	}
	*r = read
	return nil
}

// String is the reference in its canonical form: a resolved station is named by its mark.
func (r Ref) String() string {
	switch {
	case r.Socket != "":
		return r.Element + "." + r.Socket
	case r.Kind == StationRef || r.Station.Text != "":
		return r.Element + "@" + r.Station.String()
	}
	return r.Element
}

// Same reports whether two resolved references name the same place.
func (r Ref) Same(other Ref) bool {
	return r.Kind == other.Kind && r.Element == other.Element && r.Socket == other.Socket &&
		r.Station.Mark == other.Station.Mark && r.Station.Before == other.Station.Before
}

// UnmarshalText reads start, end, px120, px120-, 2.5m or 2.5m-.
func (s *Station) UnmarshalText(text []byte) error {
	whole := strings.TrimSpace(string(text))
	bare, before := strings.CutSuffix(whole, "-")
	bare = strings.TrimSpace(bare)
	read := Station{Text: whole, Before: before}
	var err error
	switch number, pixel := strings.CutPrefix(bare, "px"); {
	case bare == "start" || bare == "end":
		read.Start, read.End = bare == "start", bare == "end"
		if before {
			err = &unit.Error{Text: "there is no cut at the " + bare + " of a run, so no side before it", Hint: "write " + bare}
		}
	case pixel:
		read.Pixel, err = pixelNumber(whole, number)
	default:
		read.Metres, err = metres(whole, bare)
	}
	if err == nil {
		*s = read
	}
	return err
}

func pixelNumber(whole, number string) (int, error) {
	pixel, err := strconv.Atoi(number)
	if err != nil || number[0] == '+' || number[0] == '-' {
		return 0, &unit.Error{Text: strconv.Quote(whole) + " is not a station", Hint: "write px and a whole number, such as px120"}
	}
	return pixel, nil
}

func metres(whole, bare string) (*unit.Metre, error) {
	if bare == "" || strings.IndexByte("+-.0123456789", bare[0]) < 0 {
		hint := stationHint
		if near := finding.DidYouMean(bare, []string{"start", "end"}); near != "" {
			hint = "did you mean " + near + "?"
		}
		return nil, &unit.Error{Text: strconv.Quote(whole) + " is not a station", Hint: hint}
	}
	at, err := unit.Parse[unit.Metre](bare)
	if err == nil && at < 0 {
		err = &unit.Error{Text: strconv.Quote(whole) + " is not a station: lengths count from the data-in end", Hint: "write a length of 0 m or more"}
	}
	return &at, err
}

// String names the station: as a mark once it is resolved, as written before.
func (s Station) String() string {
	switch {
	case s.Metres != nil:
		return s.Text
	case s.Start:
		return "start"
	case s.End:
		return "end"
	case s.Before:
		return "px" + strconv.Itoa(s.Pixel) + "-"
	}
	return "px" + strconv.Itoa(s.Pixel)
}

// Identifier reports whether text may name an element: letters A to Z of either case, digits, "-" and "_", and a
// letter first.
func Identifier(text string) bool { return text != "" && letter(text[0]) && socketName(text) }

func socketName(text string) bool {
	for i := range len(text) {
		if c := text[i]; !letter(c) && (c < '0' || c > '9') && c != '-' && c != '_' {
			return false
		}
	}
	return text != ""
}

func letter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }
