package main

import (
	"context"
	"encoding/csv"
	"errors"
	"strconv"

	"farend/addressing"
)

type addressesCommand struct {
	Scheme string `arg:"" predictor:"scheme" help:"The scheme file, or - for standard input."`
	First  int    `default:"1" placeholder:"N" help:"The first universe."`
	CSV    bool   `help:"Print every pixel with its slots and place as comma-separated lines."`
	JSON   bool   `help:"Print one JSON object: see docs/json.md."`
	Pixels bool   `help:"With --json: every pixel with its slots and place."`
}

func (c *addressesCommand) Help() string {
	return "Numbers the pixels of a scheme in universes of ANSI E1.31: every port begins with one of its own, a pixel stands in one as a whole. Says what they ask of the network at the frame rate of the scheme, and which receiver gets which.\n\n" +
		"Examples:\n  farend addresses footbridge.scheme.yaml\n  farend addresses --csv footbridge.scheme.yaml > pixels.csv\n  farend addresses --first 101 --json footbridge.scheme.yaml"
}

func (c *addressesCommand) Run(ctx context.Context, s streams) error {
	switch {
	case c.CSV && c.JSON:
		return usage("--csv and --json are two answers", "call farend addresses once for each")
	case c.Pixels && !c.JSON:
		return usage("--pixels needs --json", "farend addresses --csv lists every pixel")
	}
	sch, err := s.load(ctx, c.Scheme)
	if err != nil {
		return err
	}
	plan, err := addressing.New(sch, c.First)
	var gap *addressing.Gap
	switch {
	case errors.As(err, &gap):
		return usage(gap.Text, gap.Hint)
	case err != nil:
		return err
	case c.JSON:
		return writeJSON(s.out, addressesJSON(plan, sch.File, c.Pixels))
	case c.CSV:
		return s.pixels(plan)
	}
	p := s.page()
	p.heading(nameOf(sch))
	printAddresses(p, plan)
	return nil
}

// printAddresses writes universes, receivers and what they ask of the network.
func printAddresses(p *page, plan addressing.Plan) {
	if len(plan.Universes) == 0 {
		p.line("No port sends data, so there is nothing to number.")
		return
	}
	t := p.table("Universes (each port begins with one of its own)", "universe", "port", "slots", "from", "to", "group")
	for _, u := range plan.Universes {
		t.row(strconv.Itoa(u.Number), u.Port, strconv.Itoa(u.Slots), u.From.String(), u.To.String(), u.Group)
	}
	t.print()
	t = p.table("Receivers (name and address as the scheme has them)", "board", "name", "address", "universes", "pixels")
	for _, r := range plan.Receivers {
		universes := strconv.Itoa(r.From)
		if r.To > r.From {
			universes += " to " + strconv.Itoa(r.To)
		}
		t.row(r.Board, dash(r.Host), dash(r.Address), universes, strconv.Itoa(r.Pixels))
	}
	t.print()
	p.wrap(plan.Asks())
	p.blank()
}

// pixels writes every pixel as a line.
func (s streams) pixels(plan addressing.Plan) error {
	w := csv.NewWriter(s.out)
	lines := [][]string{{"run", "pixel", "port", "universe", "slot", "slots", "x_m", "y_m"}}
	for _, a := range plan.Pixels {
		x, y := "", ""
		if a.Drawn {
			x, y = strconv.FormatFloat(a.X, 'f', 4, 64), strconv.FormatFloat(a.Y, 'f', 4, 64)
		}
		lines = append(lines, []string{a.Run, strconv.Itoa(a.Pixel.Pixel), a.Port, strconv.Itoa(a.Universe), strconv.Itoa(a.Slot), strconv.Itoa(a.Slots), x, y})
	}
	return w.WriteAll(lines)
}

// The JSON of addresses.
type addressesObject struct {
	SchemaVersion int             `json:"schema_version"`
	Scheme        string          `json:"scheme"`
	Universes     []universeJSON  `json:"universes"`
	Receivers     []receiverJSON  `json:"receivers"`
	Rate          float64         `json:"hertz"`
	Asked         bool            `json:"rate_asked"`
	Packets       float64         `json:"packets_per_second"`
	Bits          float64         `json:"bits_per_second"`
	Pixels        []addressedJSON `json:"pixels"`
}

type universeJSON struct {
	Number int       `json:"number"`
	Port   string    `json:"port"`
	Slots  int       `json:"slots"`
	From   pixelJSON `json:"from"`
	To     pixelJSON `json:"to"`
	Group  string    `json:"group"`
}

type pixelJSON struct {
	Run   string `json:"run"`
	Pixel int    `json:"pixel"`
}

type receiverJSON struct {
	Board   string  `json:"board"`
	Name    *string `json:"name"`
	Address *string `json:"address"`
	From    int     `json:"first_universe"`
	To      int     `json:"last_universe"`
	Pixels  int     `json:"pixels"`
}

type addressedJSON struct {
	Run      string   `json:"run"`
	Pixel    int      `json:"pixel"`
	Port     string   `json:"port"`
	Universe int      `json:"universe"`
	Slot     int      `json:"slot"`
	Slots    int      `json:"slots"`
	X        *float64 `json:"x_m"`
	Y        *float64 `json:"y_m"`
}

func addressesJSON(plan addressing.Plan, file string, pixels bool) addressesObject {
	out := addressesObject{SchemaVersion: 1, Scheme: file, Universes: []universeJSON{}, Receivers: []receiverJSON{}, Rate: float64(plan.Rate), Asked: plan.Asked, Packets: plan.Packets, Bits: plan.Bits, Pixels: []addressedJSON{}}
	for _, u := range plan.Universes {
		out.Universes = append(out.Universes, universeJSON{u.Number, u.Port, u.Slots, pixelJSON(u.From), pixelJSON(u.To), u.Group})
	}
	for _, r := range plan.Receivers {
		out.Receivers = append(out.Receivers, receiverJSON{r.Board, text(r.Host), text(r.Address), r.From, r.To, r.Pixels})
	}
	if !pixels {
		return out
	}
	for _, a := range plan.Pixels {
		line := addressedJSON{Run: a.Run, Pixel: a.Pixel.Pixel, Port: a.Port, Universe: a.Universe, Slot: a.Slot, Slots: a.Slots}
		if a.Drawn {
			line.X, line.Y = &a.X, &a.Y
		}
		out.Pixels = append(out.Pixels, line)
	}
	return out
}
