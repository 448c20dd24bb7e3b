package parts

import "farend/unit"

// A Chip is a component that a part is made of, with its datasheet.
type Chip struct {
	Part   string `key:"part,required" like:"WS2812B-V5" doc:"part number"`
	Source string `key:"source" like:"datasheet of 2019-06" doc:"its datasheet"`
}

// A Board is a distribution or controller board.
type Board struct {
	Title    string           `key:"title,required" like:"own part" doc:"what it is, in a line"`
	VoltsMax Value[unit.Volt] `key:"volts_max" like:"28 V" doc:"the highest voltage between its bars"`
	Inlet    Inlet            `key:"inlet,required" doc:"where it is fed"`
	Ways     map[string]Way   `key:"ways,required" names:"digits" least:"1" doc:"its fused outgoing circuits, named by digits"`
	Ports    map[string]Port  `key:"ports" names:"port" doc:"its data outputs, such as P1"`
	Origin
}

// An Inlet is where a board is fed; Resistance is per pole.
type Inlet struct {
	Amps       Value[unit.Ampere] `key:"amps,required" like:"40 A" doc:"rated current"`
	Resistance Value[unit.Ohm]    `key:"resistance,required" like:"0.6 mΩ" doc:"of each pole, from the inlet to the bar"`
	Origin
}

// A Way is one fused outgoing circuit; Resistance is the positive path beside the fuse. The return terminal joins the
// common bar.
type Way struct {
	Amps       Value[unit.Ampere] `key:"amps,required" like:"10 A" doc:"rated current"`
	Resistance Value[unit.Ohm]    `key:"resistance,required" doc:"of the positive path beside the fuse; the return terminal is on the bar"`
	Holder     Holder             `key:"holder" doc:"the form of fuse that its holder takes"`
	Origin
}

// A Port is one data output.
type Port struct {
	High       Value[unit.Volt]   `key:"high" like:"4.6 V" doc:"voltage of a high level"`
	Low        Value[unit.Volt]   `key:"low" like:"0.2 V" doc:"voltage of a low level"`
	Driver     Value[unit.Ohm]    `key:"driver" like:"25 Ω" doc:"resistance of what drives it"`
	Series     Value[unit.Ohm]    `key:"series" like:"47 Ω" doc:"resistor in series with it"`
	Rise       Value[unit.Second] `key:"rise" like:"5 ns" doc:"time that an edge takes at its driver"`
	Ground     Value[unit.Ohm]    `key:"ground,required" like:"5 mΩ" doc:"from the common bar to its ground contact"`
	GroundAmps Value[unit.Ampere] `key:"ground_amps" like:"2 A" doc:"rated current of its ground contact"`
	GroundFuse string             `key:"ground_fuse" part:"fuse" like:"fuse/ptc-0.75A" doc:"a fuse in its ground, which opens before a lost return heats the data cable"`
	Origin
}

// A Contact is where copper meets copper under a screw, a spring or a crimp; the same for each pole. Resistance is one
// pole's, all its transitions together.
type Contact struct {
	Amps       Value[unit.Ampere]      `key:"amps,required" like:"20 A" doc:"rated current of each pole"`
	Resistance Value[unit.Ohm]         `key:"resistance,required" like:"1 mΩ" doc:"of one pole, all its transitions together"`
	VoltsMax   Value[unit.Volt]        `key:"volts_max" like:"50 V" doc:"the highest voltage between its poles"`
	AreaMin    Value[unit.SquareMetre] `key:"area_min" like:"0.5 mm²" doc:"the thinnest core that it takes"`
	AreaMax    Value[unit.SquareMetre] `key:"area_max" like:"4 mm²" doc:"the thickest core that it takes"`
	Torque     Value[unit.NewtonMetre] `key:"torque" doc:"with which its screw is driven"`
}

// A Connector is a plug, a terminal or a fuse holder at the end of a cable.
type Connector struct {
	Title string `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Contact
	Origin
}

// A Junction is a splice, terminal block or tee where several cables meet.
type Junction struct {
	Title string `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Contact
	Ways int `key:"ways,required" like:"3" doc:"how many cores of one pole it takes"`
	Origin
}

// An Enclosure is a box that holds supplies and boards. Sheds is the heat that its walls give off in still air, per area
// and kelvin.
type Enclosure struct {
	Title  string                               `key:"title,required" like:"own part" doc:"what it is, in a line"`
	IP     string                               `key:"ip" like:"65" doc:"degree of protection, two digits of IEC 60529"`
	Width  Value[unit.Metre]                    `key:"width,required" like:"200 mm" doc:"outside"`
	Height Value[unit.Metre]                    `key:"height,required" like:"300 mm" doc:"outside"`
	Depth  Value[unit.Metre]                    `key:"depth,required" like:"150 mm" doc:"outside"`
	Sheds  Value[unit.WattPerSquareMetreKelvin] `key:"sheds" doc:"heat that its walls give off in still air"`
	Origin
}

// A Relay is a contactor or load relay.
type Relay struct {
	Title      string             `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Amps       Value[unit.Ampere] `key:"amps,required" like:"30 A" doc:"rated current of its contacts"`
	VoltsMax   Value[unit.Volt]   `key:"volts_max" like:"28 V" doc:"the highest direct voltage that its contacts break"`
	Inrush     Value[unit.Ampere] `key:"inrush" like:"60 A" doc:"the largest current that its contacts may make"`
	Resistance Value[unit.Ohm]    `key:"resistance" doc:"of a closed contact"`
	CoilVolts  Value[unit.Volt]   `key:"coil_volts" like:"12 V" doc:"voltage of its coil"`
	CoilWatts  Value[unit.Watt]   `key:"coil_watts" like:"1.6 W" doc:"power of its coil"`
	Origin
}

// A Capacitor is put across the rails of a run.
type Capacitor struct {
	Title       string             `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Capacitance Value[unit.Farad]  `key:"capacitance,required" like:"1000 uF" doc:"nominal"`
	VoltsMax    Value[unit.Volt]   `key:"volts_max,required" like:"16 V" doc:"the highest voltage that it stands for good"`
	Resistance  Value[unit.Ohm]    `key:"resistance" like:"50 mΩ" doc:"in series with it"`
	Ripple      Value[unit.Ampere] `key:"ripple" like:"1 A" doc:"alternating current that it carries for good"`
	Origin
}

// A Buffer lifts data to another level.
type Buffer struct {
	Title  string             `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Chips  []Chip             `key:"chips" doc:"components that fit it"`
	Volts  Value[unit.Volt]   `key:"volts,required" doc:"of its own supply"`
	Logic  Logic              `key:"logic" doc:"what its input asks for"`
	High   Value[unit.Volt]   `key:"high" like:"4.6 V" doc:"voltage of a high level at its output"`
	Low    Value[unit.Volt]   `key:"low" like:"0.2 V" doc:"voltage of a low level at its output"`
	Driver Value[unit.Ohm]    `key:"driver" like:"25 Ω" doc:"resistance of what drives its output"`
	Series Value[unit.Ohm]    `key:"series" like:"47 Ω" doc:"resistor in series with its output"`
	Rise   Value[unit.Second] `key:"rise" like:"5 ns" doc:"time that an edge takes at its driver"`
	Delay  Value[unit.Second] `key:"delay" like:"5 ns" doc:"from its input to its output"`
	Origin
}

// Suits reports whether a buffer is made for a supply of a voltage.
func (b *Buffer) Suits(volts unit.Volt) bool {
	return volts >= b.Volts.Lower() && volts <= b.Volts.Upper()
}
