package scheme

import (
	"fmt"

	"farend/parts"
	"farend/unit"
)

// The limits below are no physics: they are so wide that a number beyond them is a slip or has the wrong unit.
const (
	coldestAir, hottestAir = unit.Celsius(-60), unit.Celsius(100)
	hottestCopper          = unit.Celsius(200)
	highestMains           = unit.Volt(1000) // low voltage ends at 1000 V AC (IEC 60038)
	highestTrim            = unit.Volt(120)  // extra-low voltage ends at 120 V DC, ripple-free (IEC 61140; from memory)
)

func (r *reading) site() {
	site := r.Site
	if site.Ambient != nil {
		r.air(*site.Ambient, "ambient", "site", "ambient")
	}
	if site.Coldest != nil {
		r.coldest()
	}
	if f := site.Conductors.Fixed; f != nil && (*f < coldestAir || *f > hottestCopper) {
		r.wrong(r.value("site", "conductors"), "conductors cannot be at "+degrees(*f), "write warm, or a temperature from −60 °C to 200 °C")
	}
	if r.usable("site", "mains") && (site.Mains <= 0 || site.Mains > highestMains) {
		r.wrong(r.value("site", "mains"), "mains cannot be "+volts(site.Mains), "write the voltage of the socket, such as 230 V")
	}
	if site.Tariff.Amount < 0 {
		r.wrong(r.value("site", "tariff"), "the tariff cannot be below 0", "write what a kilowatt hour costs, such as 0.27 EUR/kWh")
	}
}

// air checks a temperature of air.
func (r *reading) air(t unit.Celsius, name string, path ...string) bool {
	if r.sound(path...) && (t < coldestAir || t > hottestAir) {
		r.wrong(r.value(path...), name+" cannot be "+degrees(t), "write the temperature of the air, from −60 °C to 100 °C")
		return false
	}
	return r.sound(path...)
}

func (r *reading) coldest() {
	coldest, ambient := *r.Site.Coldest, r.Ambient()
	if !r.air(coldest, "coldest", "site", "coldest") || !r.sound("site", "ambient") || coldest <= ambient {
		return
	}
	text := fmt.Sprintf("coldest (%s) is above ambient (%s)", degrees(coldest), degrees(ambient))
	if r.Site.Ambient == nil {
		if !r.lacks([]string{"site"}, "ambient") {
			return
		}
		text = fmt.Sprintf("coldest (%s) is above ambient, which is %s where it is not given", degrees(coldest), degrees(ambient))
	}
	r.wrong(r.value("site", "coldest"), text, "ambient is the hottest air, coldest the coldest")
}

func (r *reading) aims() {
	aims := r.Aims
	if r.usable("aims", "frame_rate") && aims.FrameRate <= 0 {
		r.wrong(r.value("aims", "frame_rate"), "frame_rate cannot be "+plain(float64(aims.FrameRate), "Hz"), "write a rate above 0, such as 50 Hz")
	}
	r.shareAboveNone(aims.Cap, "cap", "aims", "cap")
	r.shareAboveNone(aims.Evenness, "evenness", "aims", "evenness")
	if c := aims.ColourShift; c != nil && r.sound("aims", "colour_shift") && (*c <= 0 || *c >= 1) {
		r.wrong(r.value("aims", "colour_shift"), "colour_shift cannot be "+plain(*c, ""), "write a difference of u′v′ above 0 and below 1, such as 0.004")
	}
}

// shareAboveNone checks a percentage that may be 100 % and must be above 0 %.
func (r *reading) shareAboveNone(v *unit.Ratio, name string, path ...string) {
	if v != nil && r.sound(path...) && (*v <= 0 || *v > 1) {
		r.wrong(r.value(path...), name+" cannot be "+percent(*v), "write more than 0 % and at most 100 %")
	}
}

func (r *reading) supplies() {
	for _, id := range IDs(r.Supplies) {
		s := r.Supplies[id]
		p := part[parts.Supply](r, s.Part, "supply", "supplies", id, "part")
		if r.usable("supplies", id, "volts") {
			r.trim(id, *s.Volts, p)
		}
	}
}

// trim checks a set point against the range of the part, if there is one.
func (r *reading) trim(id string, v unit.Volt, p *parts.Supply) {
	at := r.value("supplies", id, "volts")
	switch {
	case v <= 0 || v > highestTrim:
		r.wrong(at, fmt.Sprintf("%s cannot be set to %s", id, volts(v)), "write a voltage above 0 V and up to 120 V, where extra-low voltage ends")
	case p == nil:
	case p.VoltsMin.Given && v < p.VoltsMin.Is || p.VoltsMax.Given && v > p.VoltsMax.Is:
		r.wrong(at, fmt.Sprintf("%s cannot be set to %s: %s allows %s", id, volts(v), r.Supplies[id].Part, trimRange(p)), "write a voltage in that range, or choose another supply")
	}
}

func trimRange(p *parts.Supply) string {
	switch {
	case !p.VoltsMin.Given:
		return "up to " + volts(p.VoltsMax.Is)
	case !p.VoltsMax.Given:
		return volts(p.VoltsMin.Is) + " and more"
	}
	return volts(p.VoltsMin.Is) + " to " + volts(p.VoltsMax.Is)
}
