package main

import (
	"fmt"
	"strconv"
	"strings"

	"farend/finding"
	"farend/study"
)

// printPorts lists the ports that send data, what hangs on each, and how long a frame takes.
func (c *checked) printPorts(p *page) {
	list := c.Ports()
	if len(list) == 0 {
		return
	}
	t := p.table("Data (what each port sends to, and how long a frame takes)", "port", "runs", "pixels", "protocol", "frame ms", "Hz", "spare", "lead m", "levels mV", "edges")
	for _, port := range list {
		frame, rate, spare, lead, margin := "–", "–", "–", "–", "–"
		if port.Known {
			frame, rate = figures(port.Frame, 1000), figures(port.Rate, 1)
		}
		if port.Known && port.Aimed {
			spare = strings.ReplaceAll(strconv.Itoa(port.Spare), "-", "−")
		}
		if length := c.Scheme.Data[port.Lead].Length; length != nil {
			lead = figures(*length, 1)
		}
		if least, ok := study.Least(c.PortMargins(port)); ok {
			margin = figures(least.Volts, 1000)
		}
		edge := "–"
		if e, ok := c.Edge(port.Lead); ok && e.Asked() {
			edge = e.Grade().String()
		}
		protocol := short(port.Protocol)
		if port.Mixed != nil {
			protocol = "several"
		}
		t.row(port.ID, few(port.Runs), strconv.Itoa(port.Pixels), protocol, frame, rate, spare, lead, margin, edge)
	}
	t.print()
	text := ""
	if slowest, ok := study.Slowest(list); ok && len(list) > 1 {
		text = fmt.Sprintf("The scheme is as slow as its slowest port, %s: %v, %v. ", slowest.ID, slowest.Frame, slowest.Rate)
	}
	text += "What the line allows: a controller that works frames out between sending them makes fewer"
	if c.Scheme.Aims.FrameRate > 0 {
		text += "; spare are pixels more that each could send to at " + c.Scheme.Aims.FrameRate.String()
	}
	p.wrap(text + ". Levels are the least margin of all leads and cuts on the way, in every state and its peak; edges is how what becomes of the pulses of the first lead is judged; --json has all links, and --wave a picture.")
	p.blank()
}

// The JSON of how data is sent.
type signalJSON struct {
	Frame *float64      `json:"frame_s"`
	Rate  *float64      `json:"hertz"`
	Ports []portJSON    `json:"ports"`
	Links []passageJSON `json:"links"`
}

type passageJSON struct {
	From  string   `json:"from"`
	To    string   `json:"to"`
	Lead  *string  `json:"lead"`
	In    *string  `json:"in"`
	High  *float64 `json:"high_margin_volts"`
	Low   *float64 `json:"low_margin_volts"`
	Over  *float64 `json:"over_margin_volts"`
	Under *float64 `json:"under_margin_volts"`
}

type portJSON struct {
	ID       string    `json:"id"`
	Runs     []string  `json:"runs"`
	Pixels   int       `json:"pixels"`
	Protocol *string   `json:"protocol"`
	Frame    *float64  `json:"frame_s"`
	Rate     *float64  `json:"hertz"`
	Spare    *int      `json:"spare_pixels"`
	Lead     *float64  `json:"lead_m"`
	Margin   *float64  `json:"level_margin_volts"`
	Edge     *edgeJSON `json:"edge"`
}

// edgeJSON is what becomes of the pulses of the first lead; null where it is not known, or another rule says what is wrong.
type edgeJSON struct {
	Over  *float64 `json:"overshoot_volts"`
	Delay *float64 `json:"delay_s"`
	Error *float64 `json:"width_error_s"`
	Back  *float64 `json:"ringback_volts"`
	OK    bool     `json:"ok"`
}

// passagesJSON is the margins of every link; in is the case in which the least of them is.
func passagesJSON(s *study.Study) []passageJSON {
	out := []passageJSON{}
	for _, m := range s.Margins() {
		line := passageJSON{From: m.Port, To: fmt.Sprintf("%s@px%d", m.Run, m.At), Lead: text(m.Lead)}
		if m.Port == "" {
			line.From = fmt.Sprintf("%s@px%d", m.From, m.Last)
		}
		switch m.Buffer {
		case study.ToBuffer:
			line.To = m.Lead + ".buffer"
		case study.FromBuffer:
			line.From = m.Lead + ".buffer"
		}
		for _, k := range []struct {
			margin *study.Margin
			into   **float64
		}{{m.High, &line.High}, {m.Low, &line.Low}, {m.Over, &line.Over}, {m.Under, &line.Under}} {
			if k.margin != nil {
				*k.into = number(k.margin.Volts)
			}
		}
		if least, ok := study.Least([]study.Margins{m}); ok {
			line.In = text(least.In.Name)
		}
		out = append(out, line)
	}
	return out
}

func portsJSON(s *study.Study) signalJSON {
	out := signalJSON{Ports: []portJSON{}, Links: passagesJSON(s)}
	ports := s.Ports()
	if slowest, ok := study.Slowest(ports); ok {
		out.Frame, out.Rate = number(slowest.Frame), number(slowest.Rate)
	}
	for _, p := range ports {
		line := portJSON{ID: p.ID, Runs: p.Runs, Pixels: p.Pixels}
		if p.Mixed == nil {
			line.Protocol = text(p.Protocol)
		}
		if p.Known {
			line.Frame, line.Rate = number(p.Frame), number(p.Rate)
		}
		if p.Known && p.Aimed {
			line.Spare = &p.Spare
		}
		if length := s.Scheme.Data[p.Lead].Length; length != nil {
			line.Lead = number(*length)
		}
		if least, ok := study.Least(s.PortMargins(p)); ok {
			line.Margin = number(least.Volts)
		}
		if e, ok := s.Edge(p.Lead); ok && e.Asked() {
			line.Edge = &edgeJSON{number(e.Over.Volts), number(e.Delay), number(e.Error), number(e.Back), e.Grade() < finding.Unknown}
		}
		out.Ports = append(out.Ports, line)
	}
	return out
}
