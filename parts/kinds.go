package parts

import "farend/unit"

// A Tape is a flexible strip product; also rigid bars and strings of pixel nodes. Pixel i sits at (i + ½)·pitch from
// the data-in end.
type Tape struct {
	Title      string                  `key:"title,required"`
	Chips      []Chip                  `key:"chips"`
	Volts      Value[unit.Volt]        `key:"volts,required"`
	VoltsMin   Value[unit.Volt]        `key:"volts_min"` // the lowest voltage at which the chip is proven
	VoltsMax   Value[unit.Volt]        `key:"volts_max"` // the highest allowed
	Pixels     Value[unit.PerMetre]    `key:"pixels,required"`
	CutEvery   int                     `key:"cut_every,required"` // pixels between cut marks
	Rail       Value[unit.OhmPerMetre] `key:"rail,required"`      // each pole at 20 °C, or the positive where rail_return is given
	RailReturn Value[unit.OhmPerMetre] `key:"rail_return"`
	RailAmps   Value[unit.Ampere]      `key:"rail_amps"`
	JointEvery Value[unit.Metre]       `key:"joint_every"`
	Joint      Value[unit.Ohm]         `key:"joint"` // one factory joint, each pole
	Phase      Phase                   `key:"phase"` // empty means unknown
	Channels   map[string]Channel      `key:"channels,required"`
	Idle       Channel                 `key:"idle,required"`
	Logic      Logic                   `key:"logic"`
	Protocol   string                  `key:"protocol,required"`
	Origin
}

// A Chip is a component that fits the tape, with its datasheet.
type Chip struct {
	Part   string `key:"part,required"`
	Source string `key:"source"`
}

// Phase says whether the pulse-width cycles of the pixels start together.
type Phase string

func (Phase) Words() []string { return []string{"free", "together", "unknown"} }

// ChannelNames lists the channels a tape may have, in the order of results.
func ChannelNames() []string {
	return []string{"red", "green", "blue", "white", "warm", "cold", "amber"}
}

// A Channel is one colour of a pixel: the law of package pixel and the light at the set current (regulated) or at the
// tape's nominal voltage (string).
type Channel struct {
	Set     Value[unit.Ampere]  `key:"set"`
	Lo      Value[unit.Volt]    `key:"lo,required"`
	Hi      Value[unit.Volt]    `key:"hi"`
	Soft    Value[unit.Volt]    `key:"soft,required"`
	String  Value[unit.Ohm]     `key:"string"` // resistor-limited instead of regulated
	Candela Value[unit.Candela] `key:"candela"`
	X       float64             `key:"x"` // CIE 1931 chromaticity
	Y       float64             `key:"y"`
	Origin
}

// Logic is what a data input asks for. Thresholds are a share of the supply or fixed voltages.
type Logic struct {
	Supply string           `key:"supply"` // "rail", or the chip's own logic voltage such as "5 V"
	High   string           `key:"high"`
	Low    string           `key:"low"`
	Over   Value[unit.Volt] `key:"over"`
	Under  Value[unit.Volt] `key:"under"`
	Origin
}

// A Protocol is how pixel data is sent.
type Protocol struct {
	Title   string             `key:"title,required"`
	Bits    int                `key:"bits,required"` // of one pixel
	Period  Value[unit.Second] `key:"period,required"`
	Latch   Value[unit.Second] `key:"latch"`
	Order   string             `key:"order"`
	Clocked bool               `key:"clocked"`
	Origin
}

// A Cable is conductors in one sheath. Iz is for one circuit at 30 °C, by method of installation.
type Cable struct {
	Title       string                     `key:"title,required"`
	Cores       int                        `key:"cores,required"`
	Area        Value[unit.SquareMetre]    `key:"area,required"`
	Class       int                        `key:"class"` // IEC 60228: 2 stranded, 5 flexible
	R20         Value[unit.OhmPerMetre]    `key:"r20,required"`
	Insulation  Value[unit.Celsius]        `key:"insulation,required"`
	Iz          Ampacity                   `key:"iz"`
	Z0          Value[unit.Ohm]            `key:"z0"`
	Delay       Value[unit.SecondPerMetre] `key:"delay"`
	Capacitance Value[unit.FaradPerMetre]  `key:"capacitance"`
	Origin
}

// An Ampacity is a current-carrying capacity by method: IEC 60364-5-52 B2 (conduit), C (surface), E (free).
type Ampacity struct {
	Conduit Value[unit.Ampere] `key:"conduit"`
	Surface Value[unit.Ampere] `key:"surface"`
	Free    Value[unit.Ampere] `key:"free"`
	Origin
}

// A Fuse is a fuse link, with its holder where it is an inline one.
type Fuse struct {
	Title         string             `key:"title,required"`
	Rating        Value[unit.Ampere] `key:"rating,required"`
	Resistance    Value[unit.Ohm]    `key:"resistance,required"` // cold
	ResistanceHot Value[unit.Ohm]    `key:"resistance_hot"`      // at rated current
	Curve         string             `key:"curve"`
	VoltsMax      Value[unit.Volt]   `key:"volts_max"`
	Breaking      Value[unit.Ampere] `key:"breaking"`
	Holder        Holder             `key:"holder"`
	Seat          string             `key:"seat"` // the connector that an inline fuse brings along as its holder
	Origin
}

// Holder is the form of a fuse and of the place it goes into.
type Holder string

func (Holder) Words() []string { return []string{"blade", "cartridge", "inline", "soldered"} }

// A Curve is the time-current gates of a fuse family.
type Curve struct {
	Title string `key:"title,required"`
	Gates []Gate `key:"gates,required"`
	Origin
}

// A Gate is the time within which a fuse opens at a multiple of its rating. A gate without a maximum guarantees only that
// the fuse holds for the minimum.
type Gate struct {
	Multiple float64            `key:"multiple,required"`
	Min      Value[unit.Second] `key:"min"`
	Max      Value[unit.Second] `key:"max"`
	Origin
}

// A Supply is an AC/DC power supply.
type Supply struct {
	Title            string             `key:"title,required"`
	Volts            Value[unit.Volt]   `key:"volts,required"`
	VoltsMin         Value[unit.Volt]   `key:"volts_min"` // trim range
	VoltsMax         Value[unit.Volt]   `key:"volts_max"`
	Amps             Value[unit.Ampere] `key:"amps,required"`
	Watts            Value[unit.Watt]   `key:"watts,required"`
	SourceResistance Value[unit.Ohm]    `key:"source_resistance,required"`
	Limit            Limit              `key:"limit,required"`
	LimitAt          Band[unit.Ampere]  `key:"limit_at,required"`
	PulseOn          Value[unit.Second] `key:"pulse_on"`    // hiccup: how long it is on
	PulseOff         Value[unit.Second] `key:"pulse_off"`   // and how long off
	PulseBelow       Value[unit.Volt]   `key:"pulse_below"` // hiccup: it holds the current from this voltage up
	FoldTo           Value[unit.Ratio]  `key:"fold_to"`     // fold-back: current into a short over the limit
	Boost            Value[unit.Ratio]  `key:"boost"`       // boost: what it gives at first, over the rated current
	BoostFor         Value[unit.Second] `key:"boost_for"`   // how long
	Then             Limit              `key:"then"`        // and what follows
	NoLoad           Value[unit.Watt]   `key:"no_load"`
	Efficiency       Value[unit.Ratio]  `key:"efficiency"`
	Parallel         Permission         `key:"parallel"`
	Origin
}

// Limit is what a supply does when asked for more than its limit. The words belong to files, so they are here; package
// supply has the laws, without words, and neither needs the other.
type Limit string

const (
	ConstantCurrent Limit = "constant-current" // holds the current and lets the voltage fall
	Hiccup          Limit = "hiccup"           // switches itself off and on again, for ever
	FoldBack        Limit = "fold-back"        // lowers the current with the voltage
	LatchOff        Limit = "latch-off"        // shuts down until somebody switches it off and on
	Boost           Limit = "boost"            // gives more for some seconds, then does one of the others
)

// Words lists the behaviours as files spell them.
func (Limit) Words() []string {
	return []string{string(ConstantCurrent), string(Hiccup), string(FoldBack), string(LatchOff), string(Boost)}
}

// Steady is what the supply does at its limit in the long run: after a boost, what follows it. Where a part does not say
// what follows, it holds the current, which gives copper the most to carry.
func (s *Supply) Steady() Limit {
	switch {
	case s.Limit != Boost:
		return s.Limit
	case s.Then == "" || s.Then == Boost:
		return ConstantCurrent
	}
	return s.Then
}

// Folded is the current into a short over the limit of a supply that folds back. Where a part does not state it, it is
// 30 %: from memory, the limiters of textbooks let a fifth to a half of their limit into a short.
func (s *Supply) Folded() Value[unit.Ratio] {
	return s.FoldTo.Or(Value[unit.Ratio]{Is: 0.3, Basis: Memory, Source: "30 % where the part does not say: typical of fold-back limiters, no source read", Given: true})
}

// Permission says whether the maker allows something.
type Permission string

func (Permission) Words() []string { return []string{"allowed", "forbidden"} }

// A Board is a distribution or controller board.
type Board struct {
	Title string          `key:"title,required"`
	Inlet Inlet           `key:"inlet,required"`
	Ways  map[string]Way  `key:"ways,required"`
	Ports map[string]Port `key:"ports"`
	Origin
}

// An Inlet is where a board is fed; Resistance is per pole.
type Inlet struct {
	Amps       Value[unit.Ampere] `key:"amps,required"`
	Resistance Value[unit.Ohm]    `key:"resistance,required"`
	Origin
}

// A Way is one fused outgoing circuit; Resistance is the positive path beside the fuse. The return terminal joins the
// common bar.
type Way struct {
	Amps       Value[unit.Ampere] `key:"amps,required"`
	Resistance Value[unit.Ohm]    `key:"resistance,required"`
	Holder     Holder             `key:"holder"`
	Origin
}

// A Port is one data output.
type Port struct {
	High       Value[unit.Volt]   `key:"high"`
	Low        Value[unit.Volt]   `key:"low"`
	Driver     Value[unit.Ohm]    `key:"driver"`
	Series     Value[unit.Ohm]    `key:"series"`
	Rise       Value[unit.Second] `key:"rise"`
	Ground     Value[unit.Ohm]    `key:"ground,required"` // from the common bar to the port's ground contact
	GroundAmps Value[unit.Ampere] `key:"ground_amps"`
	GroundFuse string             `key:"ground_fuse"`
	Origin
}

// A Contact is where copper meets copper under a screw, a spring or a crimp; the same for each pole. Resistance is one
// pole's, all its transitions together.
type Contact struct {
	Amps       Value[unit.Ampere]      `key:"amps,required"`
	Resistance Value[unit.Ohm]         `key:"resistance,required"`
	VoltsMax   Value[unit.Volt]        `key:"volts_max"`
	AreaMin    Value[unit.SquareMetre] `key:"area_min"`
	AreaMax    Value[unit.SquareMetre] `key:"area_max"`
	Torque     Value[unit.NewtonMetre] `key:"torque"` // of its screw
}

// A Connector is a plug, a terminal or a fuse holder at the end of a cable.
type Connector struct {
	Title string `key:"title,required"`
	Contact
	Origin
}

// A Junction is a splice, terminal block or tee where several cables meet.
type Junction struct {
	Title string `key:"title,required"`
	Contact
	Ways int `key:"ways,required"`
	Origin
}

// An Enclosure is a box that holds supplies and boards. Sheds is the heat that its walls give off in still air, per area
// and kelvin.
type Enclosure struct {
	Title  string                               `key:"title,required"`
	IP     string                               `key:"ip"` // two digits, IEC 60529
	Width  Value[unit.Metre]                    `key:"width,required"`
	Height Value[unit.Metre]                    `key:"height,required"`
	Depth  Value[unit.Metre]                    `key:"depth,required"`
	Sheds  Value[unit.WattPerSquareMetreKelvin] `key:"sheds"`
	Origin
}

// A Relay is a contactor or load relay.
type Relay struct {
	Title      string             `key:"title,required"`
	Amps       Value[unit.Ampere] `key:"amps,required"` // of its contacts
	VoltsMax   Value[unit.Volt]   `key:"volts_max"`
	Inrush     Value[unit.Ampere] `key:"inrush"` // that its contacts may make
	Resistance Value[unit.Ohm]    `key:"resistance"`
	CoilVolts  Value[unit.Volt]   `key:"coil_volts"`
	CoilWatts  Value[unit.Watt]   `key:"coil_watts"`
	Origin
}

// A Capacitor is put across the rails of a run.
type Capacitor struct {
	Title       string             `key:"title,required"`
	Capacitance Value[unit.Farad]  `key:"capacitance,required"`
	VoltsMax    Value[unit.Volt]   `key:"volts_max,required"`
	Resistance  Value[unit.Ohm]    `key:"resistance"` // in series with it
	Ripple      Value[unit.Ampere] `key:"ripple"`     // that it may carry for good
	Origin
}

// A Buffer lifts data to another level.
type Buffer struct {
	Title  string             `key:"title,required"`
	Volts  Value[unit.Volt]   `key:"volts,required"` // its own supply
	Logic  Logic              `key:"logic"`          // what its input asks for
	High   Value[unit.Volt]   `key:"high"`           // what it gives
	Low    Value[unit.Volt]   `key:"low"`
	Driver Value[unit.Ohm]    `key:"driver"`
	Series Value[unit.Ohm]    `key:"series"`
	Rise   Value[unit.Second] `key:"rise"`
	Delay  Value[unit.Second] `key:"delay"`
	Origin
}
