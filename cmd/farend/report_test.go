package main

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/internal/pagetest"
	"farend/parts"
	"farend/scheme"
)

// The report of every example is a sound PDF in which every cable, fuse, way, run, lead, supply and board of the scheme is found, every
// page says which it is, and the picture of its plan is well-formed.
func TestReportsOfTheDemo(t *testing.T) {
	files := demonstrated(t).files
	dir := t.TempDir()
	for name, source := range files {
		base, is := strings.CutSuffix(name, ".scheme.yaml")
		if !is {
			continue
		}
		s, mistakes := scheme.Read(name, source, parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		pdf, svg := filepath.Join(dir, base+".pdf"), filepath.Join(dir, base+".svg")
		for path, text := range map[string][]byte{pdf: files[base+".report.pdf"], svg: files[base+".plan.svg"]} {
			if err := os.WriteFile(path, text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		pagetest.Tool(t, "xmllint", "--noout", "--nonet", svg)
		if said := pagetest.Tool(t, "qpdf", "--check", pdf); !strings.Contains(string(said), "No syntax or stream encoding errors found") {
			t.Errorf("%s: qpdf says %s", base, said)
		}
		text := string(pagetest.Tool(t, "pdftotext", "-layout", pdf, "-"))
		words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \n\f\u00a0\u202f,;:()·→", r) })
		found := map[string]bool{}
		for _, w := range words {
			found[strings.TrimRight(w, ".")] = true
		}
		wanted := slices.Concat(scheme.IDs(s.Cables), scheme.IDs(s.Runs), scheme.IDs(s.Data), scheme.IDs(s.Supplies), scheme.IDs(s.Boards), scheme.IDs(s.Junctions), scheme.IDs(s.Fuses))
		for way, fuse := range s.Fuses {
			wanted = append(wanted, way, strings.TrimPrefix(fuse, "fuse/"))
		}
		for _, c := range s.Cables {
			if c.Fuse != "" {
				wanted = append(wanted, strings.TrimPrefix(c.Fuse, "fuse/"))
			}
		}
		for _, w := range wanted {
			if !found[w] && !found["fuse/"+w] {
				t.Errorf("%s: %s is not found", base, w)
			}
		}
		pages := strings.Split(strings.TrimSuffix(text, "\f"), "\f")
		for i, page := range pages {
			if want := " of " + strconv.Itoa(len(pages)); !strings.Contains(page, strconv.Itoa(i+1)+want) {
				t.Errorf("%s: page %d does not say that it is %d%s", base, i+1, i+1, want)
			}
		}
		if base == "footbridge" { // the code on its cover, as a camera sees it
			pagetest.Tool(t, "pdftoppm", "-r", "150", "-png", "-singlefile", pdf, filepath.Join(dir, "cover"))
			if said := pagetest.Tool(t, "zbarimg", "--quiet", "--raw", filepath.Join(dir, "cover.png")); !strings.Contains(string(said), s.Title) || !strings.Contains(string(said), s.Hash) {
				t.Errorf("%s: the code says %q", base, said)
			}
		}
		if len(pages) < 15 {
			t.Errorf("%s: %d pages", base, len(pages))
		}
	}
}

// measuring is a program that reads a plan with an independent library, and says how long the lines on the layer of runs are.
const measuring = `
import sys, ezdxf, math
d = ezdxf.readfile(sys.argv[1])
lengths = sorted({round(math.dist(e.dxf.start, e.dxf.end), 2) for e in d.modelspace() if e.dxftype() == "LINE" and e.dxf.layer == "RUNS"})
print(*lengths)
`

// In the DXF of a plan, read back by another library, a run measures in millimetres what it is long.
func TestAPlanMeasuresInMillimetres(t *testing.T) {
	for name, want := range map[string]string{"footbridge": "4800.0", "library-atrium": "10500.0", "cafe-canopy": ""} {
		file := filepath.Join(t.TempDir(), name+".dxf")
		if _, errs, code := call("draw", "../../examples/"+name+".scheme.yaml", "--sheet", "plan", "--to", file); code != exitFine {
			t.Fatalf("%s: exit code %d, %s", name, code, errs)
		}
		files, err := filepath.Glob(filepath.Join(filepath.Dir(file), "*.dxf"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %v", name, files, err)
		}
		for _, f := range files {
			if said := pagetest.Tool(t, "ezdxf", "audit", f); !strings.Contains(string(said), "No errors found") {
				t.Errorf("%s: ezdxf says %s", f, said)
			}
		}
		if lengths := string(pagetest.Ezdxf(t, measuring, file)); want != "" && !slices.Contains(strings.Fields(lengths), want) {
			t.Errorf("%s: lines of runs measure %s mm, and none %s mm", name, strings.TrimSpace(lengths), want)
		}
	}
}
