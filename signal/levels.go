package signal

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// nearing says whence study.NearLevel is.
var nearing = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a tenth of a volt for what couples between cores and rings on edges"}

// levelDoc is what the rules of levels share.
var levelDoc = study.Doc{
	What: "The levels with which data passes from one chip to the next, in every state and its peak, from the solved network with the ground cores of data leads in it: against what the receiver is sure of as high and as low, and against what its input may be driven to.",
	Why:  "A level is a voltage above the ground of who reads it. Current in the power copper lifts that ground, a sagging supply lowers what is sent and what is asked for, and pixels flicker in bright scenes, where nobody sees why.",
	Formula: []string{
		"m_H = U_H − s − U_IH ≥ 0",
		"m_L = U_IL − (U_L − s) ≥ 0",
		"m_O = U_R + U_o − (U_H − s) ≥ 0",
		"m_U = U_L − s + U_u ≥ 0",
	},
	Symbols: []study.Symbol{
		{Sign: "m_H", Unit: "V", Means: "margin of a high level"}, {Sign: "m_L", Unit: "V", Means: "margin of a low level"},
		{Sign: "m_O", Unit: "V", Means: "margin of a high level to overdrive"}, {Sign: "m_U", Unit: "V", Means: "margin of a low level to undershoot"},
		{Sign: "U_H", Unit: "V", Means: "high level of the sender: of a port or buffer the lower end of what is stated, for overdrive the upper; of a buffer beside the receiver what its rails have, less what its sheet leaves; of a pixel the voltage of its logic"},
		{Sign: "U_L", Unit: "V", Means: "low level of the sender: of a port or buffer the upper end, for undershoot the lower; of a pixel 0 V"},
		{Sign: "s", Unit: "V", Means: "how far the receiver's ground stands above the sender's"},
		{Sign: "U_R", Unit: "V", Means: "voltage of the receiver's logic: between its rails, or its own"},
		{Sign: "U_IH", Unit: "V", Means: "the lowest level that is surely high: a share of U_R, or a voltage"},
		{Sign: "U_IL", Unit: "V", Means: "the highest level that is surely low, likewise"},
		{Sign: "U_o", Unit: "V", Means: "how far above its supply an input may be driven"}, {Sign: "U_u", Unit: "V", Means: "how far below its ground"},
	},
	Sources: []study.Source{
		{Title: "the sheets of chip and driver", Basis: parts.Datasheet, Says: "thresholds, limits of an input, levels of an output; which sheets the parts say"},
		nearing,
	},
	Limits: []string{
		"The edges are not in it: ringing, slow rises and what couples between cores.",
		"A pixel is taken to drive its output to its rails: next to nothing flows into the next input.",
		"What supplies a buffer beside its port is not in a scheme: for overdrive it is taken to have what it is made for.",
		"Many chips are sure of less than their sheet says. That is luck, and ends with the next batch, or when it gets cold.",
		"Within a peak all pixels are on at once; inductive kicks of shared returns are not solved.",
	},
	Grades: []study.Graded{
		{Grade: finding.Fails, When: "some margin is below 0"},
		{Grade: finding.Unknown, When: "the sender or the receiver does not say what its levels are"},
		{Grade: finding.Tight, When: "some margin is below 0.1 V"},
	},
}

var leadLevels = study.Rule{
	Name: "signal/levels", Title: "Levels of data", Scope: study.Leads,
	Doc: levelled(study.Example{
		Given: []string{"A port sends 3.2 V to a pixel that is sure of a high level from 70 % of its 5 V on, over a ground that stands 0.1 V higher."},
		Sums:  []string{"0.7 · 5 V = 3.5 V", "3.2 V − 0.1 V − 3.5 V = −0.4 V", "−0.4 V < 0 V"},
		Value: "−400 mV", Limit: "0 V", Grade: finding.Fails,
		Says: "It may work on the bench. A buffer with TTL thresholds beside the first pixel, on its supply, lifts the level.",
	}),
	Judge: func(s *study.Study, id string) []study.Assessment {
		return study.FixedAll(levels(s, s.LeadMargins(id)), func() []finding.Edit { return remedy.Lifted(s, id) })
	},
}

var cutLevels = study.Rule{
	Name: "signal/levels-at-cuts", Title: "Levels at cuts", Scope: study.Runs,
	Doc: levelled(study.Example{
		Given: []string{"Before a cut in the positive a piece sags to 3.4 V, behind it the next has 5 V, and is sure of a high level from 70 % of that on."},
		Sums:  []string{"0.7 · 5 V = 3.5 V", "3.4 V − 3.5 V = −0.1 V", "−0.1 V < 0 V"},
		Value: "−100 mV", Limit: "0 V", Grade: finding.Fails,
		Says: "The piece behind the cut flickers in white, and is sound in all that is darker.",
	}),
	Judge: func(s *study.Study, id string) []study.Assessment { return levels(s, s.CutMargins(id)) },
}

func levelled(example study.Example) study.Doc {
	doc := levelDoc
	doc.Example = example
	return doc
}

// levels are the assessments of some links.
func levels(s *study.Study, list []study.Margins) (all []study.Assessment) {
	for _, m := range list {
		switch {
		case m.Unknown != "":
			all = append(all, study.Unknown(study.Capital(m.Unknown)+".", "Choose parts that say it, or measure it.")...)
			continue
		case m.Unjoined:
			continue // signal/common-return says so, signal/buffer, or light/unfed-run where nothing is live
		}
		for _, k := range []kind{
			{"m_H", "high", m.High}, {"m_L", "low", m.Low}, {"m_O", "overdrive", m.Over}, {"m_U", "undershoot", m.Under},
		} {
			if k.margin != nil {
				all = append(all, level(s, m, k))
			}
		}
	}
	return all
}

// A kind of margin.
type kind struct {
	sign, name string
	margin     *study.Margin
}

func level(s *study.Study, m study.Margins, k kind) study.Assessment {
	value, limit := float64(k.margin.Volts), 0.0
	a := study.Assessment{Value: &value, Limit: &limit, Unit: "V", Case: k.margin.In.Name, At: fmt.Sprintf("%s@px%d", m.Run, m.At)}
	switch {
	case value < 0:
		a.Grade = finding.Fails
	case k.margin.Volts < study.NearLevel:
		a.Grade = finding.Tight
	}
	e := ends(s, m)
	a.Basis, a.Source = parts.Weaker(e.gives.Basis, e.asks.Basis), e.asks.Source
	return a.On(func() []study.Number {
		return numbers(m, k, e)
	}).Say(told(m, k, e), remedies[k.name]).Worked(func(w *study.Working) { worked(w, m, k, e) })
}

// numbers lists what decides a margin besides the network: the level that is sent, and what the receiver asks for.
func numbers(m study.Margins, k kind, e ended) (list []study.Number) {
	high := k.name == "high" || k.name == "overdrive"
	switch own := m.Sent.ByPixel(); {
	case own && high:
		list = append(list, study.Number{Part: e.gives.Title, Key: "logic.supply", Basis: e.gives.Basis, Source: e.gives.Says})
	case !own && high:
		list = append(list, study.Stated(e.gives.Title, e.key+"high", m.Sent.High))
	case !own:
		list = append(list, study.Stated(e.gives.Title, e.key+"low", m.Sent.Low))
	}
	switch k.name {
	case "overdrive":
		return append(list, study.Stated(e.asks.Title, "logic.over", m.Takes.Over))
	case "undershoot":
		return append(list, study.Stated(e.asks.Title, "logic.under", m.Takes.Under))
	}
	return append(list, study.Number{Part: e.asks.Title, Key: "logic." + k.name, Basis: e.asks.Basis, Source: e.asks.Source})
}

// remedies say what would do.
var remedies = map[string]string{
	"high":       "Put a buffer on the supply of the first pixel beside it, or bring a better return and a shorter way for the power.",
	"low":        "Bring a better return: thicker or shorter, or one more; or feed both from one place.",
	"overdrive":  "Put a resistor of some 100 Ω in series with the data, and bring the supplies of both nearer to each other.",
	"undershoot": "Bring a better return, or put a resistor of some 100 Ω in series with the data.",
}

// told is a margin in a sentence.
func told(m study.Margins, k kind, e ended) string {
	l := k.margin.Level
	over := "over"
	if l.Shift < 0 {
		over = "under"
	}
	shift := unit.Volt(math.Abs(l.Shift))
	who := fmt.Sprintf("%s passes to %s", e.from, e.to)
	where := fmt.Sprintf("the ground of %s stands %v %s that of %s, and it has %v, in %s", e.to, shift, over, e.from, unit.Volt(l.To), study.CaseWords(k.margin.In))
	missed := fmt.Sprintf("%v to spare", k.margin.Volts)
	if k.margin.Volts < 0 {
		missed = fmt.Sprintf("%v too little", -k.margin.Volts)
	}
	switch k.name {
	case "high":
		return fmt.Sprintf("A high level that %s has %s: %s.", who, missed, where)
	case "low":
		return fmt.Sprintf("A low level that %s has %s: %s.", who, missed, where)
	case "overdrive":
		missed = fmt.Sprintf("is only %v less than its input may be driven to", k.margin.Volts)
		if k.margin.Volts < 0 {
			missed = fmt.Sprintf("is %v more than its input may be driven to", -k.margin.Volts)
		}
		return fmt.Sprintf("A high level that %s %s: %s.", who, missed, where)
	}
	missed = fmt.Sprintf("is only %v from what its input may be driven to below its ground", k.margin.Volts)
	if k.margin.Volts < 0 {
		missed = fmt.Sprintf("is %v farther below its ground than its input may be driven", -k.margin.Volts)
	}
	return fmt.Sprintf("A low level that %s %s: %s.", who, missed, where)
}

// ended is who sends and who receives, with what they say of themselves.
type ended struct {
	from, to string
	gives    study.Source // Title: its part
	key      string       // under which its levels stand there
	asks     struct {
		Title, Source string
		Basis         parts.Basis
	}
}

// ends finds them.
func ends(s *study.Study, m study.Margins) (e ended) {
	lead := s.Scheme.Data[m.Lead]
	tape, run := s.Scheme.Tape(m.Run), s.Scheme.Runs[m.Run]
	e.to = fmt.Sprintf("%s@px%d", m.Run, m.At)
	e.asks.Title, e.asks.Source, e.asks.Basis = run.Tape, cmp.Or(tape.Logic.Source, tape.Source), cmp.Or(tape.Logic.Basis, tape.Basis)
	var buffer *parts.Buffer
	if lead.Buffer != nil {
		buffer, _ = parts.Get[parts.Buffer](s.Scheme.Library, lead.Buffer.Part)
	}
	switch {
	case m.Buffer == study.FromBuffer:
		e.from = "the buffer of " + m.Lead
		e.gives = study.Source{Title: lead.Buffer.Part, Basis: parts.Weaker(buffer.High.Basis, buffer.Low.Basis), Says: buffer.High.Source}
	case m.Port != "":
		port, _ := s.Scheme.PortPart(lead.From)
		e.from = m.Port
		e.gives = study.Source{Title: s.Scheme.Boards[lead.From.Element].Part, Basis: parts.Weaker(port.High.Basis, port.Low.Basis), Says: port.High.Source}
		e.key = "ports." + lead.From.Socket + "."
	default:
		from := s.Scheme.Tape(m.From)
		e.from = fmt.Sprintf("%s@px%d", m.From, m.Last)
		e.gives = study.Source{Title: s.Scheme.Runs[m.From].Tape, Basis: cmp.Or(from.Logic.Basis, from.Basis), Says: cmp.Or(from.Logic.Source, from.Source)}
	}
	if m.Buffer == study.ToBuffer {
		e.to = "the buffer of " + m.Lead
		e.asks.Title, e.asks.Source, e.asks.Basis = lead.Buffer.Part, cmp.Or(buffer.Logic.Source, buffer.Source), cmp.Or(buffer.Logic.Basis, buffer.Basis)
	}
	return e
}

// worked writes the sums of a margin.
func worked(w *study.Working, m study.Margins, k kind, e ended) {
	l := k.margin.Level
	w.Solved("s", "how far the receiver's ground stands above the sender's", study.Of(unit.Volt(l.Shift)), k.margin.In)
	gives := study.Source{Title: e.gives.Title + ", " + e.gives.Says, Basis: e.gives.Basis}
	sent := "U_L"
	switch k.name {
	case "high":
		sent = "U_H"
		high, _ := m.Sent.Levels(unit.Volt(l.From))
		highSent(w, m.Sent, gives, high, k, "high level, at the lower end of what is stated")
	case "overdrive":
		sent = "U_H"
		high, _ := m.Sent.Farthest(unit.Volt(l.From))
		highSent(w, m.Sent, gives, high, k, "high level, at the upper end of what is stated; of a buffer its supply")
	case "low":
		_, low := m.Sent.Levels(unit.Volt(l.From))
		lowSent(w, m.Sent, gives, low, "low level, at the upper end of what is stated")
	default:
		_, low := m.Sent.Farthest(unit.Volt(l.From))
		lowSent(w, m.Sent, gives, low, "low level, at the lower end of what is stated")
	}
	asks := study.Source{Title: e.asks.Title + ", " + e.asks.Source, Basis: e.asks.Basis}
	supply, up, down := m.Takes.At(unit.Volt(l.To))
	rail := func() {
		if m.Takes.Supply == "rail" {
			w.Solved("U_R", "what the receiver has between its rails", study.Of(supply), k.margin.In)
		} else {
			w.Taken("U_R", "voltage of the receiver's logic", study.Of(supply), asks)
		}
	}
	threshold := func(sign, means, text string, is unit.Volt) {
		if share, ok := strings.CutSuffix(text, "%"); ok {
			rail()
			w.Taken("k_t", "share of that", study.Plain(float64(unit.Must[unit.Ratio](share+"%"))), asks)
			w.Step(means, sign+" = k_t · U_R")
			return
		}
		w.Taken(sign, strings.ToLower(means[:1])+means[1:], study.Of(is), asks)
	}
	switch k.name {
	case "high":
		threshold("U_IH", "The lowest level that is surely high", m.Takes.High, up)
		w.Step("What is left", "m_H = "+sent+" − s − U_IH")
	case "low":
		threshold("U_IL", "The highest level that is surely low", m.Takes.Low, down)
		w.Step("What is left", "m_L = U_IL − ("+sent+" − s)")
	case "overdrive":
		rail()
		w.Taken("U_o", "how far above its supply the input may be driven", study.Of(m.Takes.Over.Is), asks)
		w.Step("What is left", "m_O = U_R + U_o − ("+sent+" − s)")
	case "undershoot":
		w.Taken("U_u", "how far below its ground the input may be driven", study.Of(m.Takes.Under.Is), asks)
		w.Step("What is left", "m_U = "+sent+" − s + U_u")
	}
	w.Taken("m_0", "the least that may be left", study.Of(unit.Volt(0)), study.Source{Title: "what a limit is", Basis: parts.Derived})
	w.Compare(k.sign, "m_0")
	w.When(finding.Fails, k.sign+" < m_0")
	w.Taken("U_n", "what is near", study.Of(study.NearLevel), nearing)
	w.When(finding.Tight, k.sign+" < U_n")
}

// highSent takes the high level that is sent.
func highSent(w *study.Working, sent study.Sent, gives study.Source, high unit.Volt, k kind, otherwise string) {
	switch {
	case sent.ByPixel() && sent.Pixel.Supply == "rail":
		w.Solved("U_H", "high level of the pixel that sends: what it has between its rails", study.Of(high), k.margin.In)
	case sent.ByPixel():
		w.Taken("U_H", "high level of the pixel that sends: the voltage of its own logic", study.Of(high), gives)
	case sent.Follows != "" && k.name == "high":
		w.Solved("U_r", "what the buffer has between its rails", study.Of(unit.Volt(k.margin.Level.From)), k.margin.In)
		w.Taken("U_d", "how far under that its high level stays, by its lowest supply", study.Of(sent.Below()), gives)
		w.Step("High level of the buffer", "U_H = U_r − U_d")
	case sent.Follows != "":
		w.Solved("U_H", "high level of the buffer at most: what it has between its rails", study.Of(high), k.margin.In)
	default:
		w.Taken("U_H", otherwise, study.Of(high), gives)
	}
}

// lowSent takes the low level that is sent.
func lowSent(w *study.Working, sent study.Sent, gives study.Source, low unit.Volt, otherwise string) {
	if sent.ByPixel() {
		otherwise = "low level of the pixel that sends: its ground"
	}
	w.Taken("U_L", otherwise, study.Of(low), gives)
}
