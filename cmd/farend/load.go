package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

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

// load reads a scheme from a file, or from standard input for "-".
func (s streams) load(path string) (*scheme.Scheme, []byte, error) {
	source, name, err := s.source(path)
	if err != nil {
		return nil, nil, err
	}
	sch, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, source, &wrongFile{mistakes, source}
	}
	return sch, source, nil
}

// longest is more than any scheme needs; the reader refuses such a file with a word.
const longest = 64 << 20

func (s streams) source(path string) ([]byte, string, error) {
	if path == "-" {
		source, err := io.ReadAll(io.LimitReader(s.in, longest))
		return source, "standard input", err
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, path, usage(fmt.Sprintf("%s is not there", path), "farend demo writes schemes to try")
	case err != nil:
		return nil, path, usage(fmt.Sprintf("%s cannot be read: %v", path, cause(err)), "")
	case info.IsDir():
		return nil, path, usage(fmt.Sprintf("%s is a folder", path), "name one scheme file in it")
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, path, usage(fmt.Sprintf("%s cannot be read: %v", path, cause(err)), "")
	}
	defer file.Close()
	source, err := io.ReadAll(io.LimitReader(file, longest))
	if err != nil {
		return nil, path, usage(fmt.Sprintf("%s cannot be read: %v", path, cause(err)), "")
	}
	return source, path, nil
}

// cause is what the system says, without the path that our own text already names.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// check solves a scheme and runs every rule.
func check(ctx context.Context, sch *scheme.Scheme) (*checked, error) {
	st, err := study.New(ctx, sch)
	if err != nil {
		return nil, err
	}
	assessed := st.Assess(rulebook.All())
	return &checked{st, assessed, st.Findings(assessed)}, nil
}
