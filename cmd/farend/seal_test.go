package main

import (
	"bytes"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"farend/draw"
)

// A sealed file of every kind is known again, is no longer once a byte of it is another, and is still a file of its kind.
func TestSealedFilesAreKnownAgain(t *testing.T) {
	scene := draw.Scene{Title: "A line", Width: 60, Height: 40, Layers: []draw.Layer{{Name: "lines", Paths: []draw.Path{draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thin}, draw.Point{X: 5, Y: 5}, draw.Point{X: 50, Y: 30})}}}}
	dir := t.TempDir()
	readers := map[string][]string{".svg": {"xmllint", "--noout", "--nonet"}, ".pdf": {"qpdf", "--check"}, ".dxf": {"ezdxf", "audit"}}
	for _, k := range kinds {
		plain, err := k.write(draw.Document{Title: "A line", Pages: []draw.Page{{Name: "line", Scene: &scene}}}, 100)
		if err != nil {
			t.Fatalf("%s: %v", k.ending, err)
		}
		text := k.sealed(plain)
		if k.drewIt(plain) || !k.drewIt(text) || len(text) < len(plain)+64 {
			t.Errorf("%s: a file of %d bytes became one of %d", k.ending, len(plain), len(text))
		}
		for at := 0; at < len(text); at += 1 + len(text)/97 {
			changed := bytes.Clone(text)
			changed[at] ^= 1
			if k.drewIt(changed) {
				t.Errorf("%s: byte %d was changed and nobody saw it", k.ending, at)
			}
		}
		if k.ending == ".png" {
			if _, err := png.Decode(bytes.NewReader(text)); err != nil {
				t.Errorf("%s: %v", k.ending, err)
			}
			continue
		}
		file := filepath.Join(dir, "line"+k.ending)
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
		reader := readers[k.ending]
		if _, err := exec.LookPath(reader[0]); err != nil && os.Getenv("FAREND_REQUIRE_TOOLS") == "" {
			continue
		}
		if said, err := exec.Command(reader[0], append(reader[1:], file)...).CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", k.ending, err, said)
		}
	}
}
