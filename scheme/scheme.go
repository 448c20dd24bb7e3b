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

// A Scheme is a whole installation. The maps are keyed by identifier. What a key is, its tag says, for the JSON Schema too; so
// does part, the kind of part that a text names, and names, what the keys of a map are.
type Scheme struct {
	Format     int                   `key:"farend,required" doc:"version of the form of this file"`
	Title      string                `key:"title" like:"Weir Lane footbridge" doc:"name of the installation, in one line"`
	Site       Site                  `key:"site" doc:"the surroundings"`
	Aims       Aims                  `key:"aims" doc:"what the installation must reach"`
	Supplies   map[string]Supply     `key:"supplies" names:"identifier" doc:"AC/DC power supplies, such as T1"`
	Boards     map[string]Board      `key:"boards" names:"identifier" doc:"distribution or controller boards, such as A1"`
	Runs       map[string]Run        `key:"runs" names:"identifier" doc:"installed lengths of tape, such as E1"`
	Cables     map[string]Cable      `key:"cables" names:"identifier" doc:"conductors between two points, such as W1; a cable that lands on a run is a feed"`
	Fuses      map[string]string     `key:"fuses" names:"way" part:"fuse,choose" like:"fuse/blade-7.5A" doc:"the fuse in each way of a board, such as A1.2; a way without one is bridged"`
	Data       map[string]Lead       `key:"data" names:"identifier" doc:"data leads, such as D1"`
	Junctions  map[string]Junction   `key:"junctions" names:"identifier" doc:"splices, terminal blocks and tees for both poles, such as X1"`
	Contactors map[string]Contactor  `key:"contactors" names:"identifier" doc:"contactors and load relays, such as Q1"`
	Capacitors map[string]Capacitor  `key:"capacitors" names:"identifier" doc:"capacitors across the rails of runs, such as C1"`
	Enclosures map[string]Enclosure  `key:"enclosures" names:"identifier" doc:"boxes, such as B1"`
	States     map[string]State      `key:"states" names:"identifier" doc:"lighting states by name; the state dark is always there"`
	Duty       map[string]unit.Share `key:"duty" names:"identifier" doc:"how long each state is shown; the other hours are dark but energised"`
	Drawing    map[string]Shape      `key:"drawing" names:"identifier" doc:"where things are, in metres without a unit: the one exception"`
	Revisions  []Revision            `key:"revisions" doc:"what was issued, the first first; title blocks show the last"`
	Parts      parts.Set             `key:"parts" doc:"parts of one's own, in the form of the catalogue"`

	File    string                 // the name it was read from
	Hash    string                 // SHA-256 of its text, 64 hexadecimal digits
	Library *parts.Library         // the catalogue with the scheme's own parts over it
	Places  map[string]finding.Pos // where each key stands, by JSON Pointer
	Notes   []finding.Finding      // what reading changed: a place rounded to a mark, a length taken from the drawing; and what no rule judges
}

// A Site is the surroundings.
type Site struct {
	Ambient    *unit.Celsius `key:"ambient" like:"35 °C" doc:"the hottest air around cables and boards; 30 °C where not given"`
	Coldest    *unit.Celsius `key:"coldest" like:"-10 °C" doc:"the coldest air; 0 °C where not given, −20 °C outdoors"`
	Exposure   Exposure      `key:"exposure" doc:"how wet the place is; where it is not given, what rests on it is unknown"`
	Metalwork  Metalwork     `key:"metalwork" doc:"what a stray positive would meet; taken as bonded where not given"`
	Mains      unit.Volt     `key:"mains" like:"230 V" doc:"voltage of the socket; nothing is computed from it yet; mains work is a licensed electrician's"`
	Tariff     unit.Price    `key:"tariff" doc:"what a kilowatt hour costs"`
	Conductors Conductors    `key:"conductors" doc:"temperature of copper: warm, solved from load and ambient, or one temperature for all"`
	Separate   [][]string    `key:"separate" like:"[[E1, E2]]" doc:"runs whose rails are out of reach of each other; those of other voltages are within reach unless listed here"`
}

// Exposure is how wet the place is; empty means that nobody says.
type Exposure = parts.Exposure

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
	FrameRate   unit.Hertz  `key:"frame_rate" like:"50 Hz" doc:"frames a second that every run must get"`
	Cap         *unit.Ratio `key:"cap" like:"80 %" doc:"the highest drive the control system will send; 100 % where not given; a comfort, never a protection"`
	Evenness    *unit.Ratio `key:"evenness" like:"85 %" doc:"dimmest over brightest pixel of one run, in the worst state; 80 % where not given"`
	ColourShift *float64    `key:"colour_shift" like:"0.004" doc:"largest difference of u′v′ within one run; 0.004 where not given"`
}

// A Supply is one AC/DC supply. Volts trims the set point.
type Supply struct {
	Part  string     `key:"part,required" part:"supply,choose" like:"supply/5v-200w" doc:"which supply it is; choose where that is open"`
	Volts *unit.Volt `key:"volts" like:"5.2 V" doc:"set point, where it is trimmed"`
	Label string     `key:"label" like:"plant room" doc:"what drawings and labels call it, in one line"`
}

// A Board is one distribution or controller board.
type Board struct {
	Part    string  `key:"part,required" part:"board,choose" like:"board/four-way-two-port" doc:"which board it is; choose where that is open"`
	Host    string  `key:"host" like:"north controller" doc:"the controller that sends its data, as people call it"`
	Address Address `key:"address" doc:"where the network finds it: an IP address or a host name"`
	Label   string  `key:"label" like:"north cabinet" doc:"what drawings and labels call it, in one line"`
}

// A Run is an installed length of tape. Length and Pixels are both set once the scheme is read.
type Run struct {
	Tape   string       `key:"tape,required" part:"tape" like:"tape/5v-rgb-60" doc:"which tape it is"`
	Length *unit.Metre  `key:"length" like:"4.8 m" doc:"how long it is, rounded down to a cut mark; left out where pixels or the drawing say it"`
	Pixels *int         `key:"pixels" like:"288" doc:"how many pixels it has, instead of its length"`
	Label  string       `key:"label" like:"west handrail" doc:"what drawings and labels call it, in one line"`
	Reel   string       `key:"reel" like:"R1" doc:"the reel it was cut from: tapes of one reel are alike"`
	IP     string       `key:"ip" like:"67" doc:"degree of protection of the tape as installed, two digits of IEC 60529, where its part does not say"`
	Cuts   []Cut        `key:"cuts" doc:"where a rail is cut; the tape stays one run"`
	Joints []unit.Metre `key:"joints" doc:"soldered joints, each by its length from the data-in end"`

	Count int // pixels, resolved
}

// A Cut is a place where a rail is cut. The tape stays one run; the copper does not.
type Cut struct {
	At   Station `key:"at,required" doc:"the cut mark: start, end, px120 or 2.5m"`
	Pole Pole    `key:"pole,required" doc:"which rail is cut"`
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
	Part         string        `key:"part,required" part:"cable,choose" like:"cable/flex-2x2.5" doc:"which cable it is; choose where that is open"`
	Length       *unit.Metre   `key:"length" like:"2.5 m" doc:"how long it is; left out where the drawing has its line"`
	From         Ref           `key:"from,required" like:"A1.1" doc:"where it begins: a supply T1, an inlet A1.in, a way A1.1, a junction X1 or a station E1@start"`
	To           Ref           `key:"to,required" like:"E1@start" doc:"where it ends, likewise"`
	Ends         Ends          `key:"ends" doc:"the connectors at its ends; their contacts are in series with each pole"`
	Fuse         string        `key:"fuse" part:"fuse,choose" like:"fuse/inline-20A" doc:"an inline fuse in its positive"`
	FuseAt       End           `key:"fuse_at" doc:"the end that the inline fuse is at; from where not given"`
	Pole         Pole          `key:"pole" doc:"the pole of a single-pole link; both where not given"`
	CoresPerPole int           `key:"cores_per_pole" like:"2" doc:"cores in parallel for each pole; 1 where not given"`
	Method       Method        `key:"method" doc:"how it is installed, IEC 60364-5-52 B2, C or E; conduit where not given"`
	Suits        Exposure      `key:"suits" doc:"the wettest place that its sheath is made for, where its part does not say"`
	Bundle       int           `key:"bundle" like:"3" doc:"loaded circuits that lie together, itself counted; 1 where not given"`
	Ambient      *unit.Celsius `key:"ambient" doc:"the hottest air around it, where it is not that of the site"`
	Beside       Beside        `key:"beside" doc:"the worst that lies in one conduit, bundle or box with it"`
	Label        string        `key:"label" like:"west feed" doc:"what drawings and labels call it, in one line"`
}

// Ends is the connectors at the ends of a cable.
type Ends struct {
	From string `key:"from" part:"connector,choose" like:"connector/pluggable-5.08mm" doc:"the connector where it begins"`
	To   string `key:"to" part:"connector,choose" like:"connector/pluggable-5.08mm" doc:"the connector where it ends"`
}

// End names one end of a cable.
type End string

const (
	FromEnd End = "from"
	ToEnd   End = "to"
)

func (End) Words() []string { return []string{string(FromEnd), string(ToEnd)} }

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
	Part   string      `key:"part,required" part:"cable,choose" like:"cable/data-3x0.5" doc:"which cable it is; choose where that is open"`
	Length *unit.Metre `key:"length" like:"1.5 m" doc:"how long it is; left out where the drawing has its line"`
	From   Ref         `key:"from,required" like:"A1.P1" doc:"the port A1.P1 that sends, or the run E1 whose data-out end it begins at"`
	To     Ref         `key:"to,required" like:"E1" doc:"the run E1 whose data-in end it ends at"`
	Ground Ground      `key:"ground" doc:"whether its ground core is connected; joined where not given"`
	Suits  Exposure    `key:"suits" doc:"the wettest place that its sheath is made for, where its part does not say"`
	Power  bool        `key:"power" doc:"whether its further cores carry the supply, past the fuses; no where not given"`
	Buffer *LeadBuffer `key:"buffer" doc:"a buffer in it, which lifts data to another level"`
	Series unit.Ohm    `key:"series" like:"33 Ω" doc:"a resistor in series with its data core where it begins, besides that of the port; behind a buffer at that end"`
	Beside Beside      `key:"beside" doc:"the worst that lies in one conduit, bundle or box with it"`
	Label  string      `key:"label" like:"west data" doc:"what drawings and labels call it, in one line"`
}

// A LeadBuffer is the buffer at one end of a data lead.
type LeadBuffer struct {
	Part string `key:"part,required" part:"buffer,choose" like:"buffer/ahct-5v" doc:"which buffer it is; choose where that is open"`
	At   End    `key:"at,required" doc:"the end of the lead that it is at"`
}

// Feeds is the run whose rails feed a buffer at an end of the lead, for nothing else is there; "" at a port, whose board feeds it.
func (l Lead) Feeds(at End) (run string) {
	if ref := l.End(at); ref.Kind == RunRef {
		return ref.Element
	}
	return ""
}

// End is what is at an end of the lead.
func (l Lead) End(at End) Ref {
	if at == ToEnd {
		return l.To
	}
	return l.From
}

// Ground says whether the ground core of a data lead is connected; empty means joined.
type Ground string

const OpenGround Ground = "open"

func (Ground) Words() []string { return []string{"joined", "open"} }

// Beside is the worst that lies in one conduit, bundle or box with a cable or data lead: power of the installation, mains, or mains that is segregated
// from it as IEC 60364-5-52 clause 528 asks. Empty means that nobody says.
type Beside string

const (
	BesideNothing    Beside = "nothing"
	BesidePower      Beside = "power"
	BesideMains      Beside = "mains"
	BesideSegregated Beside = "segregated-mains"
)

// Words lists what may lie beside a line.
func (Beside) Words() []string {
	return []string{string(BesideNothing), string(BesidePower), string(BesideMains), string(BesideSegregated)}
}

// A Junction is a splice, terminal block or tee for both poles.
type Junction struct {
	Part  string `key:"part,required" part:"junction,choose" like:"junction/lever-3" doc:"which junction it is; choose where that is open"`
	Label string `key:"label" like:"behind the beam" doc:"what drawings and labels call it, in one line"`
}

// A Contactor switches a cable.
type Contactor struct {
	Part  string `key:"part,required" part:"relay,choose" like:"relay/plug-in-30A" doc:"which contactor or relay it is; choose where that is open"`
	In    string `key:"in,required" like:"W1" doc:"the cable that it switches"`
	Label string `key:"label" like:"night switch" doc:"what drawings and labels call it, in one line"`
}

// A Capacitor is across the rails of a run.
type Capacitor struct {
	Part  string `key:"part,required" part:"capacitor,choose" like:"capacitor/1000uF-10V" doc:"which capacitor it is; choose where that is open"`
	At    Ref    `key:"at,required" like:"E1@start" doc:"the station of a run that it is at"`
	Label string `key:"label" like:"start of the west rail" doc:"what drawings and labels call it, in one line"`
}

// An Enclosure is a box with what is in it.
type Enclosure struct {
	Part     string   `key:"part,required" part:"enclosure,choose" like:"enclosure/polycarbonate-280x380x130" doc:"which box it is; choose where that is open"`
	Holds    []string `key:"holds" like:"[T1, A1]" doc:"the supplies, boards, junctions and contactors in it"`
	Exposure Exposure `key:"exposure" doc:"how wet it is where the box is, where that is not as at the site"`
	Sun      bool     `key:"sun" doc:"whether the sun shines on it; no where not given"`
	Label    string   `key:"label" like:"north cabinet" doc:"what drawings and labels call it, in one line"`
}

// A State is a lighting state: colour and level of all runs, and of single runs where they differ.
type State struct {
	Level  *unit.Ratio         `key:"level" like:"35 %" doc:"level of every run; 100 % where not given"`
	Colour *Colour             `key:"colour" doc:"colour of every run; white where not given"`
	Runs   map[string]RunState `key:"runs" names:"identifier" doc:"what differs for single runs"`
}

// A RunState is what differs for one run.
type RunState struct {
	Level  *unit.Ratio `key:"level" like:"20 %" doc:"level of this run"`
	Colour *Colour     `key:"colour" doc:"colour of this run"`
}

// A Shape is where something is drawn, in metres: one point, or the line of a run or cable.
type Shape struct{ Points [][2]float64 }
