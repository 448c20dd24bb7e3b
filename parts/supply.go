package parts

import (
	"strconv"

	"farend/internal/document"
	"farend/unit"
)

// A Supply is an AC/DC power supply.
type Supply struct {
	Title            string                `key:"title,required" like:"own part" doc:"what it is, in a line"`
	Volts            Value[unit.Volt]      `key:"volts,required" doc:"set point as delivered"`
	VoltsMin         Value[unit.Volt]      `key:"volts_min" like:"4.5 V" doc:"the lowest set point that it can be trimmed to"`
	VoltsMax         Value[unit.Volt]      `key:"volts_max" like:"5.5 V" doc:"the highest"`
	Amps             Value[unit.Ampere]    `key:"amps,required" like:"60 A" doc:"rated current"`
	Watts            Value[unit.Watt]      `key:"watts,required" doc:"rated power"`
	SourceResistance Value[unit.Ohm]       `key:"source_resistance,required" like:"1 mΩ" doc:"how much its voltage gives way to current"`
	Limit            Limit                 `key:"limit,required" doc:"what it does when it is asked for more than its limit"`
	LimitAt          Band[unit.Ampere]     `key:"limit_at,required" doc:"the band in which the limit lies"`
	PulseOn          Value[unit.Second]    `key:"pulse_on" with:"pulse_off" like:"1 s" doc:"of hiccup: how long it is on"`
	PulseOff         Value[unit.Second]    `key:"pulse_off" with:"pulse_on" like:"3 s" doc:"of hiccup: how long it is off"`
	PulseBelow       Value[unit.Volt]      `key:"pulse_below" like:"3 V" doc:"of hiccup: it holds the current from this voltage up"`
	FoldTo           Value[unit.Ratio]     `key:"fold_to" like:"30 %" doc:"of fold-back: current into a short over the limit"`
	Boost            Value[unit.Ratio]     `key:"boost" like:"150 %" doc:"of boost: what it gives at first, over the rated current"`
	BoostFor         Value[unit.Second]    `key:"boost_for" like:"3 s" doc:"of boost: for how long"`
	Then             Limit                 `key:"then" doc:"of boost: what follows it"`
	OverVoltage      Band[unit.Volt]       `key:"over_voltage" doc:"the band in which it shuts down, should its control fail"`
	Ripple           Value[unit.Volt]      `key:"ripple" like:"100 mV" doc:"peak to peak"`
	NoLoad           Value[unit.Watt]      `key:"no_load" like:"1.2 W" doc:"what it draws from the mains without load"`
	Efficiency       Value[unit.Ratio]     `key:"efficiency" like:"88 %" doc:"at full load"`
	Inrush           Value[unit.Ampere]    `key:"inrush" like:"40 A" doc:"from the mains, switched on cold"`
	HoldUp           Value[unit.Second]    `key:"hold_up" like:"20 ms" doc:"at full load, after the mains has failed"`
	DerateFrom       Value[unit.Celsius]   `key:"derate_from" like:"50 °C" doc:"the air up to which it gives all"`
	Derate           Value[unit.PerKelvin] `key:"derate" like:"2.5 %/K" doc:"how much of its rated current it loses above that"`
	AmbientMax       Value[unit.Celsius]   `key:"ambient_max" like:"70 °C" doc:"in warmer air than this it must be off"`
	Parallel         Permission            `key:"parallel" doc:"whether its maker allows it beside others on the same copper"`
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

// Most is the most that the supply gives by its limit: the upper end of it, or of a boost where that is stated and more; and whether it
// is the boost.
func (s *Supply) Most() (amps unit.Ampere, boosted bool) {
	if boost := s.Amps.Is * unit.Ampere(s.Boost.Is); s.Limit == Boost && boost > s.LimitAt.High.Is {
		return boost, true
	}
	return s.LimitAt.High.Is, false
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

// ReadNode reads a supply.
func (s *Supply) ReadNode(r *document.Reader, n document.Node) {
	type plain Supply
	r.Decode(n, (*plain)(s))
	positive(r, n, "volts", s.Volts)
	positive(r, n, "volts_min", s.VoltsMin)
	ordered(r, n, "volts_min", s.VoltsMin, "volts", s.Volts, false)
	ordered(r, n, "volts", s.Volts, "volts_max", s.VoltsMax, false)
	positive(r, n, "amps", s.Amps)
	positive(r, n, "watts", s.Watts)
	notNegative(r, n, "source_resistance", s.SourceResistance)
	notNegative(r, n, "no_load", s.NoLoad)
	if e := s.Efficiency; e.Given && (e.Is <= 0 || e.Is > 1) {
		r.Mistake(at(n, "efficiency"), "\"efficiency\" must be more than 0 % and at most 100 %, not "+e.text(), "write for example 88 %")
	}
	ordered(r, n, "volts", s.Volts, "over_voltage", s.OverVoltage.Low, true)
	notNegative(r, n, "ripple", s.Ripple)
	positive(r, n, "inrush", s.Inrush)
	notNegative(r, n, "hold_up", s.HoldUp)
	s.warm(r, n)
	s.behaviour(r, n)
}

// warm checks what the supply says of warm air.
func (s *Supply) warm(r *document.Reader, n document.Node) {
	positive(r, n, "derate", s.Derate)
	if s.Derate.Given && !s.DerateFrom.Given {
		r.Mistake(at(n, "derate"), "\"derate\" needs \"derate_from\"", "give the temperature of the air from which it loses")
	}
	ordered(r, n, "derate_from", s.DerateFrom, "ambient_max", s.AmbientMax, false)
}

// behaviour checks what the supply says of its limit: each key belongs to one behaviour, or to what follows a boost.
func (s *Supply) behaviour(r *document.Reader, n document.Node) {
	positive(r, n, "pulse_on", s.PulseOn)
	positive(r, n, "pulse_off", s.PulseOff)
	positive(r, n, "pulse_below", s.PulseBelow)
	ordered(r, n, "pulse_below", s.PulseBelow, "volts", s.Volts, true)
	positive(r, n, "boost_for", s.BoostFor)
	if f := s.FoldTo; f.Given && (f.Is <= 0 || f.Is > 1) {
		r.Mistake(at(n, "fold_to"), "\"fold_to\" must be more than 0 % and at most 100 %, not "+f.text(), "write for example 30 %")
	}
	if b := s.Boost; b.Given && b.Is <= 1 {
		r.Mistake(at(n, "boost"), "\"boost\" must be more than 100 % of the rated current, not "+b.text(), "write for example 150 %")
	}
	if s.Then == Boost {
		r.Mistake(at(n, "then"), "a boost cannot be followed by a boost", "write constant-current, hiccup, fold-back or latch-off")
	}
	if s.PulseOn.Given != s.PulseOff.Given {
		r.Mistake(n, "\"pulse_on\" and \"pulse_off\" belong together", "give both times, or neither")
	}
	if s.Limit == "" {
		return // it has its mistake already
	}
	for _, key := range []string{"pulse_on", "pulse_off", "pulse_below"} {
		belongs(r, n, key, Hiccup, s.Steady())
	}
	belongs(r, n, "fold_to", FoldBack, s.Steady())
	for _, key := range []string{"boost", "boost_for", "then"} {
		belongs(r, n, key, Boost, s.Limit)
	}
}

// belongs makes a mistake of a key that says something of another behaviour than the supply's.
func belongs(r *document.Reader, n document.Node, key string, to, is Limit) {
	if value, given := n.Get(key); given && is != to {
		r.Mistake(value, strconv.Quote(key)+" belongs to a supply whose limit is "+string(to)+", and this one's is "+string(is), "remove it, or write limit: "+string(to))
	}
}
