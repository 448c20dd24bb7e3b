package parts

import "farend/unit"

// A Chip is a component that a part is made of, with its datasheet.
type Chip struct {
	Part   string `key:"part,required"`
	Source string `key:"source"`
}

// A Board is a distribution or controller board.
type Board struct {
	Title    string           `key:"title,required"`
	VoltsMax Value[unit.Volt] `key:"volts_max"`
	Inlet    Inlet            `key:"inlet,required"`
	Ways     map[string]Way   `key:"ways,required"`
	Ports    map[string]Port  `key:"ports"`
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
	VoltsMax   Value[unit.Volt]   `key:"volts_max"`     // that they break, of direct current
	Inrush     Value[unit.Ampere] `key:"inrush"`        // that they may make
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
	Chips  []Chip             `key:"chips"`
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
