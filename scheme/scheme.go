// Package scheme models one installation as its user wrote it: the text file NAME.scheme.yaml, read strictly, checked on
// its own (names, parts, places, lengths) and with every place resolved to a cut mark. It computes no current.
//
// Quantities are SI. Pixels of a run count from 0 at the data-in end; a mark m lies just before pixel m, so a run of n
// pixels has marks 0 to n. Identifiers are as the user wrote them.
package scheme

import (
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/unit"
)

// A Scheme is a whole installation. The maps are keyed by identifier.
type Scheme struct {
	Format    int                   `key:"farend,required"` // version of the file's form: 1
	Title     string                `key:"title"`
	Site      Site                  `key:"site"`
	Aims      Aims                  `key:"aims"`
	Supplies  map[string]Supply     `key:"supplies"`
	Boards    map[string]Board      `key:"boards"`
	Runs      map[string]Run        `key:"runs"`
	Cables    map[string]Cable      `key:"cables"`
	Fuses     map[string]string     `key:"fuses"` // way reference, such as A1.2, to fuse part
	Data      map[string]Lead       `key:"data"`
	Junctions map[string]Junction   `key:"junctions"`
	States    map[string]State      `key:"states"`
	Duty      map[string]unit.Share `key:"duty"`
	Drawing   map[string]Shape      `key:"drawing"`
	Parts     parts.Set             `key:"parts"`

	File    string                 // the name it was read from
	Library *parts.Library         // the catalogue with the scheme's own parts over it
	Places  map[string]finding.Pos // where each key stands, by JSON Pointer
	Notes   []finding.Finding      // what reading changed: a place rounded to a mark, a length taken from the drawing
}

// A Site is the surroundings.
type Site struct {
	Ambient    *unit.Celsius `key:"ambient"` // hottest air around cables and boards; 30 °C where not given
	Coldest    *unit.Celsius `key:"coldest"` // 0 °C where not given
	Exposure   Exposure      `key:"exposure"`
	Metalwork  Metalwork     `key:"metalwork"`
	Mains      unit.Volt     `key:"mains"`
	Tariff     unit.Price    `key:"tariff"`
	Conductors Conductors    `key:"conductors"`
}

// Exposure is how wet the place is; empty means dry.
type Exposure string

func (Exposure) Words() []string { return []string{"dry", "damp", "outdoors", "immersed"} }

// Metalwork is what a stray positive would meet; empty means unknown, which is treated as bonded.
type Metalwork string

func (Metalwork) Words() []string { return []string{"bonded", "isolated", "none"} }

// Conductors is the temperature of all copper: warm (solved from load and ambient), or one temperature.
type Conductors struct {
	Fixed *unit.Celsius // nil: warm
}

// UnmarshalText reads "warm" or a temperature.
func (c *Conductors) UnmarshalText(text []byte) error {
	if strings.TrimSpace(string(text)) == "warm" {
		*c = Conductors{}
		return nil
	}
	fixed, err := unit.Parse[unit.Celsius](string(text))
	if err != nil {
		return &unit.Error{Text: err.(*unit.Error).Text, Hint: "write warm, or one temperature for all copper such as 20 °C"}
	}
	c.Fixed = &fixed
	return nil
}

// Aims is what the installation must reach.
type Aims struct {
	FrameRate   unit.Hertz  `key:"frame_rate"`
	Cap         *unit.Ratio `key:"cap"`          // highest drive the control system will send; 100 % where not given
	Evenness    *unit.Ratio `key:"evenness"`     // dimmest / brightest pixel of one run, worst state; 80 % where not given
	ColourShift *float64    `key:"colour_shift"` // largest Δu'v' within one run; 0.004 where not given
}

// A Supply is one AC/DC supply. Volts trims the set point.
type Supply struct {
	Part  string     `key:"part,required"`
	Volts *unit.Volt `key:"volts"`
	Label string     `key:"label"`
}

// A Board is one distribution or controller board.
type Board struct {
	Part  string `key:"part,required"`
	Label string `key:"label"`
}

// A Run is an installed length of tape. Length and Pixels are both set once the scheme is read.
type Run struct {
	Tape   string       `key:"tape,required"`
	Length *unit.Metre  `key:"length"`
	Pixels *int         `key:"pixels"`
	Label  string       `key:"label"`
	Reel   string       `key:"reel"`
	Cuts   []Cut        `key:"cuts"`
	Joints []unit.Metre `key:"joints"` // soldered joints, metres from data-in

	Count int // pixels, resolved
}

// A Cut is a place where a rail is cut. The tape stays one run; the copper does not.
type Cut struct {
	At   Station `key:"at,required"`
	Pole Pole    `key:"pole,required"`
}

// Pole names one conductor of the pair, or both.
type Pole string

const (
	Plus   Pole = "plus"
	Return Pole = "return"
	Both   Pole = "both" // also what an empty Pole means
)

func (Pole) Words() []string { return []string{"plus", "return", "both"} }

// Has reports whether the pole p includes one ("plus" or "return").
func (p Pole) Has(one Pole) bool { return p == one || p == Both || p == "" }

// A Cable is conductors between two points; where it lands on a run it is a feed.
type Cable struct {
	Part         string        `key:"part,required"`
	Length       *unit.Metre   `key:"length"`
	From         Ref           `key:"from,required"`
	To           Ref           `key:"to,required"`
	Fuse         string        `key:"fuse"`    // inline, in the positive
	FuseAt       End           `key:"fuse_at"` // empty means from
	Pole         Pole          `key:"pole"`    // a single-pole link; empty means both
	CoresPerPole int           `key:"cores_per_pole"`
	Method       Method        `key:"method"` // empty means conduit
	Bundle       int           `key:"bundle"` // loaded circuits together; 0 means 1
	Ambient      *unit.Celsius `key:"ambient"`
	Label        string        `key:"label"`
}

// End names one end of a cable.
type End string

func (End) Words() []string { return []string{"from", "to"} }

// Method is how a cable is installed: IEC 60364-5-52 reference methods B2, C and E.
type Method string

const (
	Conduit Method = "conduit"
	Surface Method = "surface"
	Free    Method = "free"
)

func (Method) Words() []string { return []string{"conduit", "surface", "free"} }

// A Lead is a data cable from a port to a run, or from a run's data-out end to the next run's data-in end.
type Lead struct {
	Part   string      `key:"part,required"`
	Length *unit.Metre `key:"length"`
	From   Ref         `key:"from,required"`
	To     Ref         `key:"to,required"`
	Ground Ground      `key:"ground"`
	Power  bool        `key:"power"` // further cores carry the supply, past the fuses
	Label  string      `key:"label"`
}

// Ground says whether the ground core of a data lead is connected; empty means joined.
type Ground string

const OpenGround Ground = "open"

func (Ground) Words() []string { return []string{"joined", "open"} }

// A Junction is a splice, terminal block or tee for both poles.
type Junction struct {
	Part  string `key:"part,required"`
	Label string `key:"label"`
}

// A State is a lighting state: colour and level of all runs, and of single runs where they differ.
type State struct {
	Level  *unit.Ratio         `key:"level"`  // 100 % where not given
	Colour *Colour             `key:"colour"` // white where not given
	Runs   map[string]RunState `key:"runs"`
}

// A RunState is what differs for one run.
type RunState struct {
	Level  *unit.Ratio `key:"level"`
	Colour *Colour     `key:"colour"`
}

// A Shape is where something is drawn, in metres: one point, or the line of a run or cable.
type Shape struct{ Points [][2]float64 }
