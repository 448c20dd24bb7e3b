package main

import (
	"context"
	"fmt"
	"slices"

	"farend/commission"
	"farend/draw"
	"farend/finding"
	"farend/layout"
	"farend/report"
	"farend/rulebook"
	drawing "farend/sheet"
	"farend/sheet/drafting"
)

type reportCommand struct {
	Scheme string `arg:"" predictor:"scheme" help:"The scheme file, or - for standard input."`
	Out    string `short:"o" placeholder:"FILE" help:"The PDF to write, or - for standard output. SCHEME.report.pdf here where not given."`
	JSON   bool   `name:"json" help:"What was written, as one JSON object."`
	onPaper
	Protection bool `help:"Follow all faults, however long that takes. Unasked they are followed where it takes about a second."`
}

func (c *reportCommand) Help() string {
	return "Binds one PDF that somebody else can build from: cover with the verdict and the cautions, findings with their sums, drawings, schedules, the commissioning sheet, what the numbers rest on, and the record of changes. The same scheme gives the same bytes. Says the verdict, which decides the exit code, as farend check does.\n\n" +
		"Examples:\n  farend report footbridge.scheme.yaml\n  farend report footbridge.scheme.yaml -o footbridge.pdf\n  farend report footbridge.scheme.yaml --paper Letter --wire awg -o footbridge.pdf"
}

func (c *reportCommand) Run(ctx context.Context, s streams, code *outcome) error {
	switch {
	case c.Scheme == "-" && c.Out == "":
		return usage("the report of standard input has no name of its own", "name its file with -o, or write -o - for standard output")
	case c.Out == "-" && c.JSON:
		return usage("-o - and --json are two answers on standard output", "name a file with -o")
	}
	path := c.Out
	kind := kinds[pdf]
	if path != "-" && path != "" {
		if named, err := kindOf(path); err != nil || named.ending != kind.ending {
			return usage(fmt.Sprintf("the report is a PDF, and %s is named as another file", path), "let its name end with .pdf; farend draw writes single sheets as SVG, PNG or DXF")
		}
	}
	sch, source, err := s.open(ctx, c.Scheme)
	if err != nil {
		return err
	}
	result, err := s.check(ctx, sch, following(c.Protection))
	if err != nil {
		return err
	}
	*code = result.exit()
	if path == "" {
		path = baseName(sch.File) + ".report.pdf"
	}
	pages, text, err := s.bound(ctx, result, source, c.style())
	if err != nil {
		return err
	}
	if path == "-" {
		_, err := s.out.Write(text)
		return err
	}
	if err := kind.keep(path, "-o", text); err != nil {
		return err
	}
	return s.wrote(result, c.JSON, pages, []string{path})
}

// bound is the report as pages and as a file.
func (s streams) bound(ctx context.Context, result *checked, source []byte, style drafting.Style) ([]draw.Page, []byte, error) {
	r := report.Report{Study: result.Study, Assessed: result.assessed, Findings: result.findings, Source: source, Version: version}
	var err error
	if r.Drawings, err = s.leaves(ctx, result, built(drawing.Set(result.Study, result.assessed, style))); err != nil {
		return nil, nil, err
	}
	if r.Steps, err = s.commissioned(ctx, result, style); err != nil {
		return nil, nil, err
	}
	pages := result.binding().Bind(r.Pages(style))
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	kind := kinds[pdf]
	text, err := kind.write(draw.Document{Title: result.name(), Pages: pages}, 0)
	if err != nil {
		return nil, nil, err
	}
	return pages, kind.sealed(text), ctx.Err()
}

// commissioned is the commissioning sheet.
func (s streams) commissioned(ctx context.Context, result *checked, style drafting.Style) ([]layout.Leaf, error) {
	shown := s.bar("solving what to expect at first light")
	defer shown.clear()
	procedure, err := commission.Of(ctx, result.Study, result.forbidding())
	if err != nil {
		return nil, err
	}
	return commission.Pages(procedure, style.Texts, style.Section), nil
}

// forbidding is what was found for which nothing is to be switched on, the worst first: each rule and grade once, with all its subjects.
func (c *checked) forbidding() (list []commission.Danger) {
	for _, f := range c.findings {
		if !report.Forbids(f) {
			continue
		}
		name := f.Rule
		if rule, known := rulebook.Named(f.Rule); known {
			name = report.Within(rule.Title)
		}
		if f.Grade != finding.Danger {
			name += ", " + f.Grade.String()
		}
		k := slices.IndexFunc(list, func(d commission.Danger) bool { return d.Name == name })
		if k < 0 {
			k, list = len(list), append(list, commission.Danger{Name: name})
		}
		list[k].Of = append(list[k].Of, f.Subject)
	}
	return list
}

// built are the sheets by which people build. The others are charts, which farend draw makes when they are asked for.
func built(set []drawing.Sheet) []drawing.Sheet {
	return slices.DeleteFunc(slices.Clone(set), func(s drawing.Sheet) bool {
		return !slices.Contains([]drawing.Kind{drawing.OfPlan, drawing.OfSingleLine, drawing.OfFace, drawing.OfRun}, s.Kind)
	})
}
