package draw

import (
	"errors"
	"fmt"
	"math"
)

// What a page may be, in millimetres, so that every kind of file can hold it and no writer works for ever.
const (
	longest  = 5080  // the side of a page: 14,400 points (ISO 32000-1, annex C)
	farthest = 1e5   // how far from its corner anything may lie
	densest  = 0.1   // the length after which dashes begin again
	deepest  = 1e6   // the scale
	biggest  = 14400 // a text, in points: the side of a page
)

// sound is what no writer can write.
func (d Document) sound() error {
	if len(d.Pages) == 0 {
		return errors.New("a document without a page")
	}
	seen := map[string]bool{}
	level := -1
	for i, p := range d.Pages {
		if p.Name != "" && seen[p.Name] {
			return fmt.Errorf("two pages are called %q", p.Name)
		}
		seen[p.Name] = true
		if p.Scene == nil {
			return fmt.Errorf("page %d shows nothing", i+1)
		}
		if err := p.Scene.sound(); err != nil {
			return fmt.Errorf("page %d: %w", i+1, err)
		}
		for _, e := range p.Entries() {
			if e.Title == "" {
				return fmt.Errorf("page %d: an entry in the outline has no words", i+1)
			}
			if e.Level < 0 || e.Level > level+1 {
				return fmt.Errorf("page %d: its entry in the outline is of level %d, after one of level %d", i+1, e.Level, level)
			}
			level = e.Level
		}
	}
	for i, p := range d.Pages {
		for _, l := range p.Scene.Links {
			if l.To == "" || !seen[l.To] {
				return fmt.Errorf("page %d: a link leads to %q, and no page is called so", i+1, l.To)
			}
		}
	}
	return nil
}

func (s *Scene) sound() error {
	if !(s.Width > 0 && s.Width <= longest && s.Height > 0 && s.Height <= longest) {
		return fmt.Errorf("the page has no size, or a side longer than %d mm", longest)
	}
	if math.IsNaN(s.Origin.X+s.Origin.Y) || math.IsInf(s.Origin.X+s.Origin.Y, 0) {
		return errors.New("the origin is nowhere")
	}
	if !(s.Scale >= 0 && s.Scale <= deepest) {
		return errors.New("the scale is none")
	}
	for _, l := range s.Links {
		if !l.Box.sound() {
			return fmt.Errorf("the link to %q has no area", l.To)
		}
	}
	seen := map[string]bool{}
	for _, l := range s.Layers {
		if !layerName(l.Name) || seen[l.Name] {
			return fmt.Errorf("%q is no name for a layer, or that of another", l.Name)
		}
		seen[l.Name] = true
		if err := l.sound(); err != nil {
			return fmt.Errorf("layer %s: %w", l.Name, err)
		}
	}
	return nil
}

func (l Layer) sound() error {
	for _, i := range l.Images {
		if i.Picture == nil || i.Picture.Bounds().Empty() || !i.Box.sound() {
			return errors.New("an image has no picture or no area")
		}
	}
	for _, p := range l.Paths {
		if err := p.sound(); err != nil {
			return err
		}
	}
	for _, t := range l.Texts {
		if err := t.sound(); err != nil {
			return err
		}
	}
	return nil
}

func (b Box) sound() bool {
	return near(b.Min.X, b.Min.Y, b.Max.X, b.Max.Y) && b.Width() > 0 && b.Height() > 0
}

func (p Path) sound() error {
	for i, s := range p.Steps {
		if s.Kind < Move || s.Kind > Close || i == 0 && s.Kind != Move || !near(s.To.X, s.To.Y, s.C1.X, s.C1.Y, s.C2.X, s.C2.Y) {
			return errors.New("a path has a step that leads nowhere, or comes from nowhere")
		}
	}
	if _, ok := p.Fill.rgb(); p.Fill != None && !ok {
		return errors.New("a path has a fill that does not exist")
	}
	if p.Pen.Width != 0 && !p.Pen.sound() {
		return errors.New("a path has a pen that does not exist")
	}
	return nil
}

func (p Pen) sound() bool {
	sum := 0.0
	for _, d := range p.Dash {
		if !(d >= 0) {
			return false
		}
		sum += d
	}
	_, ok := p.Tone.rgb()
	return ok && p.Width > 0 && near(p.Width, sum) && (len(p.Dash) == 0 || sum >= densest)
}

func (t Text) sound() error {
	_, ok := t.Tone.rgb()
	if !ok || t.Face < Sans || t.Face > Mono || t.Anchor < Start || t.Anchor > End || !(t.Size >= Smallest && t.Size <= biggest) || !near(t.At.X, t.At.Y, t.Turn) {
		return fmt.Errorf("the text %q is set in a way that does not exist, or below %d pt", t.Words, Smallest)
	}
	return nil
}

// near reports whether numbers are places on a page or not far from it.
func near(numbers ...float64) bool {
	for _, v := range numbers {
		if !(math.Abs(v) <= farthest) {
			return false
		}
	}
	return true
}

// layerName reports whether a text can name a layer, in every kind of file. Release 12 of DXF takes no more than 31 characters.
func layerName(name string) bool {
	for i, r := range name {
		if !(r >= 'a' && r <= 'z' || i > 0 && (r == '-' || r >= '0' && r <= '9')) {
			return false
		}
	}
	return name != "" && len(name) <= 31
}
