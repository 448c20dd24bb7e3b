package main

import (
	"strconv"
	"strings"

	"farend/study"
)

// printPorts lists the ports that send data, what hangs on each, and how long a frame takes.
func (c *checked) printPorts(p *page) {
	list := c.Ports()
	if len(list) == 0 {
		return
	}
	t := p.table("Data (what each port sends to, and how long a frame takes)", "port", "runs", "pixels", "protocol", "frame ms", "Hz", "spare pixels", "lead m")
	for _, port := range list {
		frame, rate, spare, lead := "–", "–", "–", "–"
		if port.Known {
			frame, rate = figures(port.Frame, 1000), figures(port.Rate, 1)
		}
		if port.Known && port.Aimed {
			spare = strings.ReplaceAll(strconv.Itoa(port.Spare), "-", "−")
		}
		if length := c.Scheme.Data[port.Lead].Length; length != nil {
			lead = figures(*length, 1)
		}
		protocol := short(port.Protocol)
		if port.Mixed != nil {
			protocol = "several"
		}
		t.row(port.ID, few(port.Runs), strconv.Itoa(port.Pixels), protocol, frame, rate, spare, lead)
	}
	t.print()
	text := "What the line allows: a controller that works frames out between sending them makes fewer"
	if c.Scheme.Aims.FrameRate > 0 {
		text += "; spare are pixels more that each could send to at " + c.Scheme.Aims.FrameRate.String()
	}
	p.wrap(text + ".")
	p.blank()
}

// The JSON of how data is sent.
type signalJSON struct {
	Ports []portJSON `json:"ports"`
}

type portJSON struct {
	ID       string   `json:"id"`
	Runs     []string `json:"runs"`
	Pixels   int      `json:"pixels"`
	Protocol *string  `json:"protocol"`
	Frame    *float64 `json:"frame_s"`
	Rate     *float64 `json:"hertz"`
	Spare    *int     `json:"spare_pixels"`
	Lead     *float64 `json:"lead_m"`
}

func portsJSON(s *study.Study) signalJSON {
	out := signalJSON{Ports: []portJSON{}}
	for _, p := range s.Ports() {
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
		out.Ports = append(out.Ports, line)
	}
	return out
}
