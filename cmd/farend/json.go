package main

import (
	"encoding/json"
	"errors"
	"io"
	"math"
	"strconv"

	"farend/finding"
	"farend/network"
	"farend/scheme"
	"farend/study"
)

// The JSON of check: SI throughout, null where nothing is defined. Every key is a promise.
type checkJSON struct {
	SchemaVersion int            `json:"schema_version"`
	Scheme        string         `json:"scheme"`
	Title         string         `json:"title"`
	Verdict       string         `json:"verdict"`
	Errors        []mistakeJSON  `json:"errors"`
	Findings      []findingJSON  `json:"findings"`
	Rests         restsJSON      `json:"rests"`
	Protection    protectionJSON `json:"protection"`
	Signal        signalJSON     `json:"signal"`
	Assessed      []assessedJSON `json:"assessed"`
	Cases         []caseJSON     `json:"cases"`
}

type mistakeJSON struct {
	File   string  `json:"file"`
	Line   *int    `json:"line"`
	Column *int    `json:"column"`
	Text   string  `json:"text"`
	Hint   *string `json:"hint"`
}

type findingJSON struct {
	ID      string         `json:"id"`
	Rule    string         `json:"rule"`
	Grade   finding.Grade  `json:"grade"`
	Subject string         `json:"subject"`
	Case    *string        `json:"case"`
	At      *string        `json:"at"`
	Text    string         `json:"text"`
	Value   *float64       `json:"value"`
	Limit   *float64       `json:"limit"`
	Unit    *string        `json:"unit"`
	Margin  *float64       `json:"margin"`
	Basis   *string        `json:"basis"`
	Weakest *string        `json:"weakest"`
	Source  *string        `json:"source"`
	Remedy  *string        `json:"remedy"`
	Edits   []finding.Edit `json:"edits"`
	Line    *int           `json:"line"`
	Column  *int           `json:"column"`
}

type assessedJSON struct {
	Rule    string        `json:"rule"`
	Subject string        `json:"subject"`
	Case    *string       `json:"case"`
	Value   *float64      `json:"value"`
	Limit   *float64      `json:"limit"`
	Unit    *string       `json:"unit"`
	Margin  *float64      `json:"margin"`
	Grade   finding.Grade `json:"grade"`
}

type caseJSON struct {
	Name     string                `json:"name"`
	Kind     string                `json:"kind"`
	Solver   solverJSON            `json:"solver"`
	Supplies map[string]supplyJSON `json:"supplies"`
	Boards   map[string]boardJSON  `json:"boards"`
	Ways     map[string]wayJSON    `json:"ways"`
	Cables   map[string]cableJSON  `json:"cables"`
	Data     map[string]leadJSON   `json:"data"`
	Runs     map[string]runJSON    `json:"runs"`
}

type solverJSON struct {
	Steps    int      `json:"steps"`
	Residual *float64 `json:"residual_amps"`
	Limited  []string `json:"limited"`
}

type supplyJSON struct {
	Volts *float64 `json:"volts"`
	Low   *float64 `json:"volts_low"`
	Start *float64 `json:"volts_start"`
	Amps  *float64 `json:"amps"`
	RMS   *float64 `json:"amps_rms"`
	Peak  *float64 `json:"amps_peak"`
	Watts *float64 `json:"watts"`
	State string   `json:"state"`
}

type boardJSON struct {
	Amps *float64 `json:"inlet_amps"`
	RMS  *float64 `json:"amps_rms"`
	Peak *float64 `json:"amps_peak"`
}

type wayJSON struct {
	Amps  *float64 `json:"amps"`
	RMS   *float64 `json:"amps_rms"`
	Peak  *float64 `json:"amps_peak"`
	Volts *float64 `json:"volts"`
	Low   *float64 `json:"volts_low"`
}

type cableJSON struct {
	Amps    *float64 `json:"amps"`
	Return  *float64 `json:"amps_return"`
	RMS     *float64 `json:"amps_rms"`
	Peak    *float64 `json:"amps_peak"`
	Drop    *float64 `json:"volts_drop"`
	Watts   *float64 `json:"watts"`
	Celsius *float64 `json:"celsius"`
}

type leadJSON struct {
	Ground *float64 `json:"ground_amps"`
	RMS    *float64 `json:"amps_rms"`
	Peak   *float64 `json:"amps_peak"`
	Shift  *float64 `json:"ground_shift_volts"`
}

type runJSON struct {
	Pixels      int      `json:"pixels"`
	Amps        *float64 `json:"amps"`
	VoltsLow    *float64 `json:"volts_low"`
	VoltsHigh   *float64 `json:"volts_high"`
	LowAt       int      `json:"low_at"`
	Evenness    *float64 `json:"evenness"`
	ColourShift *float64 `json:"colour_shift"`
	RailAmps    *float64 `json:"rail_amps"`
	Volts       *numbers `json:"volts,omitempty"`
	Plus        *numbers `json:"plus,omitempty"`
	Minus       *numbers `json:"minus,omitempty"`
	PixelAmps   *numbers `json:"pixel_amps,omitempty"`
}

// numbers is a list of numbers, each null where there is none, such as a potential in a piece without a supply.
type numbers []float64

// MarshalJSON writes the list without a pointer for each number: there may be millions.
func (n numbers) MarshalJSON() ([]byte, error) {
	out := append(make([]byte, 0, 20*len(n)+2), '[')
	for i, v := range n {
		if i > 0 {
			out = append(out, ',')
		}
		if number(v) == nil {
			out = append(out, "null"...)
		} else {
			out = strconv.AppendFloat(out, v, 'g', -1, 64)
		}
	}
	return append(out, ']'), nil
}

// undefined is a list of n numbers that are all null.
func undefined(n int) *numbers {
	list := make(numbers, n)
	for i := range list {
		list[i] = math.NaN()
	}
	return &list
}

// number is a JSON number, null for what is no number.
func number[T ~float64](v T) *float64 {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil
	}
	return &f
}

// finite is a number that a rule gave, null where it gave none or what is no number.
func finite(v *float64) *float64 {
	if v == nil {
		return nil
	}
	return number(*v)
}

// margin is a margin to nine figures: what lies beyond is the solver's rounding, and so is all that is smaller than 10⁻⁹.
func margin(v *float64) *float64 {
	if v = finite(v); v == nil {
		return nil
	}
	const least = 1e-9
	nine, _ := strconv.ParseFloat(strconv.FormatFloat(*v, 'e', 8, 64), 64)
	if math.Abs(*v) < least {
		nine = 0
	}
	return &nine
}

// text is a JSON text, null for an empty one.
func text(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// mistakesJSON is what is wrong with the file where that is the error, nil for any other error.
func mistakesJSON(err error) []mistakeJSON {
	var wrong *wrongFile
	var f *failure
	switch {
	case errors.As(err, &wrong):
		var list []mistakeJSON
		for _, m := range wrong.mistakes {
			list = append(list, mistakeJSON{m.Pos.File, place(m.Pos.Line), place(m.Pos.Column), m.Text, text(m.Hint)})
		}
		return list
	case errors.As(err, &f) && f.unread:
		return []mistakeJSON{{File: f.file, Text: f.text, Hint: text(f.hint)}}
	}
	return nil
}

// wrongJSON is the object for a scheme that could not be read.
func wrongJSON(mistakes []mistakeJSON) checkJSON {
	return checkJSON{SchemaVersion: 1, Scheme: mistakes[0].File, Verdict: finding.Unknown.String(), Errors: mistakes, Findings: []findingJSON{}, Rests: footingJSON(study.Footing{}), Protection: protectionJSON{Ways: []protectedJSON{}, Faults: []faultJSON{}, Lost: []outageJSON{}, Places: []silentJSON{}, Joints: []jointJSON{}, Split: []dividedJSON{}}, Signal: signalJSON{Ports: []portJSON{}, Links: []passageJSON{}}, Assessed: []assessedJSON{}, Cases: []caseJSON{}}
}

// place is a line or column, null where it is nowhere.
func place(n int) *int {
	if n < 1 {
		return nil
	}
	return &n
}

// resultJSON is the object for a checked scheme.
func resultJSON(c *checked, pixels bool, more []solvedCase) checkJSON {
	out := checkJSON{
		SchemaVersion: 1, Scheme: c.Scheme.File, Title: c.Scheme.Title, Verdict: c.verdict().String(),
		Errors: []mistakeJSON{}, Findings: []findingJSON{}, Rests: footingJSON(c.Footing(c.assessed)), Protection: tableJSON(c.Protection(c.assessed), c.Study), Signal: portsJSON(c.Study), Assessed: []assessedJSON{}, Cases: []caseJSON{},
	}
	for _, f := range c.findings {
		edits := f.Edits
		if edits == nil {
			edits = []finding.Edit{}
		}
		out.Findings = append(out.Findings, findingJSON{f.ID, f.Rule, f.Grade, f.Subject, text(f.Case), text(f.At), f.Text, finite(f.Value), finite(f.Limit),
			text(f.Unit), margin(f.Margin), text(f.Basis), text(f.Weakest), text(f.Source), text(f.Remedy), edits, place(f.Pos.Line), place(f.Pos.Column)})
	}
	for _, a := range c.assessed {
		out.Assessed = append(out.Assessed, assessedJSON{a.Rule.Name, a.Subject, text(a.Case), finite(a.Value), finite(a.Limit), text(a.Unit), margin(a.Margin), a.Grade})
	}
	for _, cs := range c.Cases() {
		out.Cases = append(out.Cases, c.caseJSON(solvedCase{cs, c.Result(cs.Name), c.Solution(cs.Name)}, pixels))
	}
	for _, solved := range more {
		out.Cases = append(out.Cases, c.caseJSON(solved, pixels))
	}
	return out
}

// A solvedCase is a case with what was solved of it.
type solvedCase struct {
	network.Case
	result   *network.Result
	solution *network.Solution
}

// kind is the kind of a case as JSON spells it.
func (s solvedCase) kind() string {
	switch {
	case s.Fault.Kind != "":
		return "fault"
	case s.Out != "":
		return "outage"
	}
	return string(s.Kind)
}

func (c *checked) caseJSON(solved solvedCase, pixels bool) caseJSON {
	r := solved.result
	limited := r.Limited
	if limited == nil {
		limited = []string{}
	}
	out := caseJSON{
		Name: solved.Name, Kind: solved.kind(), Solver: solverJSON{r.Steps, number(r.Residual), limited},
		Supplies: map[string]supplyJSON{}, Boards: map[string]boardJSON{}, Ways: map[string]wayJSON{},
		Cables: map[string]cableJSON{}, Data: map[string]leadJSON{}, Runs: map[string]runJSON{},
	}
	for id, t := range r.Supplies {
		out.Supplies[id] = supplyJSON{number(t.Volts), number(t.VoltsLow), number(t.StartVolts), number(t.Amps.Mean), number(t.Amps.RMS), number(t.Amps.Peak), number(t.Watts), t.State}
	}
	for id, b := range r.Boards {
		out.Boards[id] = boardJSON{number(b.Inlet.Mean), number(b.Inlet.RMS), number(b.Inlet.Peak)}
	}
	for id, w := range r.Ways {
		out.Ways[id] = wayJSON{number(w.Amps.Mean), number(w.Amps.RMS), number(w.Amps.Peak), number(w.Volts), number(w.VoltsLow)}
	}
	for id, w := range r.Cables {
		out.Cables[id] = cableJSON{number(w.Plus.Mean), number(w.Return.Mean), number(max(w.Plus.RMS, w.Return.RMS)), number(max(w.Plus.Peak, w.Return.Peak)),
			number(w.Drop), number(w.Watts), number(w.Celsius)}
	}
	for id, d := range r.Data {
		lead := leadJSON{Ground: number(d.Ground.Mean), RMS: number(d.Ground.RMS), Peak: number(d.Ground.Peak)}
		if c.Network.CommonReturn(id) {
			lead.Shift = number(d.Shift)
		}
		out.Data[id] = lead
	}
	for _, id := range scheme.IDs(r.Runs) {
		out.Runs[id] = c.runJSON(solved.solution, id, r.Runs[id], pixels)
	}
	return out
}

func (c *checked) runJSON(solution *network.Solution, id string, r network.Run, pixels bool) runJSON {
	out := runJSON{Pixels: r.Pixels, Amps: number(r.Amps.Mean), VoltsLow: number(r.VoltsLow), VoltsHigh: number(r.VoltsHigh), LowAt: r.LowAt,
		Evenness: finite(r.Evenness), ColourShift: finite(r.ColourShift), RailAmps: number(r.RailAmps)}
	if !pixels {
		return out
	}
	p, _ := c.Network.Profile(solution, id)
	out.Volts, out.PixelAmps = (*numbers)(&p.Volts), (*numbers)(&p.Amps)
	out.Plus, out.Minus = undefined(r.Pixels), undefined(r.Pixels)
	if p.Plus != nil {
		out.Plus, out.Minus = (*numbers)(&p.Plus), (*numbers)(&p.Minus)
	}
	return out
}
