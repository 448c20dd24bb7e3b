package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	style "github.com/jedib0t/go-pretty/v6/text"

	"farend/finding"
)

// A page is text output for people, 100 columns wide. Lines stand under headings only; bold and the boxes of the grades
// are all the colour there is, and none on a plain page.
type page struct {
	out   io.Writer
	plain bool
}

const columns = 100

func (p *page) line(format string, args ...any) {
	fmt.Fprintln(p.out, strings.TrimRight(fmt.Sprintf(format, args...), " "))
}

func (p *page) blank() { fmt.Fprintln(p.out) }

// styled wraps text in terminal colours, on pages that have them.
func (p *page) styled(s string, codes string) string {
	if p.plain {
		return s
	}
	return "\x1b[" + codes + "m" + s + "\x1b[0m"
}

func (p *page) heading(s string) {
	p.line("%s", p.styled(s, "1"))
	p.line("%s", strings.Repeat("─", min(columns, style.StringWidthWithoutEscSequences(s))))
}

// gradeCodes are the boxes of the grades: solid for danger and fails, outlined by reverse or dim for the others.
var gradeCodes = map[finding.Grade]string{finding.Danger: "1;97;41", finding.Fails: "1;97;43", finding.Tight: "33", finding.Unknown: "7", finding.Note: "2"}

// finding writes one finding: its box and word, the text, the remedy and the source, each under the other.
func (p *page) finding(f finding.Finding) {
	head := fmt.Sprintf("[%s] %s", f.Grade.Letter(), f.Grade)
	p.line("%s  %s", p.styled(head, gradeCodes[f.Grade]), f.ID)
	p.indented(f.Text)
	if f.Remedy != "" {
		p.indented("→ " + f.Remedy)
	}
	if f.Source != "" {
		p.indented(p.sourceText(f))
	}
	p.blank()
}

func (p *page) sourceText(f finding.Finding) string {
	s := "source: " + f.Source
	if f.Basis != "" {
		s += " (" + f.Basis + ")"
	}
	return s
}

func (p *page) indented(s string) {
	for _, line := range wrapped(s, columns-4) {
		p.line("    %s", line)
	}
}

func (p *page) wrap(s string) {
	for _, line := range wrapped(s, columns) {
		p.line("%s", line)
	}
}

// wrapped breaks text at spaces into lines of at most width characters.
func wrapped(s string, width int) []string {
	return strings.Split(style.WrapSoft(s, width), "\n")
}

// A sheet is a table with a heading; columns of numbers stand to the right.
type sheet struct {
	page  *page
	title string
	rows  int
	w     table.Writer
}

// table begins a table. The columns named here whose cells are numbers are set to the right.
func (p *page) table(title string, names ...string) *sheet {
	t := &sheet{page: p, title: title, w: table.NewWriter()}
	look := table.StyleLight
	look.Options = table.Options{DrawBorder: false, SeparateColumns: false, SeparateHeader: true}
	look.Format.Header = style.FormatDefault
	look.Box.PaddingLeft, look.Box.PaddingRight = "", "  "
	t.w.SetStyle(look)
	header := make(table.Row, len(names))
	var config []table.ColumnConfig
	for i, n := range names {
		header[i] = n
		if numeric(n) {
			config = append(config, table.ColumnConfig{Number: i + 1, Align: style.AlignRight, AlignHeader: style.AlignRight})
		}
	}
	t.w.AppendHeader(header)
	t.w.SetColumnConfigs(config)
	return t
}

// numeric reports whether a column holds numbers, from its heading.
func numeric(name string) bool {
	for _, unit := range []string{"V", "A", "W", "m", "mV", "°C", "%", "px", "pixels", "Δu′v′", "each"} {
		if name == unit || strings.HasSuffix(name, " "+unit) {
			return true
		}
	}
	return false
}

func (t *sheet) row(cells ...string) {
	row := make(table.Row, len(cells))
	for i, c := range cells {
		row[i] = clip(c, 26)
	}
	t.w.AppendRow(row)
	t.rows++
}

// clip shortens a long label, and says that it did.
func clip(s string, width int) string {
	runes := []rune(s)
	if len(runes) <= width {
		return s
	}
	return string(runes[:width-1]) + "…"
}

func (t *sheet) print() {
	if t.rows == 0 {
		return
	}
	t.page.line("%s", t.page.styled(t.title, "1"))
	for _, line := range strings.Split(t.w.Render(), "\n") {
		t.page.line("%s", line)
	}
	t.page.blank()
}

const chartWidth = 56

// sparks draws values as a row of eighth-blocks between low and high. Each column is the lowest value of its share.
func sparks(values []float64, low, high float64) string {
	blocks := []rune("▁▂▃▄▅▆▇█")
	var b strings.Builder
	width := min(chartWidth, len(values))
	for i := range width {
		worst := math.Inf(1)
		for _, v := range values[i*len(values)/width : max((i+1)*len(values)/width, i*len(values)/width+1)] {
			worst = min(worst, v)
		}
		level := len(blocks) - 1
		if high-low > 1e-6 {
			level = int((worst - low) / (high - low) * float64(len(blocks)-1))
		}
		b.WriteRune(blocks[min(max(level, 0), len(blocks)-1)])
	}
	return b.String()
}

// feedMarks draws where cables land under the row of sparks.
func feedMarks(marks []int, pixels int) string {
	width := min(chartWidth, pixels)
	line := []rune(strings.Repeat(" ", width))
	for _, m := range marks {
		line[min(m*width/max(pixels, 1), width-1)] = '▲'
	}
	return string(line)
}
