package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"farend/circuit"
	"farend/examples"
	"farend/parts"
	"farend/scheme"
)

type demoCommand struct {
	Dir string `arg:"" optional:"" default:"farend-demo" help:"The folder to write into."`
}

func (c *demoCommand) Help() string {
	return "Writes worked schemes, each with its result as text and JSON and its netlist. All names, places and boards in them are invented. A file that is already there with another content is left alone."
}

// A document is one file that demo writes.
type document struct {
	name    string
	content []byte
}

func (c *demoCommand) Run(ctx context.Context, s streams) error {
	p := &page{out: s.out, plain: s.plain()}
	names, err := fs.Glob(examples.Files, "*.scheme.yaml")
	if err != nil {
		return err
	}
	var documents []document
	p.heading("Worked examples (invented), written to " + c.Dir)
	for _, name := range names {
		result, files, err := demonstrate(ctx, name)
		if err != nil {
			return err
		}
		documents = append(documents, files...)
		p.blank()
		p.line("%s  %s", p.styled(name, "1"), result.Scheme.Title)
		p.indented(result.verdictText())
		for _, f := range result.findings {
			if f.Grade.Letter() != "N" {
				p.indented(fmt.Sprintf("[%s] %s", f.Grade.Letter(), f.Text))
			}
		}
	}
	if err := write(c.Dir, documents); err != nil {
		return err
	}
	p.blank()
	p.wrap(fmt.Sprintf("Next: farend check %s, or copy one of them and make it yours.", filepath.Join(c.Dir, names[0])))
	return nil
}

// demonstrate checks one example and makes its documents.
func demonstrate(ctx context.Context, name string) (*checked, []document, error) {
	source, err := examples.Files.ReadFile(name)
	if err != nil {
		return nil, nil, err
	}
	sch, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, nil, mistakes
	}
	result, err := check(ctx, sch)
	if err != nil {
		return nil, nil, err
	}
	base := strings.TrimSuffix(name, ".scheme.yaml")
	var page1, object, deck bytes.Buffer
	result.print(&page{out: &page1, plain: true})
	if err := writeJSON(&object, resultJSON(result, false)); err != nil {
		return nil, nil, err
	}
	n := result.Network
	if err := n.Netlist(&deck, n.Solve(ctx, circuit.NewWorker(), result.Cases()[0]), 0); err != nil {
		return nil, nil, err
	}
	return result, []document{
		{name, source}, {base + ".check.txt", page1.Bytes()}, {base + ".check.json", object.Bytes()}, {base + ".cir", deck.Bytes()},
	}, nil
}

// write saves the documents in a folder, each in one piece. Nothing is written if a file is there with another content:
// it may be somebody's work.
func write(dir string, documents []document) error {
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
	for _, d := range documents {
		if err := save(filepath.Join(dir, d.name), d.content); err != nil {
			return usage(fmt.Sprintf("%s cannot be written: %v", filepath.Join(dir, d.name), cause(err)), "name another folder: farend demo DIR")
		}
	}
	return nil
}

// save writes a file in one piece: a temporary file beside it, then a rename.
func save(path string, content []byte) error {
	file, err := os.CreateTemp(filepath.Dir(path), ".farend-*")
	if err != nil {
		return err
	}
	defer os.Remove(file.Name())
	if err := errors.Join(file.Chmod(0o644), writeAll(file, content), file.Sync(), file.Close()); err != nil {
		return err
	}
	return os.Rename(file.Name(), path)
}

func writeAll(file *os.File, content []byte) error {
	_, err := file.Write(content)
	return err
}
