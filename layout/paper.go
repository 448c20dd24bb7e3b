package layout

import "farend/draw"

// A Paper is a size of sheets, in millimetres.
type Paper struct {
	Name          string
	Width, Height float64
}

// The sizes: ISO 216, and ANSI/ASME Y14.1 A and B. They stand upright; Turned lays one on its side.
var (
	A4      = Paper{"A4", 210, 297}
	A3      = Paper{"A3", 297, 420}
	Letter  = Paper{"Letter", 215.9, 279.4}
	Tabloid = Paper{"Tabloid", 279.4, 431.8}
)

// Turned is the paper on its side.
func (p Paper) Turned() Paper { return Paper{p.Name, p.Height, p.Width} }

// Margin is from the edge of a sheet to its frame (ISO 5457; the wider edge for filing, of that standard, is left out, for pages are pinned up).
const Margin = 10

// Padding is from the frame to what stands in it.
const Padding = 4

// Frame is the frame of a sheet.
func (p Paper) Frame() draw.Box {
	return draw.Box{Min: draw.Point{X: Margin, Y: Margin}, Max: draw.Point{X: p.Width - Margin, Y: p.Height - Margin}}
}

// wide reports whether the notes of the title block stand beside its rows: where the sheet is so wide that they would be hard to read below them.
func (p Paper) wide() bool { return p.Width > 270 }

// The measures of the title block: two rows of cells, and under them, or beside them, the notes.
const (
	rowHeight   = 9.0
	tallRow     = 12.2 // where notes beside the rows have little width
	notesHeight = 19
	rowsWidth   = 195.9 // of the rows where notes stand beside them; on narrow sheets they take the whole width
)

// rowHigh is the height of a row of cells.
func (p Paper) rowHigh() float64 {
	const little = 100
	if p.wide() && p.Frame().Width()-rowsWidth < little {
		return tallRow
	}
	return rowHeight
}

// Block is where the title block stands.
func (p Paper) Block() draw.Box {
	frame := p.Frame()
	height := 2 * p.rowHigh()
	if !p.wide() {
		height += notesHeight
	}
	return draw.Box{Min: draw.Point{X: frame.Min.X, Y: frame.Max.Y - height}, Max: frame.Max}
}

// Field is the room for what a page shows, between its heading and its title block.
func (p Paper) Field() draw.Box {
	frame := p.Frame()
	return draw.Box{
		Min: draw.Point{X: frame.Min.X + Padding, Y: frame.Min.Y + headingHeight},
		Max: draw.Point{X: frame.Max.X - Padding, Y: p.Block().Min.Y - Padding},
	}
}
