package drafting

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// BareName is the name of a part without its kind.
func BareName(part string) string {
	if _, name, is := strings.Cut(part, "/"); is {
		return name
	}
	return part
}

// PoleWords are the poles of a cable, or the pads that it lands on.
func PoleWords(p scheme.Pole) string {
	switch p {
	case scheme.Plus:
		return "+"
	case scheme.Return:
		return "−"
	}
	return "+ and −"
}

// CopperWords are what a cable of the scheme has for copper, in the same words on every sheet: all cores that are laid, with their section,
// and what of them is used where that is not all, or not both poles: 2 × 1.5 mm², + alone.
func CopperWords(s *scheme.Scheme, style Style, id string) string {
	c := s.Cables[id]
	laid, cores := LaidWords(s, style, c.Part)
	perPole := c.PerPole()
	switch used := c.Poles() * perPole; {
	case cores == 0:
		return laid
	case c.Poles() == 2 && used == cores:
		return laid
	case c.Poles() == 2:
		return fmt.Sprintf("%s, %d used", laid, used)
	case perPole > 1:
		return fmt.Sprintf("%s, %s alone in %d", laid, PoleWords(c.Pole), perPole)
	}
	return laid + ", " + PoleWords(c.Pole) + " alone"
}

// LaidWords are the cores of a cable by its part, and how many they are: none where it is not chosen.
func LaidWords(s *scheme.Scheme, style Style, part string) (words string, cores int) {
	c, ok := parts.Get[parts.Cable](s.Library, part)
	if !ok {
		return "cable not chosen", 0
	}
	return fmt.Sprintf("%d%s×%s%s", c.Cores, layout.Thin, layout.Thin, style.Section(c.Area.Is)), c.Cores
}

// PastFuses is what a data lead does that has the supply in its spare cores.
const PastFuses = "carries the supply past the fuses"

// Bridged reports whether the positive of a cable lands on a way that has no fuse.
func Bridged(s *scheme.Scheme, at scheme.Ref, cable string) bool {
	return at.Kind == scheme.WayRef && s.Fuses[at.String()] == "" && s.Cables[cable].Pole.Has(scheme.Plus)
}

// Some lists the first of several.
func Some(names []string) string {
	const most = 3
	list := strings.Join(names[:min(len(names), most)], ", ")
	if more := len(names) - most; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}

// Coordinate is one of a place as words give it, to the millimetre.
func Coordinate(v float64) string {
	whole := math.Round(v*1000)/1000 + 0 // no minus before nought
	return strings.Replace(strconv.FormatFloat(whole, 'f', -1, 64), "-", "−", 1) + layout.Thin + "m"
}

// Listed is identifiers in a sentence, the first of them where they are many.
func Listed(ids []string) string {
	const most = 24
	if len(ids) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(ids[:most], ", "), len(ids)-most)
	}
	return study.Listed(ids)
}

// Named is an identifier with what people call it.
func Named(id, label string) string {
	if label == "" {
		return id
	}
	return id + " " + label
}
