package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"farend/circuit"
	"farend/draw"
	"farend/examples"
	"farend/finding"
	"farend/internal/save"
	"farend/parts"
	"farend/scheme"
	drawing "farend/sheet"
	"farend/sheet/drafting"
	"farend/study"
)

type demoCommand struct {
	Dir  string `arg:"" optional:"" default:"farend-demo" help:"The folder to write into."`
	JSON bool   `name:"json" help:"As one JSON object."`
}

func (c *demoCommand) Help() string {
	return "Writes worked schemes, each with its result as text and JSON, its netlist, its plan as a picture and its report to build from. All names, places and boards in them are invented. A file that is already there with another content is left alone."
}

// A document is one file that demo writes.
type document struct {
	name    string
	content []byte
}

func (c *demoCommand) Run(ctx context.Context, s streams) error {
	names, err := fs.Glob(examples.Files, "*.scheme.yaml")
	if err != nil {
		return err
	}
	var sources, documents []document
	for _, name := range names {
		source, err := examples.Files.ReadFile(name)
		if err != nil {
			return err
		}
		sources = append(sources, document{name, source})
	}
	if err := vacant(c.Dir, sources); err != nil { // said before anything is solved
		return err
	}
	results := make([]*checked, len(names))
	for i, name := range names {
		result, files, err := s.demonstrate(ctx, name)
		if err != nil {
			return err
		}
		results[i], documents = result, append(documents, files...)
	}
	if err := write(c.Dir, documents); err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(s.out, demoResult(c.Dir, documents, results))
	}
	p := s.page()
	p.heading("Worked examples (invented), written to " + c.Dir)
	for i, name := range names {
		p.blank()
		p.line("%s  %s", p.styled(name, "1"), results[i].Scheme.Title)
		p.indented("", results[i].verdictText())
		results[i].printWorst(p, strings.TrimSuffix(name, ".scheme.yaml")+".check.txt")
	}
	p.blank()
	p.wrap(fmt.Sprintf("Next: farend check %s, or copy one of them and make it yours.", filepath.Join(c.Dir, names[0])))
	return nil
}

// printWorst prints the worst findings, and says where the others stand.
func (c *checked) printWorst(p *page, file string) {
	const most = 3
	var bad []finding.Finding
	for _, f := range c.findings {
		if f.Grade > finding.Note {
			bad = append(bad, f)
		}
	}
	for _, f := range bad[:min(most, len(bad))] {
		p.indented("["+f.Grade.Letter()+"] ", f.Text)
	}
	if more := len(bad) - most; more > 0 {
		p.indented("", fmt.Sprintf("and %d more in %s", more, file))
	}
}

// The JSON of demo: the folder, the files written into it, and the verdict of every scheme.
type demoJSON struct {
	SchemaVersion int           `json:"schema_version"`
	Folder        string        `json:"folder"`
	Files         []string      `json:"files"`
	Schemes       []verdictJSON `json:"schemes"`
}

type verdictJSON struct {
	Scheme  string `json:"scheme"`
	Title   string `json:"title"`
	Verdict string `json:"verdict"`
}

func demoResult(dir string, documents []document, results []*checked) demoJSON {
	out := demoJSON{SchemaVersion: 1, Folder: dir}
	for _, d := range documents {
		out.Files = append(out.Files, d.name)
	}
	for _, r := range results {
		out.Schemes = append(out.Schemes, verdictJSON{r.Scheme.File, r.Scheme.Title, r.verdict().String()})
	}
	return out
}

// demonstrate checks one example and makes its documents.
func (s streams) demonstrate(ctx context.Context, name string) (*checked, []document, error) {
	source, err := examples.Files.ReadFile(name)
	if err != nil {
		return nil, nil, err
	}
	sch, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, nil, mistakes
	}
	result, err := s.check(ctx, sch, study.WhereQuick)
	if err != nil {
		return nil, nil, err
	}
	base := strings.TrimSuffix(name, ".scheme.yaml")
	var page1, object, deck bytes.Buffer
	result.print(&page{out: &page1, plain: true})
	if err := writeJSON(&object, resultJSON(result, false, nil)); err != nil {
		return nil, nil, err
	}
	n := result.Network
	solution := n.Solve(ctx, circuit.NewWorker(), result.Cases()[0])
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	if err := n.Netlist(&deck, solution, 0); err != nil {
		return nil, nil, err
	}
	style := drafting.Styles()[0]
	plan, err := s.planned(ctx, result, style)
	if err != nil {
		return nil, nil, err
	}
	_, bound, err := s.bound(ctx, result, source, style)
	if err != nil {
		return nil, nil, err
	}
	return result, []document{
		{name, source}, {base + ".check.txt", page1.Bytes()}, {base + ".check.json", object.Bytes()}, {base + ".cir", deck.Bytes()},
		{base + ".plan.svg", plan}, {base + ".report.pdf", bound},
	}, nil
}

// planned is the plan as a picture; of one that takes several pages the first.
func (s streams) planned(ctx context.Context, result *checked, style drafting.Style) ([]byte, error) {
	sheets := slices.DeleteFunc(drawing.Set(result.Study, result.assessed, style), func(s drawing.Sheet) bool { return s.Kind != drawing.OfPlan })
	pages, err := s.made(ctx, result, sheets)
	if err != nil {
		return nil, err
	}
	text, err := kinds[svg].write(draw.Document{Title: result.name(), Pages: pages[:1]}, 0)
	if err != nil {
		return nil, err
	}
	return kinds[svg].sealed(text), nil
}

// vacant makes a folder, and sees that no file is there by the name of a document with another content: it may be somebody's work.
func vacant(dir string, documents []document) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return usage(fmt.Sprintf("the folder %s cannot be made: %v", dir, cause(err)), "name another folder: farend demo DIR")
	}
	for _, d := range documents {
		old, err := os.ReadFile(filepath.Join(dir, d.name))
		switch {
		case errors.Is(err, fs.ErrNotExist) || err == nil && bytes.Equal(old, d.content):
		case err != nil:
			return usage(fmt.Sprintf("%s cannot be read: %v", filepath.Join(dir, d.name), cause(err)), "name another folder: farend demo DIR")
		default:
			return usage(fmt.Sprintf("%s is there already and differs; nothing was written", filepath.Join(dir, d.name)), "name another folder: farend demo DIR")
		}
	}
	return nil
}

// write saves the documents in a folder, each in one piece; nothing is written if it is not vacant.
func write(dir string, documents []document) error {
	if err := vacant(dir, documents); err != nil {
		return err
	}
	for _, d := range documents {
		if err := save.New(filepath.Join(dir, d.name), d.content); err != nil && !errors.Is(err, fs.ErrExist) {
			return usage(fmt.Sprintf("%s cannot be written: %v", filepath.Join(dir, d.name), cause(err)), "name another folder: farend demo DIR")
		}
	}
	return nil
}
