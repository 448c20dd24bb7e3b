package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/report"
	drawing "farend/sheet"
	"farend/sheet/drafting"
	"farend/study"
)

type drawCommand struct {
	Scheme string   `arg:"" predictor:"scheme" help:"The scheme file, or - for standard input."`
	Sheet  []string `placeholder:"NAME,..." help:"The sheet to draw, such as plan or run-E1, or several; a kind, such as run, is all its sheets; all is the whole set. Left out, the sheets are listed."`
	To     string   `placeholder:"FILE" help:"The file to write, which its ending makes SVG, PDF, PNG or DXF; - writes SVG to standard output. SCHEME.NAME.svg here where not given, or .pdf for several sheets."`
	Dots   float64  `placeholder:"N" help:"Of a PNG: dots to the inch, 10 to 1200; 150 where not given."`
	JSON   bool     `name:"json" help:"The sheets, or what was written, as one JSON object."`
	onPaper
	Protection bool `help:"Follow all faults first, however long that takes: charts then show shorts, and what a fault may burn with."`
}

// onPaper is how pages are made.
type onPaper struct {
	Paper string `default:"A3" enum:"A3,A4,Tabloid,Letter,a3,a4,tabloid,letter" placeholder:"SIZE" help:"The paper of drawings: A3, A4, Tabloid or Letter. Texts and charts stand on A4, or on Letter with the latter two."`
	Wire  string `default:"mm2" enum:"mm2,awg,AWG" placeholder:"UNIT" help:"Cross-sections in mm2, or as wire gauge, awg: then the thinnest of the gauges that are sold (even ones, and from 3 AWG up) that has no less copper."`
}

// style is the style asked for.
func (o onPaper) style() drafting.Style {
	styles := drafting.Styles()
	style := styles[max(0, slices.IndexFunc(styles, func(s drafting.Style) bool { return strings.EqualFold(s.Drawings.Name, o.Paper) }))]
	style.Gauges = strings.EqualFold(o.Wire, "awg")
	return style
}

func (c *drawCommand) Help() string {
	return "Draws sheets of a scheme: plan, single-line diagram, board faces, run sheets, profiles, views by night, and charts of fuses, faults and pulses. Says the verdict, which decides the exit code, as farend check does.\n\n" +
		"Examples:\n  farend draw footbridge.scheme.yaml\n  farend draw footbridge.scheme.yaml --sheet plan --to plan.svg\n  farend draw footbridge.scheme.yaml --sheet plan --to plan.dxf\n  farend draw footbridge.scheme.yaml --sheet run --to runs.pdf\n  farend draw footbridge.scheme.yaml --sheet all --to drawings.pdf --paper A4"
}

func (c *drawCommand) Run(ctx context.Context, s streams, code *outcome) error {
	if err := c.wrong(); err != nil {
		return err
	}
	sch, err := s.load(ctx, c.Scheme)
	if err != nil {
		return err
	}
	result, err := s.check(ctx, sch, following(c.Protection))
	if err != nil {
		return err
	}
	*code = result.exit()
	style := c.style()
	set := drawing.Set(result.Study, result.assessed, style)
	if c.Sheet == nil {
		return s.list(result, set, c.JSON)
	}
	var sheets []drawing.Sheet
	for _, name := range c.Sheet {
		some, err := chosen(result, set, name, style)
		if err != nil {
			return err
		}
		for _, sheet := range some { // each once, however often it was named
			if !slices.ContainsFunc(sheets, func(s drawing.Sheet) bool { return s.Name == sheet.Name }) {
				sheets = append(sheets, sheet)
			}
		}
	}
	pages, err := s.made(ctx, result, sheets)
	if err != nil {
		return err
	}
	return s.drawn(ctx, c, result, pages, len(sheets) > 1)
}

// wrong says what is wrong with the call; nil where nothing is.
func (c *drawCommand) wrong() error {
	switch {
	case c.Sheet == nil && c.To != "":
		return usage("--to needs --sheet", "farend draw SCHEME lists the sheets")
	case c.Sheet != nil && c.To == "" && c.Scheme == "-":
		return usage("a picture of standard input has no name of its own", "name its file with --to, or write --to - for standard output")
	case c.To == "-" && c.JSON:
		return usage("--to - and --json are two answers on standard output", "name a file with --to")
	case c.Dots != 0 && !(c.Dots >= draw.Coarsest && c.Dots <= draw.Finest):
		return usage("--dots is out of reach", fmt.Sprintf("write %d to %d dots to the inch", draw.Coarsest, draw.Finest))
	case c.To == "" && c.Dots == 0:
		return nil
	}
	kind, err := kindOf(cmp.Or(c.To, "-"))
	if err == nil && c.Dots != 0 && kind.ending != ".png" {
		return usage("--dots is of a PNG alone", "let the name of the file end with .png: --to FILE.png")
	}
	return err
}

// usualDots are those of a PNG to the inch where nothing is said.
const usualDots = 150

// chosen are the sheets of a name, of a kind, or all; a name may also be of a place where a fault may burn.
func chosen(result *checked, set []drawing.Sheet, name string, style drafting.Style) ([]drawing.Sheet, error) {
	if name == "all" {
		return set, nil
	}
	for _, s := range set {
		if s.Name == name {
			return []drawing.Sheet{s}, nil
		}
	}
	var kind []drawing.Sheet
	for _, s := range set {
		if string(s.Kind) == name {
			kind = append(kind, s)
		}
	}
	if kind != nil {
		return kind, nil
	}
	if word, ok := strings.CutPrefix(name, string(drawing.OfPower)+"-"); ok {
		place, text, hint := result.Scheme.Landed(word)
		if text != "" {
			return nil, usage(text, hint)
		}
		return []drawing.Sheet{drawing.Place(result.Study, place, style)}, nil
	}
	names := make([]string, len(set))
	for i, s := range set {
		names[i] = s.Name
	}
	if slices.Contains(drawing.Kinds(), drawing.Kind(name)) {
		return nil, usage(fmt.Sprintf("this scheme has no sheet of the kind %s", name), "farend draw SCHEME lists the sheets")
	}
	return nil, usage(fmt.Sprintf("there is no sheet %s", name), choice("sheet", name, names))
}

// made makes the pages of sheets, one after the other, and numbers them.
func (s streams) made(ctx context.Context, result *checked, sheets []drawing.Sheet) ([]draw.Page, error) {
	leaves, err := s.leaves(ctx, result, sheets)
	if err != nil {
		return nil, err
	}
	return result.binding().Bind(leaves), nil
}

// binding is what every page of the scheme says.
func (c *checked) binding() layout.Binding {
	b := drafting.Binding(c.Scheme)
	b.Mark = report.Mark(c.findings)
	return b
}

// leaves makes sheets, and shows how far it has come.
func (s streams) leaves(ctx context.Context, result *checked, sheets []drawing.Sheet) (leaves []layout.Leaf, err error) {
	shown := s.counting("drawing", "sheets")
	defer shown.clear()
	for i, sheet := range sheets {
		shown.show(i, len(sheets))
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		some, err := sheet.Make(ctx)
		var why *drafting.Error
		switch {
		case errors.As(err, &why) && sheet.Kind == drawing.OfPower:
			return nil, unburnt(result.Network, sheet.Of)
		case errors.As(err, &why):
			return nil, usage(why.Text, why.Hint)
		case err != nil:
			return nil, err
		}
		leaves = append(leaves, some...)
	}
	return leaves, nil
}

// drawn writes pages: to one file where it holds them all, else each to its own, and says so. Those of several sheets have the name of their
// page behind that of the file.
func (s streams) drawn(ctx context.Context, c *drawCommand, result *checked, pages []draw.Page, several bool) error {
	path := c.To
	if path == "" {
		ending := ".svg"
		if len(pages) > 1 {
			ending = ".pdf"
		}
		path = baseName(result.Scheme.File) + "." + strings.Join(c.Sheet, "-") + ending
	}
	kind, err := kindOf(path)
	if err != nil {
		return err
	}
	documents := []draw.Document{{Title: result.name(), Pages: pages}}
	paths := []string{path}
	if !kind.many && len(pages) > 1 {
		if path == "-" {
			return usage(fmt.Sprintf("%s takes %d pages, and standard output one", strings.Join(c.Sheet, ", "), len(pages)), "write them to a PDF: --to FILE.pdf")
		}
		documents, paths = nil, nil
		for i, p := range pages {
			documents, paths = append(documents, draw.Document{Title: p.Scene.Title, Pages: []draw.Page{p}}), append(paths, beside(path, p.Name, i+1, several))
		}
	}
	if err := clash(paths); err != nil {
		return err
	}
	texts := make([][]byte, len(documents)) // nothing is written unless all can be
	for i, d := range documents {
		if err := cmp.Or(ctx.Err(), tooLarge(kind, d, c.Dots)); err != nil {
			return err
		}
		if texts[i], err = kind.write(d, cmp.Or(c.Dots, usualDots)); err != nil {
			return err
		}
		texts[i] = kind.sealed(texts[i])
	}
	if path == "-" {
		_, err := s.out.Write(texts[0])
		return err
	}
	for i := range texts {
		if err := kind.free(paths[i], "--to"); err != nil {
			return err
		}
	}
	for i, text := range texts {
		if err := kind.keep(paths[i], "--to", text); err != nil {
			return err
		}
	}
	return s.wrote(result, c.JSON, pages, paths)
}

// clash says which two pages would go to one file, as some systems see names: runs that differ in capitals alone.
func clash(paths []string) error {
	for i, path := range paths {
		for _, other := range paths[:i] {
			if strings.EqualFold(path, other) {
				return usage(fmt.Sprintf("%s and %s are one file on some systems", other, path), "write them to a PDF: --to FILE.pdf")
			}
		}
	}
	return nil
}

// tooLarge says of a PNG that it would have more dots than are written, and how many to the inch would do; nil where it would not.
func tooLarge(kind drawn, d draw.Document, dots float64) error {
	page := d.Pages[0].Scene
	most := math.Floor(math.Sqrt(draw.MostDots / (page.Width * page.Height) * 25.4 * 25.4))
	if kind.ending != ".png" || dots <= most {
		return nil
	}
	return usage(fmt.Sprintf("%g dots to the inch are too many for this page", dots), fmt.Sprintf("write --dots %g or fewer, or draw it as SVG or PDF, which have no dots", most))
}

// beside is the name of the file of a page among others: of one sheet the first page has the name that was asked for.
func beside(path, page string, n int, several bool) string {
	ending := filepath.Ext(path)
	switch {
	case several:
		return strings.TrimSuffix(path, ending) + "-" + page + ending
	case n == 1:
		return path
	}
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, ending), n, ending)
}

// The JSON of draw: the verdict, and what there is to draw or what was drawn.
type drawnJSON struct {
	SchemaVersion int         `json:"schema_version"`
	Scheme        string      `json:"scheme"`
	Title         string      `json:"title"`
	Verdict       string      `json:"verdict"`
	Sheets        []sheetJSON `json:"sheets"`
	Files         []string    `json:"files"`
}

type sheetJSON struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

func (c *checked) drawnJSON(sheets []sheetJSON, files []string) drawnJSON {
	return drawnJSON{1, c.Scheme.File, c.Scheme.Title, c.verdict().String(), sheets, files}
}

// list says which sheets there are.
func (s streams) list(result *checked, set []drawing.Sheet, json bool) error {
	if json {
		sheets := []sheetJSON{}
		for _, sheet := range set {
			sheets = append(sheets, sheetJSON{sheet.Name, sheet.Title})
		}
		return writeJSON(s.out, result.drawnJSON(sheets, []string{}))
	}
	p := s.page()
	p.heading(result.name())
	p.wrap(result.verdictText())
	p.blank()
	t := p.table("Sheets", "name", "shows")
	for _, sheet := range set {
		t.row(sheet.Name, sheet.Title)
	}
	t.print()
	p.wrap("farend draw SCHEME --sheet NAME draws one, or a kind of them; farend report SCHEME binds plan, diagram, faces and run sheets with findings, schedules and the commissioning sheet.")
	return nil
}

// wrote says what was written.
func (s streams) wrote(result *checked, json bool, pages []draw.Page, paths []string) error {
	if json {
		sheets := []sheetJSON{}
		for _, p := range pages {
			sheets = append(sheets, sheetJSON{p.Name, p.Scene.Title})
		}
		return writeJSON(s.out, result.drawnJSON(sheets, paths))
	}
	p := s.page()
	p.heading(result.name())
	p.wrap(result.verdictText())
	p.blank()
	for i, path := range paths {
		if len(paths) == len(pages) {
			p.line("%s: %s", path, pages[i].Scene.Title)
			continue
		}
		p.line("%s: %s", path, study.Counted(len(pages), "sheet"))
	}
	return nil
}

// baseName is what files made of a scheme begin with.
func baseName(file string) string {
	base := filepath.Base(file)
	for _, end := range []string{".yaml", ".yml", ".scheme"} {
		base = strings.TrimSuffix(base, end)
	}
	return cmp.Or(base, "scheme")
}
