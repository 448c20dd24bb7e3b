package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"

	"farend/internal/save"
	"farend/parts"
	"farend/report"
	"farend/scheme"
	"farend/sizing"
	"farend/study"
	"farend/unit"
)

type newCommand struct {
	Name   string   `arg:"" optional:"" default:"first-light" help:"The name of the scheme; the file is NAME.scheme.yaml."`
	Light  []string `sep:"none" placeholder:"WHERE" help:"Where light goes and how long it is: \"west handrail 4.8 m\". May be repeated."`
	Tape   string   `predictor:"tape" placeholder:"TAPE" help:"Which tape, by its name, or which voltage: \"5 V\"."`
	Bright string   `placeholder:"LEVEL" help:"How bright at most: \"80 %\"."`
	Away   string   `placeholder:"LENGTH" help:"How far the cable runs from supply and board to where light begins: \"2 m\"."`
	Title  string   `placeholder:"TITLE" help:"What the scheme is called; the name in words where it is not given."`
	JSON   bool     `name:"json" help:"As one JSON object."`

	asked string // which tape was asked for
}

func (c *newCommand) Help() string {
	return "Writes a commented scheme that passes, to be changed from there. What the options leave open is asked.\n\n" +
		"Examples:\n  farend new\n  farend new handrails --light \"west handrail 4.8 m\" --light \"east handrail 4.8 m\" --tape \"5 V\" --bright \"80 %\" --away \"2 m\""
}

// A question is one thing that a new scheme needs to know.
type question struct {
	text   string
	usual  string  // what an empty answer means; "" where there is no usual answer
	option *string // where the option of the call is
	take   func(string) error
}

// The JSON of new: the file written, and what is in it.
type newJSON struct {
	SchemaVersion int      `json:"schema_version"`
	File          string   `json:"file"`
	Title         string   `json:"title"`
	Verdict       string   `json:"verdict"`
	Runs          int      `json:"runs"`
	Pixels        int      `json:"pixels"`
	Cables        int      `json:"cables"`
	Supplies      []string `json:"supplies"`
}

func (c *newCommand) Run(ctx context.Context, s streams) error {
	library := parts.Catalogue()
	path := strings.TrimSuffix(c.Name, ".scheme.yaml") + ".scheme.yaml"
	wish := sizing.Wish{Title: c.Title}
	if wish.Title == "" {
		wish.Title = inWords(strings.TrimSuffix(filepath.Base(path), ".scheme.yaml"))
	}
	if err := s.ask(c.questions(&wish, library)); err != nil {
		return err
	}
	shown := s.bar("drafting")
	draft, err := sizing.Make(ctx, wish, library)
	shown.clear()
	if err != nil {
		return undrafted(err)
	}
	if err := save.New(path, draft.Text); errors.Is(err, fs.ErrExist) {
		return usage(path+" is there already; nothing was written", "give another name: farend new NAME")
	} else if err != nil {
		return usage(fmt.Sprintf("%s cannot be written: %v", path, cause(err)), "")
	}
	return c.report(s, path, draft)
}

// questions are the four things a draft needs, in the order in which they are asked.
func (c *newCommand) questions(wish *sizing.Wish, library *parts.Library) []question {
	light := strings.Join(c.Light, ", ")
	return []question{
		{"Where does light go, and how long is it? Such as: west handrail 4.8 m, east handrail 4.8 m", "", &light, func(text string) (err error) {
			wish.Lights, err = sizing.Lights(text)
			return err
		}},
		{"Which tape, by its name, or which voltage?", "5 V", &c.Tape, func(text string) (err error) {
			c.asked = text
			wish.Tape, err = sizing.Tape(library, text)
			return err
		}},
		{"How bright at most?", "80 %", &c.Bright, func(text string) (err error) {
			wish.Level, err = unit.Parse[unit.Ratio](text)
			return err
		}},
		{"How far does the cable run from supply and board to where light begins?", "2 m", &c.Away, func(text string) (err error) {
			wish.Away, err = unit.Parse[unit.Metre](text)
			return err
		}},
	}
}

// ask takes the answers of the options, and asks for the others until each can be used.
func (s streams) ask(questions []question) error {
	answers := bufio.NewReader(s.in)
	for _, q := range questions {
		if *q.option != "" {
			if err := q.take(*q.option); err != nil {
				return unanswered(err)
			}
			continue
		}
		for {
			prompt := q.text
			if q.usual != "" {
				prompt += " [" + q.usual + "]"
			}
			fmt.Fprintf(s.err, "%s\n> ", prompt)
			answer, err := answers.ReadString('\n')
			if answer = strings.TrimSpace(answer); err != nil && answer == "" {
				fmt.Fprintln(s.err)
				return noAnswer(err)
			}
			if answer == "" {
				answer = q.usual
			}
			wrong := q.take(answer)
			if wrong == nil {
				break
			}
			s.fail(unanswered(wrong))
		}
	}
	return nil
}

func noAnswer(err error) error {
	const hint = "answer them, or give all of --light, --tape, --bright and --away"
	if errors.Is(err, io.EOF) {
		return usage("the questions were not all answered; nothing was written", hint)
	}
	return usage(fmt.Sprintf("the answer cannot be read: %v", cause(err)), hint)
}

// unanswered is an answer that cannot be used.
func unanswered(err error) error {
	var cannot *sizing.Cannot
	var wrong *unit.Error
	switch {
	case errors.As(err, &cannot):
		return usage(cannot.Text, cannot.Hint)
	case errors.As(err, &wrong):
		return usage(wrong.Text, wrong.Hint)
	}
	return err
}

// undrafted says why there is no draft.
func undrafted(err error) error {
	var stuck *sizing.Stuck
	if errors.As(err, &stuck) {
		return &failure{code: exitFindings, text: fmt.Sprintf("no scheme that passes was found in %d attempts; nothing was written. The last: %s", stuck.Rounds, stuck.Worst()),
			hint: "wish for less light, a shorter cable, or a tape of a higher voltage: --tape \"24 V\""}
	}
	return unanswered(err)
}

func (c *newCommand) report(s streams, path string, draft *sizing.Draft) error {
	sch := draft.Study.Scheme
	out := newJSON{SchemaVersion: 1, File: path, Title: sch.Title, Verdict: draft.Verdict().String(), Runs: len(sch.Runs), Cables: len(sch.Cables)}
	for _, r := range sch.Runs {
		out.Pixels += r.Count
	}
	for _, id := range scheme.IDs(sch.Supplies) {
		out.Supplies = append(out.Supplies, sch.Supplies[id].Part)
	}
	if c.JSON {
		return writeJSON(s.out, out)
	}
	p := s.page()
	p.heading(sch.Title + ", written to " + path)
	p.wrap(fmt.Sprintf("%s of %s, %s in all; %s, fed by %s. It passes the check.", count(out.Runs, "run", "runs"), sch.Runs["E1"].Tape, count(out.Pixels, "pixel", "pixels"),
		count(out.Cables, "cable", "cables"), tally(out.Supplies)))
	if n := sizing.OfVoltage(parts.Catalogue(), c.asked); n > 1 {
		p.wrap(fmt.Sprintf("For %s it took %s, one of %d tapes: farend parts tape %s lists them.", strings.TrimSpace(c.asked), sch.Runs["E1"].Tape, n, strings.TrimSpace(c.asked)))
	}
	p.blank()
	p.wrap(unjudged(sch))
	for _, group := range report.Alike(draft.Findings) {
		text := group[0].Text
		if more := len(group) - 1; more > 0 {
			text += fmt.Sprintf(" So too %s.", study.Several(subjectsOf(group[1:])))
		}
		p.item("–", 2, text)
	}
	p.blank()
	check := "farend check " + path
	if draft.Study.Lengthy() {
		check = "farend check --protection " + path
	}
	p.wrap("Next: " + check + " shows every current and voltage. Then measure the cables, say where it hangs (site) and what it shall show (states), and check again; farend help scheme says what may stand in the file.")
	p.blank()
	p.wrap("It is a draft, drawn as straight lines with a typical tape. Mains wiring, protective earth and outdoor work belong to a licensed electrician and the local code.")
	return nil
}

// unjudged says what a pass leaves open, before the notes of the check: data over the longest lead, above all.
func unjudged(sch *scheme.Scheme) string {
	longest := unit.Metre(0)
	for _, d := range sch.Data {
		if d.Length != nil {
			longest = max(longest, *d.Length)
		}
	}
	text := "Not judged yet: how many frames a second the runs get"
	if longest > 0 {
		text += fmt.Sprintf(", and whether data still reads at the end of its leads, of which the longest has %v", longest)
	}
	return text + ". The check notes besides:"
}

// count is a number with its noun.
func count(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// tally lists names that come one after the other, each with how often.
func tally(names []string) string {
	var list []string
	for i := 0; i < len(names); {
		n := 1
		for i+n < len(names) && names[i+n] == names[i] {
			n++
		}
		text := names[i]
		if n > 1 {
			text = fmt.Sprintf("%d × %s", n, names[i])
		}
		list, i = append(list, text), i+n
	}
	return strings.Join(list, " and ")
}

// inWords makes a title of a file's name.
func inWords(name string) string {
	words := strings.TrimSpace(strings.NewReplacer("-", " ", "_", " ").Replace(name))
	if words == "" {
		return "A first scheme"
	}
	return strings.ToUpper(words[:1]) + words[1:]
}
