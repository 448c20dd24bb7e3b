package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"syscall"

	"farend/finding"
	"farend/parts"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
)

// A checked scheme is a study with what the rules said.
type checked struct {
	*study.Study
	assessed []study.Assessed
	findings []finding.Finding
}

// verdict is the worst grade of all findings.
func (c *checked) verdict() finding.Grade { return finding.Worst(c.findings) }

func (c *checked) exit() outcome {
	if finding.Blocks(c.findings) {
		return exitFindings
	}
	return exitFine
}

// load reads a scheme from a file, or from standard input for "-". It stops waiting for either when the context ends.
func (s streams) load(ctx context.Context, path string) (*scheme.Scheme, error) {
	sch, _, err := s.open(ctx, path)
	return sch, err
}

// open is load with the text that was read.
func (s streams) open(ctx context.Context, path string) (*scheme.Scheme, []byte, error) {
	type loaded struct {
		scheme *scheme.Scheme
		source []byte
		err    error
		fault  any
	}
	ready := make(chan loaded, 1)
	go func() {
		var l loaded
		defer func() {
			if fault := recover(); fault != nil { // for the caller, who can answer for it
				l.fault = fmt.Sprintf("%v\n%s", fault, debug.Stack())
			}
			ready <- l
		}()
		l.scheme, l.source, l.err = s.read(path)
	}()
	select {
	case l := <-ready:
		if l.fault != nil {
			panic(l.fault)
		}
		return l.scheme, l.source, l.err
	case <-ctx.Done():
		return nil, nil, ctx.Err()
	}
}

func (s streams) read(path string) (sch *scheme.Scheme, source []byte, err error) {
	source, name, err := s.source(path)
	if err != nil {
		return nil, nil, err
	}
	sch, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, nil, &wrongFile{mistakes, source}
	}
	return sch, source, nil
}

// longest is more than any scheme needs; the reader refuses such a file with a word.
const longest = 64 << 20

// source is the text of a file and the name it goes by in messages.
func (s streams) source(path string) ([]byte, string, error) {
	if path == "-" {
		const name = "standard input"
		source, err := io.ReadAll(io.LimitReader(s.in, longest))
		if err != nil {
			return nil, name, unreadable(name, fmt.Sprintf("standard input cannot be read: %v", cause(err)), "farend check FILE reads a file")
		}
		return source, name, nil
	}
	source, err := contents(path)
	return source, path, err
}

// contents reads a file. Opening a pipe that nobody writes to does not wait for a writer.
func contents(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case path == "":
		return nil, unreadable(path, "the name of the scheme file is empty", "name a file, or - for standard input")
	case errors.Is(err, fs.ErrNotExist):
		return nil, unreadable(path, path+" is not there", "farend demo writes schemes to try")
	case err == nil && info.IsDir():
		return nil, unreadable(path, path+" is a folder", "name one scheme file in it")
	}
	file, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, unreadable(path, fmt.Sprintf("%s cannot be read: %v", path, cause(err)), "")
	}
	defer file.Close()
	source, err := io.ReadAll(io.LimitReader(file, longest))
	if err != nil {
		return nil, unreadable(path, fmt.Sprintf("%s cannot be read: %v", path, cause(err)), "")
	}
	return source, nil
}

// unreadable is the failure of a scheme that could not be read at all.
func unreadable(path, text, hint string) error {
	return &failure{code: exitUsage, text: text, hint: hint, file: path, unread: true}
}

// cause is what the system says, without the path that our own text already names.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// stages are what is shown while a study follows what may go wrong.
var stages = map[study.Stage]struct{ doing, things string }{
	study.Strikes:   {"following", "faults"},
	study.Outages:   {"taking out", "things"},
	study.Silences:  {"seeking silent power", "places"},
	study.Joints:    {"loosening", "joints"},
	study.Divisions: {"comparing fuses", "runs"},
}

// check solves a scheme and runs every rule.
func (s streams) check(ctx context.Context, sch *scheme.Scheme, striking study.Striking) (*checked, error) {
	shown := s.bar("solving")
	defer shown.clear()
	st, err := study.New(ctx, sch, &study.Options{Progress: shown.show, Striking: striking, Following: func(stage study.Stage, done, total int) {
		shown.turn(stages[stage].doing, stages[stage].things)
		shown.show(done, total)
	}})
	if err != nil {
		return nil, err
	}
	assessed := st.Assess(rulebook.All())
	return &checked{st, assessed, st.Findings(assessed)}, nil
}
