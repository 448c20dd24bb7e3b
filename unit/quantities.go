package unit

import "strings"

// The named quantities. Each knows its dimension, prints itself and reads itself from text.
type (
	Volt                     float64
	Ampere                   float64
	Ohm                      float64
	OhmPerMetre              float64
	Metre                    float64
	SquareMetre              float64 // also read from AWG
	Celsius                  float64 // degrees Celsius
	Hertz                    float64
	Ratio                    float64 // a plain fraction: 80 % is 0.8
	Watt                     float64
	Second                   float64
	Candela                  float64
	Farad                    float64
	FaradPerMetre            float64
	HenryPerMetre            float64
	SecondPerMetre           float64
	PerMetre                 float64
	Share                    float64 // of a day, 0 to 1
	AmpereSquareSecond       float64
	NewtonMetre              float64
	WattPerSquareMetreKelvin float64 // heat that a wall sheds
	PerKelvin                float64 // a fraction for each kelvin: 2.5 %/K is 0.025
	Kelvin                   float64 // by how much something is warmer
)

func (Volt) Dimension() *Dimension                     { return voltage }
func (Ampere) Dimension() *Dimension                   { return current }
func (Ohm) Dimension() *Dimension                      { return resistance }
func (OhmPerMetre) Dimension() *Dimension              { return resistivity }
func (Metre) Dimension() *Dimension                    { return length }
func (SquareMetre) Dimension() *Dimension              { return area }
func (Celsius) Dimension() *Dimension                  { return temperature }
func (Hertz) Dimension() *Dimension                    { return frequency }
func (Ratio) Dimension() *Dimension                    { return ratio }
func (Watt) Dimension() *Dimension                     { return power }
func (Second) Dimension() *Dimension                   { return time }
func (Candela) Dimension() *Dimension                  { return intensity }
func (Farad) Dimension() *Dimension                    { return capacitance }
func (FaradPerMetre) Dimension() *Dimension            { return capacitancePerLength }
func (HenryPerMetre) Dimension() *Dimension            { return inductancePerLength }
func (SecondPerMetre) Dimension() *Dimension           { return delay }
func (PerMetre) Dimension() *Dimension                 { return density }
func (Share) Dimension() *Dimension                    { return share }
func (AmpereSquareSecond) Dimension() *Dimension       { return letThrough }
func (NewtonMetre) Dimension() *Dimension              { return torque }
func (WattPerSquareMetreKelvin) Dimension() *Dimension { return shedding }
func (PerKelvin) Dimension() *Dimension                { return slope }
func (Kelvin) Dimension() *Dimension                   { return rise }

func (v Volt) String() string                     { return voltage.Format(float64(v), 3) }
func (v Ampere) String() string                   { return current.Format(float64(v), 3) }
func (v Ohm) String() string                      { return resistance.Format(float64(v), 3) }
func (v OhmPerMetre) String() string              { return resistivity.Format(float64(v), 3) }
func (v Metre) String() string                    { return length.Format(float64(v), 3) }
func (v SquareMetre) String() string              { return area.Format(float64(v), 3) }
func (v Celsius) String() string                  { return temperature.Format(float64(v), 3) }
func (v Hertz) String() string                    { return frequency.Format(float64(v), 3) }
func (v Ratio) String() string                    { return ratio.Format(float64(v), 3) }
func (v Watt) String() string                     { return power.Format(float64(v), 3) }
func (v Second) String() string                   { return time.Format(float64(v), 3) }
func (v Candela) String() string                  { return intensity.Format(float64(v), 3) }
func (v Farad) String() string                    { return capacitance.Format(float64(v), 3) }
func (v FaradPerMetre) String() string            { return capacitancePerLength.Format(float64(v), 3) }
func (v HenryPerMetre) String() string            { return inductancePerLength.Format(float64(v), 3) }
func (v SecondPerMetre) String() string           { return delay.Format(float64(v), 3) }
func (v PerMetre) String() string                 { return density.Format(float64(v), 3) }
func (v Share) String() string                    { return share.Format(float64(v), 3) }
func (v AmpereSquareSecond) String() string       { return letThrough.Format(float64(v), 3) }
func (v NewtonMetre) String() string              { return torque.Format(float64(v), 3) }
func (v WattPerSquareMetreKelvin) String() string { return shedding.Format(float64(v), 3) }
func (v PerKelvin) String() string                { return slope.Format(float64(v), 3) }
func (v Kelvin) String() string                   { return rise.Format(float64(v), 3) }

func (v *Volt) UnmarshalText(text []byte) error                     { return unmarshal(v, text) }
func (v *Ampere) UnmarshalText(text []byte) error                   { return unmarshal(v, text) }
func (v *Ohm) UnmarshalText(text []byte) error                      { return unmarshal(v, text) }
func (v *OhmPerMetre) UnmarshalText(text []byte) error              { return unmarshal(v, text) }
func (v *Metre) UnmarshalText(text []byte) error                    { return unmarshal(v, text) }
func (v *SquareMetre) UnmarshalText(text []byte) error              { return unmarshal(v, text) }
func (v *Celsius) UnmarshalText(text []byte) error                  { return unmarshal(v, text) }
func (v *Hertz) UnmarshalText(text []byte) error                    { return unmarshal(v, text) }
func (v *Ratio) UnmarshalText(text []byte) error                    { return unmarshal(v, text) }
func (v *Watt) UnmarshalText(text []byte) error                     { return unmarshal(v, text) }
func (v *Second) UnmarshalText(text []byte) error                   { return unmarshal(v, text) }
func (v *Candela) UnmarshalText(text []byte) error                  { return unmarshal(v, text) }
func (v *Farad) UnmarshalText(text []byte) error                    { return unmarshal(v, text) }
func (v *FaradPerMetre) UnmarshalText(text []byte) error            { return unmarshal(v, text) }
func (v *HenryPerMetre) UnmarshalText(text []byte) error            { return unmarshal(v, text) }
func (v *SecondPerMetre) UnmarshalText(text []byte) error           { return unmarshal(v, text) }
func (v *PerMetre) UnmarshalText(text []byte) error                 { return unmarshal(v, text) }
func (v *Share) UnmarshalText(text []byte) error                    { return unmarshal(v, text) }
func (v *AmpereSquareSecond) UnmarshalText(text []byte) error       { return unmarshal(v, text) }
func (v *NewtonMetre) UnmarshalText(text []byte) error              { return unmarshal(v, text) }
func (v *WattPerSquareMetreKelvin) UnmarshalText(text []byte) error { return unmarshal(v, text) }
func (v *PerKelvin) UnmarshalText(text []byte) error                { return unmarshal(v, text) }
func (v *Kelvin) UnmarshalText(text []byte) error                   { return unmarshal(v, text) }

// Dimensions lists what the quantities of this package measure.
func Dimensions() []*Dimension {
	return []*Dimension{
		voltage, current, resistance, resistivity, length, area, temperature, frequency, ratio, power, time, intensity, capacitance,
		capacitancePerLength, inductancePerLength, delay, density, share, letThrough, torque, shedding, slope, rise,
	}
}

func unmarshal[T Quantity](v *T, text []byte) error {
	read, err := Parse[T](string(text))
	if err == nil {
		*v = read
	}
	return err
}

var prefixes = map[string]float64{"p": 1e-12, "n": 1e-9, "µ": 1e-6, "m": 1e-3, "": 1, "k": 1e3, "M": 1e6}

// metric lists a base unit with the prefixes named: metric("V", "µ m k").
func metric(into map[string]float64, base, suffix, with string, scale float64) map[string]float64 {
	into[base+suffix] = scale
	for _, p := range strings.Fields(with) {
		into[p+base+suffix] = prefixes[p] * scale
	}
	return into
}

func plain(base, with string) map[string]float64 {
	return metric(map[string]float64{}, base, "", with, 1)
}

// imperial is how feet and inches are said and marked.
var imperial = map[string]string{"feet": "ft", "foot": "ft", "'": "ft", "′": "ft", "inch": "in", "inches": "in", "\"": "in", "″": "in", "''": "in"}

var (
	voltage     = &Dimension{Name: "voltage", Example: "5 V", SI: "V", read: plain("V", "µ m k"), print: []step{{"kV", 1e3}, {"V", 1}, {"mV", 1e-3}, {"µV", 1e-6}}}
	current     = &Dimension{Name: "current", Example: "5 A", SI: "A", read: plain("A", "n µ m k"), print: []step{{"kA", 1e3}, {"A", 1}, {"mA", 1e-3}, {"µA", 1e-6}}}
	resistance  = &Dimension{Name: "resistance", Example: "2 mΩ", SI: "ohm", read: plain("Ω", "µ m k M"), meant: map[string]string{"r": "Ω"}, print: []step{{"MΩ", 1e6}, {"kΩ", 1e3}, {"Ω", 1}, {"mΩ", 1e-3}, {"µΩ", 1e-6}}}
	resistivity = &Dimension{Name: "resistance per length", Example: "100 mΩ/m", SI: "ohm/m",
		read:  metric(metric(map[string]float64{}, "Ω", "/m", "µ m k", 1), "Ω", "/km", "m", 1e-3),
		print: []step{{"Ω/m", 1}, {"mΩ/m", 1e-3}}}
	length      = &Dimension{Name: "length", Example: "2.5 m", SI: "m", read: map[string]float64{"m": 1, "mm": 1e-3, "cm": 1e-2, "km": 1e3, "in": 0.0254, "ft": 0.3048}, meant: imperial, print: []step{{"m", 1}, {"mm", 1e-3}}}
	area        = &Dimension{Name: "cross-section", Example: "2.5 mm²", SI: "m2", read: map[string]float64{"mm2": 1e-6}, print: []step{{"mm²", 1e-6}}}
	temperature = &Dimension{Name: "temperature", Example: "40 °C", SI: "°C", read: map[string]float64{"C": 1, "F": 5.0 / 9, "K": 1}, offset: map[string]float64{"F": -32, "K": -273.15}, print: []step{{"°C", 1}}}
	frequency   = &Dimension{Name: "frequency", Example: "50 Hz", SI: "Hz", read: plain("Hz", "k M"), print: []step{{"MHz", 1e6}, {"kHz", 1e3}, {"Hz", 1}}}
	ratio       = &Dimension{Name: "percentage", Example: "80 %", SI: "1", read: map[string]float64{"%": 0.01}, print: []step{{"%", 0.01}}}
	power       = &Dimension{Name: "power", Example: "300 W", SI: "W", read: plain("W", "m k"), print: []step{{"kW", 1e3}, {"W", 1}, {"mW", 1e-3}}}
	time        = &Dimension{Name: "time", Example: "300 us", SI: "s", read: metric(map[string]float64{"min": 60, "h": 3600}, "s", "", "n µ m", 1), print: []step{{"h", 3600}, {"s", 1}, {"ms", 1e-3}, {"µs", 1e-6}, {"ns", 1e-9}}}
	intensity   = &Dimension{Name: "luminous intensity", Example: "0.4 cd", SI: "cd", read: plain("cd", "m k"), print: []step{{"cd", 1}, {"mcd", 1e-3}}}
	capacitance = &Dimension{Name: "capacitance", Example: "100 uF", SI: "F", read: plain("F", "p n µ m"), print: []step{{"F", 1}, {"mF", 1e-3}, {"µF", 1e-6}, {"nF", 1e-9}, {"pF", 1e-12}}}

	capacitancePerLength = &Dimension{Name: "capacitance per length", Example: "60 pF/m", SI: "F/m", read: metric(map[string]float64{}, "F", "/m", "p n µ", 1), print: []step{{"nF/m", 1e-9}, {"pF/m", 1e-12}}}
	inductancePerLength  = &Dimension{Name: "inductance per length", Example: "0.7 uH/m", SI: "H/m", read: metric(map[string]float64{}, "H", "/m", "n µ m", 1), print: []step{{"µH/m", 1e-6}, {"nH/m", 1e-9}}}
	delay                = &Dimension{Name: "delay per length", Example: "5 ns/m", SI: "s/m", read: metric(map[string]float64{}, "s", "/m", "p n µ", 1), print: []step{{"ns/m", 1e-9}}}
	density              = &Dimension{Name: "number per length", Example: "60 /m", SI: "1/m", read: map[string]float64{"/m": 1, "/ft": 1 / 0.3048}, print: []step{{"/m", 1}}}
	share                = &Dimension{Name: "share of a day", Example: "5 h/day", SI: "1", read: map[string]float64{"h/day": 1.0 / 24, "min/day": 1.0 / 1440, "h/d": 1.0 / 24}, print: []step{{"h/day", 1.0 / 24}}}
	letThrough           = &Dimension{Name: "let-through", Example: "3300 A²s", SI: "A2s", read: map[string]float64{"A2s": 1, "kA2s": 1e3}, print: []step{{"A²s", 1}}}
	torque               = &Dimension{Name: "torque", Example: "0.5 Nm", SI: "Nm", read: map[string]float64{"Nm": 1, "mNm": 1e-3}, print: []step{{"Nm", 1}}}
	shedding             = &Dimension{Name: "heat shed by a wall", Example: "5.5 W/m²K", SI: "W/m2K", read: map[string]float64{"W/m2K": 1}, print: []step{{"W/m²K", 1}}}
	slope                = &Dimension{Name: "change per kelvin", Example: "2.5 %/K", SI: "1/K", read: map[string]float64{"%/K": 0.01}, print: []step{{"%/K", 0.01}}}
	rise                 = &Dimension{Name: "temperature rise", Example: "10 K", SI: "K", read: map[string]float64{"K": 1}, print: []step{{"K", 1}}}
)
