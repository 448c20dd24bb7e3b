package main

import (
	"fmt"
	"math"

	"farend/scheme"
)

// unwaved says why there is no picture of the pulses of a lead, and what was meant.
func unwaved(result *checked, lead string) error {
	leads := []string{}
	for _, id := range scheme.IDs(result.Scheme.Data) {
		if e, ok := result.Edge(id); ok && e.Asked() {
			leads = append(leads, id)
		}
	}
	const what = "data lead whose pulses can be followed"
	if _, known := result.Scheme.Data[lead]; !known {
		return usage(fmt.Sprintf("there is no data lead %s in this scheme", lead), choice(what, lead, leads))
	}
	others := "no lead of this scheme can be followed"
	if len(leads) > 0 {
		others = "there is " + few(leads)
	}
	switch e, ok := result.Edge(lead); {
	case !ok:
		return usage(fmt.Sprintf("a pixel drives %s, and no sheet says how strongly", lead), others)
	case e.Unknown != "":
		return usage(e.Unknown, "choose parts that say it, or measure it")
	default:
		return usage(e.Moot, others)
	}
}

// The JSON of what becomes of the pulses of a lead.
type wavesJSON struct {
	SchemaVersion int        `json:"schema_version"`
	Scheme        string     `json:"scheme"`
	Lead          string     `json:"lead"`
	To            string     `json:"to"`
	Metres        *float64   `json:"length_m"`
	Longest       *float64   `json:"longest_m"`
	Matching      *float64   `json:"matching_ohms"`
	Grade         string     `json:"grade"`
	Waves         []waveJSON `json:"waves"`
}

type waveJSON struct {
	Drive  string    `json:"drive"`
	Diodes bool      `json:"diodes"`
	Z0     *float64  `json:"z0_ohms"`
	Delay  *float64  `json:"delay_s_per_m"`
	Case   string    `json:"case"`
	Supply *float64  `json:"supply_volts"`
	High   *float64  `json:"high_volts"`
	Low    *float64  `json:"low_volts"`
	Step   *float64  `json:"step_s"`
	Near   []float64 `json:"near_volts"`
	Far    []float64 `json:"far_volts"`
	Amps   []float64 `json:"near_amps"`
}

// waves writes the points of every corner of a lead.
func (s streams) waves(result *checked, lead string) error {
	e, ok := result.Edge(lead)
	if !ok || !e.Asked() {
		return unwaved(result, lead)
	}
	now := result.Wired(lead)
	out := wavesJSON{SchemaVersion: 1, Scheme: result.Scheme.File, Lead: lead, To: e.To, Metres: number(now.Length), Longest: number(result.LongestLead(lead, now)), Grade: e.Grade().String(), Waves: []waveJSON{}}
	if match := result.Matching(lead, now); len(match) > 0 {
		out.Matching = number(match[0])
	}
	for _, w := range result.Waveforms(lead) {
		line := waveJSON{
			Drive: "weak", Diodes: w.Clamped, Z0: number(w.Z0), Delay: number(w.Delay), Case: w.In.Name, Supply: number(w.Supply), High: number(w.High), Low: number(w.Low),
			Step: &w.Wave.Step, Near: rounded(w.Wave.Near, 1e-6), Far: rounded(w.Wave.Far, 1e-6), Amps: rounded(w.Wave.NearAmps, 1e-9),
		}
		if w.Strong {
			line.Drive = "strong"
		}
		out.Waves = append(out.Waves, line)
	}
	return writeJSON(s.out, out)
}

// rounded is a list to the nearest of a step: what is finer the method does not know.
func rounded(list []float64, step float64) []float64 {
	out := make([]float64, len(list))
	for i, v := range list {
		out[i] = math.Round(v/step) / math.Round(1/step)
	}
	return out
}
