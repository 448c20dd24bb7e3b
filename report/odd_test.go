package report_test

import (
	stdcontext "context"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"iter"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
	"farend/parts"
	"farend/report"
	"farend/scheme"
)

func context() stdcontext.Context { return stdcontext.Background() }

func keysOf(m map[string]bool) iter.Seq[string] { return maps.Keys(m) }

const strip = `farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/ten-way-six-port}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m%s}}
cables: {W1: {part: %s, length: 1 m, from: T1, to: A1.in%s}, W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}}
fuses: {A1.1: %s}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}
%s`

// Schemes that are empty, unfinished or named in ways that no page was made for have sound pages too.
func TestOddSchemesHaveSoundPages(t *testing.T) {
	long := strings.Repeat("the very long name of a thing that somebody calls so, ", 12) + strings.Repeat("Donaudampfschifffahrt", 12)
	for name, text := range map[string]string{
		"empty":     "farend: 1\n",
		"titled":    "farend: 1\ntitle: nothing yet\nsite: {exposure: immersed}\n",
		"a supply":  "farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\n",
		"open":      "farend: 1\nsupplies: {T1: {part: choose}}\nboards: {A1: {part: choose}}\nruns: {E1: {tape: tape/5v-rgb-60, length: 1 m}}\n",
		"choices":   fmt.Sprintf(strip, "", "choose", ", fuse: choose", "choose", ""),
		"no states": fmt.Sprintf(strip, "", "cable/flex-2x2.5", "", "fuse/blade-3A", ""),
		"scripts":   fmt.Sprintf(strip, ", label: 西の手すり مرحبا Ω≈ç", "cable/flex-2x2.5", ", label: Ostseite Größe, fuse: fuse/inline-20A", "fuse/blade-3A", "title: 図書館の照明 (invented)\nrevisions: [{name: Б, date: 2026-05-02, by: Ł. Żak (invented), what: первый выпуск}]\n"),
		"long":      fmt.Sprintf(strip, ", label: \""+long+"\"", "cable/flex-2x2.5", ", label: \""+long+"\", fuse: fuse/inline-20A", "fuse/blade-3A", "title: \""+long+"\"\nrevisions: [{name: A, date: 2026-05-02, by: \""+long+"\", what: \""+long+"\"}]\n"),
	} {
		t.Run(name, func(t *testing.T) {
			r := of(t, text)
			pages := sound(t, r, a4)
			sound(t, r, letter)
			if name == "long" && strings.Count(strings.ReplaceAll(said(pages), " ", ""), strings.ReplaceAll(long, " ", "")) < 1 {
				t.Error("a long label is told nowhere in one piece")
			}
			if name == "empty" && len(pages) > 6 {
				t.Errorf("of nothing %d pages are made", len(pages))
			}
		})
	}
}

// Without the text of the scheme no edits are told, and nothing else is lost.
func TestWithoutItsTextEditsAreLeftOut(t *testing.T) {
	r := reports["cafe-canopy-hasty"]()
	with := strings.Contains(said(bound(r, a4)), "In the file:")
	r.Source = nil
	without := strings.Contains(said(sound(t, r, a4)), "In the file:")
	if !with || without {
		t.Errorf("edits are told with the text: %v, and without: %v", with, without)
	}
}

// What the cover warns of follows from the site and from what was found.
func TestTheCoverWarnsOfWhatIsThere(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
		not  []string
	}{
		"dry and bare": {fmt.Sprintf(strip, "", "cable/flex-2x2.5", "", "fuse/blade-3A", "site: {exposure: dry, metalwork: none}\n"),
			[]string{"not expected to shock in dry use", "No fuse stands where W1 meets a supply", "Do not switch this on"}, []string{"Water:", "metalwork is bonded"}},
		"immersed": {fmt.Sprintf(strip, "", "cable/flex-2x2.5", ", fuse: fuse/inline-20A", "choose", "site: {exposure: immersed}\n"),
			[]string{"This place is immersed", "Water:", "Not chosen yet: A1.1.fuse", "metalwork is bonded"}, []string{"not expected to shock", "No fuse stands"}},
		"unsaid": {"farend: 1\n", []string{"does not say how wet", "licensed electrician"}, []string{"Do not switch this on", "Faults were not followed"}},
	} {
		text := said(bound(of(t, c.text), a4)[:1])
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the cover does not say %q: %s", name, want, text)
			}
		}
		for _, not := range c.not {
			if strings.Contains(text, not) {
				t.Errorf("%s: the cover says %q", name, not)
			}
		}
	}
	if text := said(bound(reports["library-atrium-altered"](), a4)[:1]); !strings.Contains(text, "Faults were not followed") {
		t.Errorf("faults that were not followed are not owned up to: %s", text)
	}
}

// A cable meets its supply with either end, and a fuse helps only at that one.
func TestWhichCablesAreBareAtASupply(t *testing.T) {
	for ends, bare := range map[string]bool{
		"from: T1, to: A1.in":                                     true,
		"from: A1.in, to: T1":                                     true,
		"from: T1, to: A1.in, fuse: fuse/inline-20A":              false,
		"from: T1, to: A1.in, fuse: fuse/inline-20A, fuse_at: to": true,
		"from: A1.in, to: T1, fuse: fuse/inline-20A":              true,
		"from: A1.in, to: T1, fuse: fuse/inline-20A, fuse_at: to": false,
		"from: T1, to: A1.in, pole: return":                       false,
		"from: T1, to: T2, fuse: fuse/inline-20A, fuse_at: from":  true,
		"from: A1.1, to: A2.in":                                   false,
	} {
		text := "farend: 1\nsupplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}}\nboards: {A1: {part: board/ten-way-six-port}, A2: {part: board/ten-way-six-port}}\ncables: {W1: {part: cable/flex-2x4, length: 1 m, " + ends + "}}\n"
		s, mistakes := scheme.Read("x.scheme.yaml", []byte(text), parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		if is := len(report.Bare(s)) > 0; is != bare {
			t.Errorf("%s: bare %v", ends, is)
		}
	}
}

// Of a supply that is not chosen no number is told, nor of what hangs on it, and no fuse behind which current would have to come the wrong way.
func TestWhatWaitsForASupplyHasNoNumbers(t *testing.T) {
	r := of(t, `farend: 1
supplies: {T1: {part: supply/5v-300w}, T2: {part: choose}}
boards: {A1: {part: board/ten-way-six-port}, A2: {part: board/ten-way-six-port}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}, E2: {tape: tape/5v-rgb-60, length: 1 m}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x4, length: 1 m, from: T2, to: A2.in, fuse: fuse/inline-20A}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A2.1, to: E1@end}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E2@start}
fuses: {A1.1: fuse/blade-3A, A1.2: fuse/blade-3A, A2.1: fuse/blade-3A}
`)
	pages := sound(t, r, a4)
	amperes := regexp.MustCompile(`[0-9] A$`)
	for name, c := range map[string]struct{ waits, known []string }{
		"cables":     {[]string{"W3", "W4"}, []string{"W1", "W2", "W5"}},
		"protection": {[]string{"W3", "A2.1"}, []string{"W1", "A1.1", "A1.2"}},
		"fuses":      {[]string{"W3", "A2.1"}, []string{"W1", "A1.1", "A1.2"}},
		"runs":       {[]string{"E1"}, []string{"E2"}},
		"boards":     {[]string{"A2"}, []string{"A1"}},
	} {
		lines := rows(pages, name)
		load := map[string]int{"cables": 1, "protection": 3, "fuses": 4, "runs": 1, "boards": 2}[name]
		nth := map[string]int{"cables": 1, "runs": 1}[name]
		for _, id := range c.waits {
			if got := row(t, lines, id, nth)[load]; got != "–" {
				t.Errorf("%s: %s carries %q", name, id, got)
			}
		}
		for _, id := range c.known {
			if got := row(t, lines, id, nth)[load]; !amperes.MatchString(got) {
				t.Errorf("%s: %s carries %q", name, id, got)
			}
		}
	}
	laid := rows(pages, "cables")
	for id, want := range map[string]string{"W1": "W1, 20 A", "W3": "unknown: T2 is not chosen", "W4": "unknown: T2 is not chosen"} {
		if got := row(t, laid, id, 0); !strings.Contains(strings.Join(got, " "), strings.ReplaceAll(want, ", ", ",")) && !strings.Contains(strings.Join(got, " "), want) {
			t.Errorf("%s: %q does not say %q", id, got, want)
		}
	}
	if got := row(t, rows(pages, "supplies"), "T2", 0); got[1] != "not chosen" || strings.ContainsAny(strings.Join(got[2:6], ""), "0123456789") {
		t.Errorf("T2 is %q", got)
	}
	for _, line := range rows(pages, "cover") {
		if strings.Join(line, " ") == "T2, not chosen – – – – –" {
			return
		}
	}
	t.Errorf("the cover does not say that T2 is not chosen: %q", rows(pages, "cover"))
}

// What is one, and what is several, is told as people say it.
func TestOneThingIsToldAsOne(t *testing.T) {
	text := said(bound(of(t, fmt.Sprintf(strip, "", "cable/flex-2x2.5", "", "fuse/blade-3A", "")+"aims: {frame_rate: 90000 Hz}\n"), a4))
	two := said(bound(of(t, strings.Replace(fmt.Sprintf(strip, "", "cable/flex-2x2.5", "", "fuse/blade-3A", ""), "W2: {", "W3: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@end}, W2: {", 1)), a4))
	for want, in := range map[string]string{
		"No fuse stands where W1 meets a supply: nothing opens for a short in it.":         text,
		"No fuse stands where W1 and W3 meet a supply: nothing opens for a short in them.": two,
		"The tape tape/5v-rgb-60 is a typical one":                                         text,
		"Replace a fuse only by one of the same part":                                      notes(bound(reports["footbridge"](), a4)),
		"profiles along runs, pictures by night, and charts of fuses, of the power":        text,
	} {
		if !strings.Contains(in, want) {
			t.Errorf("nothing says %q", want)
		}
	}
}

// notes are the words of all title blocks.
func notes(pages []draw.Page) string {
	var all []string
	for _, p := range pages {
		for _, l := range p.Scene.Layers {
			if l.Name == "block" {
				for _, text := range l.Texts {
					all = append(all, text.Words)
				}
			}
		}
	}
	return strings.Join(all, " ")
}

// The code on the cover is read back, from the path that is drawn, by a reader that knows nothing of how it was made.
func TestTheCodeOfTheCoverIsRead(t *testing.T) {
	pagetest.Installed(t, "zbarimg")
	issued := of(t, "farend: 1\ntitle: Weir Lane footbridge (invented)\nrevisions: [{name: A, date: 2026-04-01}, {name: B, date: 2026-05-02}]\n")
	if text := report.Passport(issued.Study.Scheme); !strings.HasPrefix(text, "farend scheme 1 | Weir Lane footbridge (invented) | rev B 2026-05-02 | sha256 "+issued.Study.Scheme.Hash) {
		t.Errorf("the code says %q", text)
	}
	for name, r := range map[string]report.Report{"issued": issued, "scripts": of(t, "farend: 1\ntitle: "+strings.Repeat("図書館の照明 ", 20)+"\n")} {
		file := filepath.Join(t.TempDir(), "code.png")
		picture(t, codeOf(t, bound(r, a4)[0].Scene), file)
		read, err := exec.Command("zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", file).Output()
		if want := report.Passport(r.Study.Scheme); err != nil || strings.TrimSpace(string(read)) != want {
			t.Errorf("%s: read %q (%v), want %q", name, read, err, want)
		}
	}
}

// codeOf is the path of the code on a cover: the one with most steps.
func codeOf(t *testing.T, s *draw.Scene) (code draw.Path) {
	t.Helper()
	for _, l := range s.Layers {
		for _, p := range l.Paths {
			if len(p.Steps) > len(code.Steps) {
				code = p
			}
		}
	}
	if len(code.Steps) < 200 || code.Fill != draw.Ink {
		t.Fatalf("a path of %d steps is no code", len(code.Steps))
	}
	return code
}

// picture fills a path of straight lines by the even-odd rule, six dots to a millimetre, with white around it.
func picture(t *testing.T, p draw.Path, file string) {
	t.Helper()
	const dots, edge = 6, 4.0
	low, high := draw.Point{X: math.Inf(1), Y: math.Inf(1)}, draw.Point{}
	for _, s := range p.Steps {
		if s.Kind != draw.Close {
			low = draw.Point{X: min(low.X, s.To.X), Y: min(low.Y, s.To.Y)}
			high = draw.Point{X: max(high.X, s.To.X), Y: max(high.Y, s.To.Y)}
		}
	}
	wide, tall := int((high.X-low.X+2*edge)*dots), int((high.Y-low.Y+2*edge)*dots)
	dotted := image.NewGray(image.Rect(0, 0, wide, tall))
	for y := range tall {
		var crossed []float64
		at := low.Y - edge + (float64(y)+0.5)/dots
		var first, last draw.Point
		for _, s := range p.Steps {
			to := s.To
			switch s.Kind {
			case draw.Move:
				first, last = to, to
				continue
			case draw.Close:
				to = first
			}
			if last.X == to.X && (last.Y > at) != (to.Y > at) {
				crossed = append(crossed, to.X)
			}
			last = to
		}
		for x := range wide {
			here, black := low.X-edge+(float64(x)+0.5)/dots, false
			for _, c := range crossed {
				black = black != (c < here)
			}
			if !black {
				dotted.SetGray(x, y, color.Gray{255})
			}
		}
	}
	out, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := png.Encode(out, dotted); err != nil {
		t.Fatal(err)
	}
}
