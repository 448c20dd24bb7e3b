package draw_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
)

// writers write one page each.
var writers = map[string]func(*draw.Scene) ([]byte, error){
	"svg": draw.SVG,
	"png": func(s *draw.Scene) ([]byte, error) { return draw.PNG(s, 100) },
	"pdf": func(s *draw.Scene) ([]byte, error) {
		return draw.PDF(draw.Document{Title: s.Title, Pages: []draw.Page{{Scene: s}}})
	},
	"dxf": draw.DXF,
}

// booklet is three pages of different sizes with an outline, links and layers that they share.
func booklet() draw.Document {
	first, second, third := sample(), sample(), sample()
	second.Width, second.Height = 297, 210
	second.Layers[1].Texts = append(second.Layers[1].Texts, draw.Text{At: draw.Point{X: 100, Y: 100}, Words: "second page", Size: 20, Tone: draw.Ink})
	third.Layers[0].Name, third.Layers[1].Name = "words-2", "others"
	third.Layers[1].Texts = append(third.Layers[1].Texts, draw.Text{At: draw.Point{X: 2, Y: 39}, Words: "third page", Size: 7, Face: draw.SemiBold, Tone: draw.Ink})
	first.Links = []draw.Link{{Box: first.Layers[1].Texts[0].Box(), To: "end"}, {Box: first.Layers[1].Texts[1].Box(), To: "plan"}}
	third.Links = []draw.Link{{Box: draw.Box{Max: draw.Point{X: 5, Y: 5}}, To: "start"}}
	return draw.Document{Title: "Łódź: 5 Ω", Pages: []draw.Page{
		{Name: "start", Outline: "Start (Ω)", Scene: first},
		{Name: "plan", Outline: "Plan", Level: 1, Scene: second},
		{Name: "end", Outline: "End", Scene: third},
	}}
}

// all is everything that writers make of the pages above.
func all() (files [][]byte, err error) {
	for _, kind := range []string{"svg", "png", "pdf", "dxf"} {
		file, err := writers[kind](sample())
		if err != nil {
			return nil, err
		}
		files = append(files, file)
	}
	file, err := draw.PDF(booklet())
	return append(files, file), err
}

// The same pages give the same bytes: at once several times side by side, and in another process.
func TestFilesAreTheSameEachTime(t *testing.T) {
	const other = "FAREND_DRAW_SUMS"
	files, err := all()
	if err != nil {
		t.Fatal(err)
	}
	sums := ""
	for _, f := range files {
		sums += fmt.Sprintf("%x\n", sha256.Sum256(f))
	}
	if os.Getenv(other) != "" {
		fmt.Print(sums)
		return
	}
	results := make(chan [][]byte)
	for range 4 {
		go func() {
			again, _ := all()
			results <- again
		}()
	}
	for range 4 {
		if again := <-results; !slices.EqualFunc(files, again, bytes.Equal) {
			t.Error("two files of one page differ")
		}
	}
	command := exec.Command(os.Args[0], "-test.run=^TestFilesAreTheSameEachTime$")
	command.Env = append(os.Environ(), other+"=1")
	if said, err := command.Output(); err != nil || !strings.HasPrefix(string(said), sums) {
		t.Errorf("another process writes other files: %v\n%s\nhere:\n%s", err, said, sums)
	}
}

// scribble is a page of anything.
func scribble(r *rand.Rand) *draw.Scene {
	s := &draw.Scene{Title: "scribble", Width: 5 + 40*r.Float64(), Height: 5 + 40*r.Float64()}
	if r.Intn(2) == 0 {
		s.Scale = 100 * r.Float64()
	}
	at := func() draw.Point {
		return draw.Point{X: s.Width * (2*r.Float64() - 0.5), Y: s.Height * (2*r.Float64() - 0.5)}
	}
	tone := func() draw.Tone {
		if r.Intn(4) == 0 {
			return draw.Exact(uint8(r.Intn(256)), uint8(r.Intn(256)), uint8(r.Intn(256)))
		}
		return draw.Tone(1 + r.Intn(int(draw.Night)))
	}
	for n := range r.Intn(4) {
		l := draw.Layer{Name: fmt.Sprintf("l%d", n)}
		for range r.Intn(3) {
			a, b := at(), at()
			box := draw.Box{Min: draw.Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)}, Max: draw.Point{X: max(a.X, b.X) + 1e-6, Y: max(a.Y, b.Y) + 1e-6}}
			l.Images = append(l.Images, draw.Image{Box: box, Picture: chequered(1+r.Intn(9), 1+r.Intn(9), uint8(r.Intn(256)))})
		}
		for range r.Intn(6) {
			p := draw.Path{Steps: []draw.Step{{Kind: draw.Move, To: at()}}}
			for range r.Intn(8) {
				p.Steps = append(p.Steps, draw.Step{Kind: draw.StepKind(r.Intn(4)), To: at(), C1: at(), C2: at()})
				if r.Intn(6) == 0 { // stay where it is
					p.Steps[len(p.Steps)-1].To = p.Steps[len(p.Steps)-2].To
				}
			}
			if r.Intn(2) == 0 {
				p.Fill = tone()
			}
			if r.Intn(3) > 0 {
				p.Pen = draw.Pen{Tone: tone(), Width: []float64{draw.Hair, draw.Thin, draw.Thick, 7}[r.Intn(4)]}
				for range r.Intn(4) {
					p.Pen.Dash = append(p.Pen.Dash, 0.1+2*r.Float64())
				}
			}
			l.Paths = append(l.Paths, p)
		}
		for range r.Intn(4) {
			letters := []rune("aÄ 山\u202f−Ω\n(\\)%^😀ı≤0\u0301\u2126µμ\x00\"<&")
			var words []rune
			for range r.Intn(12) {
				words = append(words, letters[r.Intn(len(letters))])
			}
			l.Texts = append(l.Texts, draw.Text{At: at(), Words: string(words), Face: draw.Face(r.Intn(3)), Size: 7 + 20*r.Float64(), Anchor: draw.Anchor(r.Intn(3)), Turn: 720 * (r.Float64() - 0.5), Tone: tone()})
		}
		s.Layers = append(s.Layers, l)
	}
	return s
}

// Whatever is drawn, every writer writes it, and what it writes can be read.
func TestWritersTakeAnything(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	var d draw.Document
	folder := t.TempDir()
	for i := range 100 {
		s := scribble(r)
		d.Pages = append(d.Pages, draw.Page{Scene: s})
		files := map[string][]byte{}
		for kind, write := range writers {
			file, err := write(s)
			if err != nil {
				t.Fatalf("page %d as %s: %v", i, kind, err)
			}
			files[kind] = file
		}
		wellFormed(t, files["svg"])
		if _, err := png.DecodeConfig(bytes.NewReader(files["png"])); err != nil {
			t.Fatal(err)
		}
		objectsInPlace(t, files["pdf"])
		groupsInPairs(t, files["dxf"])
		if i < 20 {
			if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%d.dxf", i)), files["dxf"], 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	whole, err := draw.PDF(d)
	if err != nil {
		t.Fatal(err)
	}
	objectsInPlace(t, whole)
	sound := pagetest.Tool(t, "qpdf", "--check", kept(t, "all.pdf", whole))
	if !bytes.Contains(sound, []byte("No syntax or stream encoding errors")) {
		t.Errorf("qpdf: %s", sound)
	}
	pagetest.Tool(t, "pdftotext", kept(t, "all.pdf", whole), filepath.Join(folder, "text"))
	if said := pagetest.Tool(t, "ezdxf", "audit", filepath.Join(folder, "*.dxf")); bytes.Count(said, []byte("No errors found")) != 20 {
		t.Errorf("ezdxf: %s", said)
	}
}

func wellFormed(t *testing.T, file []byte) {
	t.Helper()
	for d := xml.NewDecoder(bytes.NewReader(file)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// objectsInPlace reports whether every object of a PDF file stands where its table says.
func objectsInPlace(t *testing.T, file []byte) {
	t.Helper()
	end := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindSubmatch(file)
	if end == nil || !bytes.HasPrefix(file, []byte("%PDF-1.7\n")) {
		t.Fatal("no PDF file")
	}
	start, _ := strconv.Atoi(string(end[1]))
	lines := strings.Split(string(file[start:]), "\n")
	var count int
	if _, err := fmt.Sscanf(lines[1], "0 %d", &count); err != nil || lines[0] != "xref" {
		t.Fatalf("no table: %q", lines[:2])
	}
	for n := 1; n < count; n++ {
		at, _ := strconv.Atoi(lines[2+n][:10])
		if !bytes.HasPrefix(file[at:], fmt.Appendf(nil, "%d 0 obj\n", n)) {
			t.Fatalf("object %d is not at %d", n, at)
		}
	}
}

// groupsInPairs reports whether a DXF file is ASCII, codes and values in turn, to its end.
func groupsInPairs(t *testing.T, file []byte) {
	t.Helper()
	lines := strings.Split(string(file), "\r\n")
	if len(lines)%2 != 1 || lines[len(lines)-1] != "" || lines[len(lines)-2] != "EOF" {
		t.Fatalf("%d lines, the last %q", len(lines), lines[len(lines)-2:])
	}
	for i := 0; i+1 < len(lines); i += 2 {
		if _, err := strconv.Atoi(strings.TrimSpace(lines[i])); err != nil {
			t.Fatalf("line %d: %q is no code", i+1, lines[i])
		}
	}
	for _, b := range file {
		if b > 0x7e || b < ' ' && b != '\r' && b != '\n' {
			t.Fatalf("the byte %#x", b)
		}
	}
}

// Ways of a document that cannot be.
func TestPDFRefusesWhatIsNoDocument(t *testing.T) {
	for name, spoil := range map[string]func(*draw.Document){
		"no pages":           func(d *draw.Document) { d.Pages = nil },
		"an empty page":      func(d *draw.Document) { d.Pages[1].Scene = nil },
		"one name twice":     func(d *draw.Document) { d.Pages[1].Name = "start" },
		"a link to none":     func(d *draw.Document) { d.Pages[0].Scene.Links[0].To = "nowhere" },
		"a link to no name":  func(d *draw.Document) { d.Pages[1].Name = ""; d.Pages[0].Scene.Links[1].To = "" },
		"a level below none": func(d *draw.Document) { d.Pages[0].Level = 1 },
		"a level skipped":    func(d *draw.Document) { d.Pages[1].Level = 2 },
		"a level too high":   func(d *draw.Document) { d.Pages[2].Level = -1 },
		"a page that is bad": func(d *draw.Document) { d.Pages[2].Scene.Width = 0 },
	} {
		d := booklet()
		spoil(&d)
		if file, err := draw.PDF(d); err == nil || file != nil || !strings.HasPrefix(err.Error(), "draw: ") {
			t.Errorf("%s: %d bytes, %v", name, len(file), err)
		}
	}
}

// A report of 30 pages with 2,000 texts and 20,000 steps.
func BenchmarkPDF(b *testing.B) {
	var d draw.Document
	for range 30 {
		l := draw.Layer{Name: "all"}
		for k := range 67 {
			l.Texts = append(l.Texts, draw.Text{At: draw.Point{X: 20, Y: 20 + 4*float64(k)}, Words: "W2 before W10: 12.5\u202fA of 30\u202fA, a row of a table", Size: 9, Tone: draw.Ink})
			p := draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thin}, draw.Point{X: 20, Y: 20 + 4*float64(k)})
			for j := range 10 {
				p.Steps = append(p.Steps, draw.Step{Kind: draw.Go, To: draw.Point{X: 20 + 17.123*float64(j), Y: 21 + 4*float64(k) + float64(j%2)}})
			}
			l.Paths = append(l.Paths, p)
		}
		d.Pages = append(d.Pages, draw.Page{Scene: &draw.Scene{Width: 210, Height: 297, Layers: []draw.Layer{l}}})
	}
	for kind, write := range map[string]func(*draw.Scene) ([]byte, error){"svg": draw.SVG, "dxf": draw.DXF, "png": func(s *draw.Scene) ([]byte, error) { return draw.PNG(s, 150) }} {
		b.Run("page-"+kind, func(b *testing.B) {
			for range b.N {
				file, _ := write(d.Pages[0].Scene)
				b.ReportMetric(float64(len(file)), "bytes")
			}
		})
	}
	b.Run("30-pages", func(b *testing.B) {
		for range b.N {
			file, _ := draw.PDF(d)
			b.ReportMetric(float64(len(file)), "bytes")
		}
	})
}

func BenchmarkWidth(b *testing.B) {
	t := draw.Text{Words: "W2 before W10: 12.5\u202fA of 30\u202fA, a row of a table", Size: 9}
	for range b.N {
		t.Width()
	}
}
