package main

import "farend/scheme"

type schemaCommand struct{}

func (schemaCommand) Help() string {
	return "Example:\n  farend schema > farend.schema.json\n\n" +
		"It says of every key what it is and what may stand there, every spelling of a unit included. Editors that know JSON Schema (draft 2020-12) complete and check schemes by it while they are written; " +
		"farend check says more: whether names lead somewhere, and whether it all makes sense."
}

func (schemaCommand) Run(s streams) error {
	_, err := s.out.Write(scheme.Schema())
	return err
}
