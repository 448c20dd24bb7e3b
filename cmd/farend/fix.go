package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"farend/finding"
	"farend/internal/save"
	"farend/remedy"
	"farend/rulebook"
)

// mending is what check does with --fix and --write.
type mending struct {
	Fix   bool `help:"Show what would mend the findings, as changes to the file, and the verdict after all of them."`
	Write bool `help:"With --fix: write the changed file; of standard input, the changed text to standard output."`
}

// wrong says what is wrong with the call; nil where nothing is.
func (m *mending) wrong(other string, given bool) error {
	switch {
	case m.Write && !m.Fix:
		return usage("--write needs --fix", "farend check --fix FILE shows what would be written")
	case m.Fix && given:
		return usage("--fix and "+other+" are two answers", "call farend check once for each")
	}
	return nil
}

// A fixed scheme is a checked one with what edits make of it.
type fixed struct {
	*checked
	source  []byte
	mended  *remedy.Mended
	after   *checked
	written bool // over the file
}

// mend makes the edits of the findings, shows them and, where that was asked for, writes them.
func (s streams) mend(ctx context.Context, m *mending, path string, result *checked, source []byte, code *outcome, json bool) error {
	f, err := s.fix(ctx, result, source)
	if err != nil {
		return err
	}
	to := s.page()
	if m.Write {
		if remedy.Worse(result.findings, f.after.findings) { // Mend keeps no change for the worse, so this would be a fault of ours
			return fmt.Errorf("the changed scheme is worse than it was; nothing was written")
		}
		*code = f.after.exit()
		if path != "-" {
			if f.written, err = overwrite(path, source, f.mended.Text); err != nil {
				return err
			}
		} else if !json {
			to.out, to.plain = s.err, true
			if _, err := s.out.Write(f.mended.Text); err != nil {
				return err
			}
		}
	}
	if json {
		return writeJSON(s.out, f.json())
	}
	f.print(to, path, m.Write)
	return nil
}

// fix makes the edits in memory.
func (s streams) fix(ctx context.Context, result *checked, source []byte) (*fixed, error) {
	shown := s.counting("mending", "rounds")
	defer shown.clear()
	mended, err := remedy.Mend(ctx, result.Study, source, rulebook.All(), func(round int) { shown.show(round, remedy.Rounds) })
	if err != nil {
		return nil, err
	}
	after := &checked{mended.Study, mended.Study.Assess(rulebook.All()), mended.Findings}
	return &fixed{checked: result, source: source, mended: mended, after: after}, nil
}

// overwrite replaces the file that was read, unless nothing changed; what it says is whether it did.
func overwrite(path string, read, text []byte) (bool, error) {
	if string(read) == string(text) {
		return false, nil
	}
	switch err := save.Over(path, read, text); {
	case errors.Is(err, save.ErrChanged):
		return false, usage(path+" has changed since it was read; nothing was written", "call it again: the changes will be those that the file needs now")
	case err != nil:
		return false, usage(fmt.Sprintf("%s cannot be written: %v; it is as it was", path, cause(err)), "")
	}
	return true, nil
}

// print writes for people what would be done and what comes of it.
func (f *fixed) print(p *page, path string, asked bool) {
	p.heading(f.name())
	p.wrap(f.verdictText())
	p.blank()
	for _, step := range f.mended.Steps {
		p.change(step)
	}
	f.printLeft(p)
	switch n := len(f.mended.Steps); {
	case n == 0 && finding.Worst(f.findings) <= finding.Note:
		p.wrap("There is nothing to mend.")
	case n == 0:
		p.wrap("No change to the file would mend any of this.")
		f.printOpen(p)
	default:
		p.wrap(fmt.Sprintf("After %s: %s", count(n, "change", "changes"), lowered(f.after.verdictText())))
		if !f.mended.Settled {
			p.wrap(fmt.Sprintf("That is as far as %d rounds go; another call goes on from there.", remedy.Rounds))
		}
		f.printOpen(p)
	}
	p.blank()
	p.wrap(f.outcome(path, asked))
}

// outcome says what was written, or how it would be.
func (f *fixed) outcome(path string, asked bool) string {
	changed := len(f.mended.Steps) > 0
	switch {
	case f.written:
		return path + " is written. Lengths that are estimated, or from the drawing, say so in their labels: measure them. Check again when the work is planned."
	case asked && path == "-" && changed:
		return "The changed text is on standard output."
	case asked && path == "-":
		return "The text is on standard output as it was."
	case asked:
		return path + " is as it was; nothing was written."
	case changed && path == "-":
		return "Nothing was written. farend check --fix --write - writes the changed text to standard output."
	case changed:
		return "Nothing was written. farend check --fix --write " + path + " writes the file; it changes these lines and no other."
	}
	return "Nothing was written."
}

// change writes one finding with what mends it: in words, and as lines of the file.
func (p *page) change(s remedy.Step) {
	p.found(s.Finding)
	for _, words := range s.Words {
		p.indented("→ ", words)
	}
	for _, l := range changedLines(s.Before, s.After) {
		mark := "+"
		if l.old {
			mark = "-"
		}
		head := fmt.Sprintf("%8d %s ", l.number, mark)
		for _, piece := range creased(l.text, columns-width(head)) {
			p.line("%s%s", head, piece)
			head = strings.Repeat(" ", width(head))
		}
	}
	p.blank()
}

// creased breaks a line of a file at blanks, which stay as they are.
func creased(line string, most int) []string {
	line = printable(line)
	var pieces []string
	for width(line) > most {
		cut := strings.LastIndexByte(strings.TrimRight(head(line, most), " "), ' ') + 1
		if cut < most/2 {
			cut = max(len(head(line, most)), 1)
		}
		pieces, line = append(pieces, line[:cut]), line[cut:]
	}
	return append(pieces, line)
}

// lowered is a text whose first word is not the first of its sentence.
func lowered(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToLower(text[:1]) + text[1:]
}

// The JSON of check --fix.
type fixJSON struct {
	SchemaVersion int          `json:"schema_version"`
	Scheme        string       `json:"scheme"`
	Title         string       `json:"title"`
	Before        stateJSON    `json:"before"`
	Changes       []changeJSON `json:"changes"`
	Left          []leftJSON   `json:"left"`
	Rounds        int          `json:"rounds"`
	Settled       bool         `json:"settled"`
	After         stateJSON    `json:"after"`
	Text          *string      `json:"text"`
	Written       bool         `json:"written"`
}

type stateJSON struct {
	Verdict  string      `json:"verdict"`
	Findings []foundJSON `json:"findings"`
}

type foundJSON struct {
	ID    string        `json:"id"`
	Grade finding.Grade `json:"grade"`
	Text  string        `json:"text"`
}

type changeJSON struct {
	For   foundJSON      `json:"for"`
	Words []string       `json:"words"`
	Edits []finding.Edit `json:"edits"`
	Lines []lineJSON     `json:"lines"`
}

type lineJSON struct {
	Line int    `json:"line"`
	Old  bool   `json:"old"`
	Text string `json:"text"`
}

type leftJSON struct {
	For   foundJSON `json:"for"`
	Words []string  `json:"words"`
	Why   string    `json:"why"`
}

func (f *fixed) json() fixJSON {
	found := func(g finding.Finding) foundJSON { return foundJSON{g.ID, g.Grade, g.Text} }
	state := func(c *checked) stateJSON {
		out := stateJSON{c.verdict().String(), []foundJSON{}}
		for _, g := range c.findings {
			out.Findings = append(out.Findings, found(g))
		}
		return out
	}
	out := fixJSON{SchemaVersion: 1, Scheme: f.Scheme.File, Title: f.Scheme.Title, Before: state(f.checked), Changes: []changeJSON{}, Left: []leftJSON{},
		Rounds: f.mended.Rounds, Settled: f.mended.Settled, After: state(f.after), Written: f.written}
	for _, s := range f.mended.Steps {
		c := changeJSON{found(s.Finding), s.Words, s.Edits, []lineJSON{}}
		for _, l := range changedLines(s.Before, s.After) {
			c.Lines = append(c.Lines, lineJSON{l.number, l.old, l.text})
		}
		out.Changes = append(out.Changes, c)
	}
	for _, l := range f.mended.Left {
		out.Left = append(out.Left, leftJSON{found(l.Finding), l.Words, l.Why})
	}
	if len(out.Changes) > 0 {
		changed := string(f.mended.Text)
		out.Text = &changed
	}
	return out
}
