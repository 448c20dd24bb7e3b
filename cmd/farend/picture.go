package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/network"
	"farend/sheet/chart"
	"farend/sheet/drafting"
)

// pictured is what check writes with --chart, --power or --wave.
type pictured struct {
	Chart string `placeholder:"WAY" help:"Write when the fuse of a way, or of a cable, opens, with its load and what its cables stand: a page as SVG."`
	Power string `placeholder:"PLACE" help:"Write what a fault at a place may burn with over its resistance, and which fuses open: a page as SVG."`
	Wave  string `placeholder:"LEAD" help:"Write what becomes of the pulses of a data lead that a port or a buffer drives: a page as SVG; with --json, its points."`
	Out   string `short:"o" placeholder:"FILE" help:"With --chart, --power or --wave: the file to write, or - for standard output. SCHEME.WAY.time-current.svg, SCHEME.PLACE.power.svg or SCHEME.LEAD.wave.svg here where not given."`
}

// wrong says what is wrong with the call; nil where nothing is.
func (c *pictured) wrong(scheme string, json bool) error {
	names := c.names()
	switch {
	case !c.asked() && c.Out != "":
		return usage("-o needs --chart, --power or --wave", "farend check --chart A1.1 -o FILE SCHEME")
	case len(names) > 1:
		return usage(names[0]+" and "+names[1]+" are two pages", "call farend check once for each")
	case c.Wave != "" && json && c.Out != "":
		return usage("--json writes points to standard output, and no file", "leave -o or --json out")
	case c.asked() && json && c.Wave == "":
		return usage(names[0]+" and --json are two answers", "call farend check once for each")
	case c.asked() && otherKind(c.Out):
		return usage(names[0]+" writes an SVG, and "+c.Out+" is named as another file", "let its name end with .svg; farend draw writes PDF, PNG and DXF too")
	case c.asked() && scheme == "-" && c.Out == "" && !json:
		return usage("a picture of standard input has no name of its own", "name its file with -o, or write -o - for standard output")
	}
	return nil
}

// otherKind reports whether a name is that of a PDF, a PNG or a DXF.
func otherKind(path string) bool {
	kind, err := kindOf(path)
	return err == nil && kind.ending != kinds[svg].ending
}

// names are the options that ask for a page.
func (c *pictured) names() (names []string) {
	for _, option := range []struct{ name, value string }{{"--chart", c.Chart}, {"--power", c.Power}, {"--wave", c.Wave}} {
		if option.value != "" {
			names = append(names, option.name)
		}
	}
	return names
}

// asked reports whether a page is to be written.
func (c *pictured) asked() bool { return len(c.names()) > 0 }

// leaf draws the page.
func (c *pictured) leaf(ctx context.Context, result *checked) (layout.Leaf, error) {
	switch {
	case c.Chart != "":
		leaf, err := chart.TimeCurrent(result.Study, c.Chart, result.assessed, drafting.Styles()[0])
		var why *drafting.Error
		if errors.As(err, &why) {
			err = usage(why.Text, why.Hint)
		}
		return leaf, err
	case c.Wave != "":
		leaf, ok := chart.Wave(result.Study, c.Wave, drafting.Styles()[0])
		if !ok {
			return leaf, unwaved(result, c.Wave)
		}
		return leaf, nil
	}
	place, text, hint := result.Scheme.Landed(c.Power)
	if text != "" {
		return layout.Leaf{}, usage(text, hint)
	}
	curve, ok, err := result.PowerCurve(ctx, place)
	switch {
	case err != nil:
		return layout.Leaf{}, err
	case !ok:
		return layout.Leaf{}, unburnt(result.Network, place)
	}
	c.Power = place
	return chart.Power(result.Study, curve, drafting.Styles()[0]), nil
}

// unburnt says why no fault can burn at a place, and what was meant.
func unburnt(n *network.Network, place string) error {
	places := faultPlaces(n, network.PolesMeet)
	owner, _, _ := strings.Cut(place, "@")
	owner, socket, _ := strings.Cut(owner, ".")
	cable, is := n.Scheme.Cables[owner]
	board, _ := n.Scheme.BoardPart(owner)
	if board != nil {
		if _, port := board.Ports[socket]; port {
			return usage(fmt.Sprintf("%s is a port: it sends data, and no power", place), "a fault between the poles burns at a way, an inlet, a junction, a run or an end of a cable")
		}
	}
	of := slices.DeleteFunc(slices.Clone(places), func(other string) bool {
		return other != owner && !strings.HasPrefix(other, owner+"@") && !strings.HasPrefix(other, owner+".")
	})
	switch known := n.Scheme.Identifiers()[owner]; {
	case is && len(of) > 0:
		return usage(fmt.Sprintf("a fault burns at one end of the cable %s", owner), fmt.Sprintf("write %s@from, at %s, or %s@to, at %s", owner, cable.From, owner, cable.To))
	case known && len(of) > 0:
		return usage(fmt.Sprintf("no fault can burn at %q", place), choice("place that a supply reaches", place, of))
	case known:
		return usage(fmt.Sprintf("no supply reaches %s with both poles, so no fault can burn there", owner), "farend check says what feeds it")
	}
	return usage(fmt.Sprintf("there is no %s in this scheme", owner), choice("place that a supply reaches", place, places))
}

// picture writes the page, and says that it did, with the verdict; standard output gets the page alone.
func (s streams) picture(ctx context.Context, c *pictured, result *checked) error {
	leaf, err := c.leaf(ctx, result)
	if err != nil {
		return err
	}
	page, err := draw.SVG(result.binding().Bind([]layout.Leaf{leaf})[0].Scene)
	if err != nil {
		return err
	}
	kind := kinds[svg]
	page = kind.sealed(page)
	if c.Out == "-" {
		_, err := s.out.Write(page)
		return err
	}
	path := c.Out
	if path == "" {
		path = pictureName(result.Scheme.File, c)
	}
	if err := kind.keep(path, "-o", page); err != nil {
		return err
	}
	p := s.page()
	p.heading(result.name())
	p.wrap(result.verdictText())
	p.blank()
	switch {
	case c.Power != "":
		p.line("%s: what a fault at %s may burn with, and which fuses open", path, c.Power)
	case c.Wave != "":
		p.line("%s: what becomes of the pulses of %s", path, c.Wave)
	default:
		p.line("%s: when the fuse of %s opens, its load, and what its cables stand", path, c.Chart)
	}
	return nil
}

// pictureName is the file that a picture goes to, in the folder where the command is called.
func pictureName(scheme string, c *pictured) string {
	base := baseName(scheme)
	switch {
	case c.Power != "":
		return base + "." + c.Power + ".power.svg"
	case c.Wave != "":
		return base + "." + c.Wave + ".wave.svg"
	}
	return base + "." + c.Chart + ".time-current.svg"
}
