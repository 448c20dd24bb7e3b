package main

import (
	"embed"
	"fmt"
	"strings"

	"farend/finding"
)

// pages are the topics of help, one file each. They are at most 100 columns wide and printed as they stand.
//
//go:embed help
var pages embed.FS

type helpCommand struct {
	Topic string `arg:"" optional:"" predictor:"topic" help:"What to read about; none lists the topics."`
}

func (c *helpCommand) Help() string {
	return "Examples:\n  farend help\n  farend help scheme\n  farend help units"
}

func (c *helpCommand) Run(s streams) error {
	if c.Topic == "" {
		return s.listTopics()
	}
	text, err := pages.ReadFile("help/" + c.Topic + ".txt")
	if err != nil {
		hint := "there are " + strings.Join(topics(), ", ") + "; farend " + c.Topic + " --help is for commands"
		if near := finding.DidYouMean(c.Topic, topics()); near != "" {
			hint = "did you mean farend help " + near + "?"
		}
		return usage(fmt.Sprintf("there is no help on %q", c.Topic), hint)
	}
	_, err = s.out.Write(text)
	return err
}

func (s streams) listTopics() error {
	p := s.page()
	p.heading("What help there is")
	for _, topic := range topics() {
		text, err := pages.ReadFile("help/" + topic + ".txt")
		if err != nil {
			return err
		}
		title, _, _ := strings.Cut(string(text), "\n")
		p.line("farend help %-8s %s", topic, title)
	}
	p.blank()
	p.wrap("farend --help lists the commands, farend COMMAND --help the options of one, farend explain the rules, farend parts the catalogue, and farend schema writes a JSON Schema with which editors check a scheme while it is written.")
	return nil
}
