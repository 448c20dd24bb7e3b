// Package pagetest looks at pages as a draughtsman would before he signs them. Only tests use it.
package pagetest

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"farend/draw"
)

// Complaints is what is wrong with the looks of a page: texts that cover each other, that leave the frame of 10 mm or run into the title
// block, that are too small, or that were cut; lines of other widths than those of the house.
//
// The title block is the layer "block", whose second path is its upper edge; what stands in it may be cut, for titles may be of any length.
func Complaints(s *draw.Scene) (list []string) {
	frame := draw.Box{Min: draw.Point{X: 10, Y: 10}, Max: draw.Point{X: s.Width - 10, Y: s.Height - 10}}
	block := frame.Max.Y
	var texts []draw.Text
	var boxes []draw.Box
	for _, l := range s.Layers {
		if l.Name == "block" && len(l.Paths) > 1 {
			block = l.Paths[1].Steps[0].To.Y
		}
	}
	for _, l := range s.Layers {
		for _, p := range l.Paths {
			if w := p.Pen.Width; w != 0 && w != draw.Hair && w != draw.Thin && w != draw.Thick {
				list = append(list, fmt.Sprintf("a line of %v mm in %s", w, l.Name))
			}
		}
		for _, text := range l.Texts {
			box := text.Box()
			switch {
			case text.Words == "":
				continue
			case text.Size < draw.Smallest:
				list = append(list, fmt.Sprintf("%q has %v pt", text.Words, text.Size))
			case !frame.Holds(box):
				list = append(list, fmt.Sprintf("%q leaves the frame: %+v", text.Words, box))
			case l.Name != "block" && box.Max.Y > block-0.5:
				list = append(list, fmt.Sprintf("%q runs into the title block", text.Words))
			}
			for j, other := range boxes {
				if box.Meets(other) {
					list = append(list, fmt.Sprintf("%q covers %q at %.0f, %.0f", text.Words, texts[j].Words, text.At.X, text.At.Y))
				}
			}
			texts, boxes = append(texts, text), append(boxes, box)
		}
	}
	return list
}

// Words are the texts of a page outside its title block, in their order.
func Words(s *draw.Scene) (words []string) {
	for _, l := range s.Layers {
		for _, text := range l.Texts {
			if l.Name != "block" {
				words = append(words, text.Words)
			}
		}
	}
	return words
}

// Installed is where a program of the test packages lies. Without it the test does not run, or fails where all of them are asked for.
func Installed(t testing.TB, tool string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		if os.Getenv("FAREND_REQUIRE_TOOLS") != "" {
			t.Fatal(tool + " is not installed")
		}
		t.Skip(tool + " is not installed")
	}
	return path
}

// Tool is what such a program says. The test fails where the program does.
func Tool(t testing.TB, tool string, args ...string) []byte {
	t.Helper()
	said, err := exec.Command(Installed(t, tool), args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%.2000s", tool, args, err, said)
	}
	return said
}

// Lint has xmllint read an SVG.
func Lint(t testing.TB, text []byte) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.svg")
	if err := os.WriteFile(file, text, 0o644); err != nil {
		t.Fatal(err)
	}
	if said := Tool(t, "xmllint", "--noout", "--nonet", file); len(said) > 0 {
		t.Errorf("xmllint: %s", said)
	}
}

// Ezdxf runs a program in Python with the interpreter that the command ezdxf names in its first line, for there its library lies.
func Ezdxf(t testing.TB, program string, args ...string) []byte {
	t.Helper()
	script, err := os.ReadFile(Installed(t, "ezdxf"))
	if err != nil {
		t.Fatal(err)
	}
	first, _, _ := strings.Cut(string(script), "\n")
	words := strings.Fields(strings.TrimPrefix(first, "#!"))
	if len(words) == 0 {
		t.Fatalf("ezdxf begins with %q", first)
	}
	said, err := exec.Command(words[0], append(append(words[1:], "-c", program), args...)...).Output()
	if err != nil {
		t.Fatal(err)
	}
	return said
}
