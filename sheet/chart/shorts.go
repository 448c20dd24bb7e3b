package chart

import (
	"fmt"
	"strings"

	"farend/draw"
	"farend/fuse"
	"farend/layout"
	"farend/study"
)

// shorts are bolted ones behind a fuse: at the far end of what it feeds, as far as the tape and the next fuse, where it carries least, and right
// behind it, where it carries most.
type shorts struct {
	far  study.FarShort
	near *study.NearShort // nil where none was struck right behind the fuse
}

// struck is the shorts behind a fuse; nil where faults were not followed, or nothing ends behind it.
func struck(st *study.Study, id string) *shorts {
	all := st.Struck()
	if all == nil {
		return nil
	}
	far, ok := all.Far(id)
	if !ok {
		return nil
	}
	s := &shorts{far: far}
	if near, ok := all.Nearest(id); ok {
		s.near = &near
	}
	return s
}

// The pens of shorts: chain lines with two dots, the heavier for the current at which it is hardest for the fuse to open.
var (
	farPen  = draw.Pen{Tone: draw.Ink, Width: draw.Thick, Dash: []float64{5, 0.9, 0.7, 0.9, 0.7, 0.9}}
	nearPen = draw.Pen{Tone: draw.Ink, Width: draw.Thin, Dash: []float64{5, 0.9, 0.7, 0.9, 0.7, 0.9}}
)

// shortEntries say what the shorts are, and by when that at the far end is over.
func (p *picture) shortEntries() []layout.Entry {
	if p.shorts == nil {
		return nil
	}
	far := p.shorts.far
	entries := []layout.Entry{layout.Shown(layout.Stroke(farPen), fmt.Sprintf("Bolted short at the far end, %s, with the least that may flow%s. %s", short(far.Place), limited(far.Strike), ended(far)))}
	if far.Amps < faint {
		entries[0] = layout.Noted(fmt.Sprintf("A bolted short at the far end, %s, sends less than %s through the fuse, and is not drawn. %s", short(far.Place), layout.Nominal(faint), ended(far)))
	}
	if near := p.shorts.near; near != nil && near.Amps >= faint {
		entries = append(entries, layout.Shown(layout.Stroke(nearPen), fmt.Sprintf("Bolted short right behind the fuse, at %s, with the most that may flow%s.", short(near.Place), limited(near.Strike))))
	}
	return entries
}

// limited names the supplies that hold a short at their limit, on which its current then rests.
func limited(k *study.Strike) string {
	switch len(k.Held) {
	case 0:
		return ""
	case 1:
		return ", " + k.Held[0] + " at its limit"
	}
	return ", " + study.Several(k.Held) + " at their limits"
}

// ended is by when the short at the far end is over, whatever feeds it and in every case that it was struck in. Where a supply may switch itself
// off and on, that is known only of the most that may flow, for then a supply counts as holding its limit; of the least that may flow the
// slow edge of the fuse says when it has opened if the supply goes on, and not what else feeds the short then.
func ended(far study.FarShort) string {
	switch {
	case far.Slow <= 0: // one of the cases has no solution
		return "By when it has ended is not known."
	case len(far.Pulses) == 0 && far.Slow == fuse.Never && far.Opens == fuse.Never:
		return "It may go on."
	case len(far.Pulses) == 0 && far.Slow == fuse.Never:
		return "The fuse has surely opened within " + layout.Quantity(far.Opens) + ", but the short may go on, fed from elsewhere."
	case len(far.Pulses) == 0:
		return "It has surely ended within " + layout.Quantity(far.Slow) + "."
	}
	pulse := study.Several(far.Pulses) + " may switch itself off and on"
	if len(far.Pulses) > 1 {
		pulse = study.Several(far.Pulses) + " may switch themselves off and on"
	}
	if far.Opens == fuse.Never {
		return "The fuse need not open, and " + pulse + ": it may go on."
	}
	say := "The fuse has surely opened within " + layout.Quantity(far.Opens) + ", but " + pulse + " before: then the short may go on."
	if far.Ends > 0 && far.Ends < fuse.Never {
		say += " With the most that may flow it ends within " + layout.Quantity(far.Ends) + "."
	}
	return say
}

// told is the shorts in sentences.
func (s *shorts) told() []string {
	say := []string{fmt.Sprintf("A bolted short at the far end, %s, sends at least %v through it. %s", s.far.Place, s.far.Amps, strings.ReplaceAll(ended(s.far), layout.Thin, " "))}
	if s.near != nil {
		say = append(say, fmt.Sprintf("One right behind it, at %s, sends at most %v.", s.near.Place, s.near.Amps))
	}
	return say
}
