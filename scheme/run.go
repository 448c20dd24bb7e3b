package scheme

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
	"farend/unit"
)

func (r *reading) runs() {
	total, said := 0, false
	for _, id := range IDs(r.Runs) {
		r.run(id)
		total += r.Runs[id].Count
		if total > maxAllPixels && !said {
			said = true
			r.wrong(r.key("runs"), fmt.Sprintf("the runs have more than %s pixels together", grouped(maxAllPixels)), "split the scheme: parts of this size have supplies of their own")
		}
	}
}

func (r *reading) run(id string) {
	tape := part[parts.Tape](r, r.Runs[id].Tape, "tape", "runs", id, "tape")
	if r.usable("runs", id, "tape") && r.Runs[id].Tape == choose {
		r.wrong(r.value("runs", id, "tape"), "the tape of "+id+" cannot be left open: without it there is no pixel to count", "write the name of a tape; farend parts tape lists them")
	}
	if r.usable("runs", id, "ip") && !parts.IsDegree(r.Runs[id].IP) {
		r.wrong(r.value("runs", id, "ip"), strconv.Quote(r.Runs[id].IP)+" is no degree of protection", parts.DegreeHint)
	}
	if r.size(id, tape) {
		r.cuts(id, tape)
	}
	r.joints(id)
}

// size settles the pixels and the length of a run. It reports whether they are known.
func (r *reading) size(id string, tape *parts.Tape) bool {
	length, pixels, ok := r.written(id)
	if !ok || tape == nil {
		return false
	}
	density := float64(tape.Pixels.Is)
	var asked []float64 // in pixels
	if length != nil {
		asked = append(asked, float64(*length)*density)
	}
	if pixels != nil {
		asked = append(asked, float64(*pixels))
	}
	at := r.sizePlace(id)
	for _, n := range asked {
		if n > maxPixels+slack || n/density > MaxMetres*(1+1e-9) {
			r.wrong(at, fmt.Sprintf("%s would be %s of %s with %s pixels", id, metresText(unit.Metre(n/density)), r.Runs[id].Tape, count(n)), tooLong)
			return false
		}
		if wholePieces(n, tape.CutEvery) == 0 {
			r.wrong(at, fmt.Sprintf("%s is shorter than one piece of %s, which is cut every %s (%s)", id, r.Runs[id].Tape, metresText(metresOf(tape.CutEvery, tape)), plural(tape.CutEvery, "pixel")), "a run needs at least one piece")
			return false
		}
	}
	count := wholePieces(asked[0], tape.CutEvery)
	if other := wholePieces(asked[len(asked)-1], tape.CutEvery); other != count {
		r.wrong(at, fmt.Sprintf("length and pixels of %s disagree: %s of %s has %s, not %s", id, metresText(*length), r.Runs[id].Tape, plural(count, "pixel"), grouped(*pixels)), "write one of the two")
		return false
	}
	r.settle(id, asked[0], count, tape)
	return true
}

// settle writes the size into the run, and a note where it is not what was written.
func (r *reading) settle(id string, asked float64, count int, tape *parts.Tape) {
	run := r.Runs[id]
	was := metresText(unit.Metre(asked / float64(tape.Pixels.Is)))
	if run.Length == nil && run.Pixels != nil {
		was = plural(*run.Pixels, "pixel")
	}
	if asked-float64(count) > slack || run.Pixels != nil && *run.Pixels != count {
		edits := []finding.Edit{{Path: document.Pointer("runs", id, "pixels"), Value: count}}
		if run.Length != nil {
			edits = append(edits, finding.Edit{Path: document.Pointer("runs", id, "length")})
		}
		r.note("scheme/rounded", id, "", r.key("runs", id), fmt.Sprintf("%s is given as %s; its tape is cut every %s, so it became %s, %s",
			id, was, metresText(metresOf(tape.CutEvery, tape)), metresText(metresOf(count, tape)), plural(count, "pixel")), edits...)
	}
	length := metresOf(count, tape)
	run.Count, run.Pixels, run.Length = count, &count, &length
	r.Runs[id] = run
	r.extent[id] = asked
}

// wholePieces is the pixels of the whole pieces in n pixels of tape.
func wholePieces(n float64, every int) int { return int(math.Floor((n+slack)/float64(every))) * every }

const tooLong = "Farend reads runs of up to 10 km and 2,000,000 pixels; is the unit right?"

// written is the length and the pixels the file gives, at least one of them if ok.
func (r *reading) written(id string) (length *unit.Metre, pixels *int, ok bool) {
	path := []string{"runs", id}
	run := r.Runs[id]
	ok = r.sound("runs", id, "length") && r.sound("runs", id, "pixels")
	if r.usable("runs", id, "length") {
		length = run.Length
		ok = r.length(*length, id, tooLong, "runs", id, "length") && ok
	}
	if r.usable("runs", id, "pixels") {
		pixels = run.Pixels
		ok = r.pixels(id, *pixels) && ok
	}
	if length == nil && pixels == nil && ok {
		length = r.drawn(path, "length and no pixels", "write length: 2.5 m or pixels: 150, or draw it as a line under drawing")
		ok = length != nil
	}
	return length, pixels, ok
}

func (r *reading) pixels(id string, pixels int) bool {
	switch at := r.value("runs", id, "pixels"); {
	case pixels < 1:
		r.wrong(at, fmt.Sprintf("%s cannot have %s", id, plural(pixels, "pixel")), "write a whole number above 0")
		return false
	case pixels > maxPixels:
		r.wrong(at, fmt.Sprintf("%s cannot have %s", id, plural(pixels, "pixel")), tooLong)
		return false
	}
	return true
}

// length checks a length that the file gives.
func (r *reading) length(length unit.Metre, id, tooLong string, path ...string) bool {
	switch at := r.value(path...); {
	case length == 0 && path[0] != "runs":
		r.wrong(at, id+" cannot be 0 m long", "write its real length, however short; two places that are one need no cable")
		return false
	case length <= 0:
		r.wrong(at, id+" cannot be "+metresText(length)+" long", "write a length above 0 m")
		return false
	case length > MaxMetres*(1+1e-9):
		r.wrong(at, id+" cannot be "+metresText(length)+" long", tooLong)
		return false
	}
	return true
}

// drawn takes a missing length from the drawing, with a note, or says that it is missing.
func (r *reading) drawn(path []string, what, hint string) *unit.Metre {
	id := path[1]
	length := r.Drawing[id].Length()
	switch {
	case !r.sound("drawing", id) || r.lost["drawing"] || r.result.Unsure[document.Pointer(path...)]:
		return nil
	case length == 0 && r.given("drawing", id):
		return nil // drawing says what is wrong with it
	case length == 0:
		r.wrong(r.key(path...), id+" has no "+what, hint)
		return nil
	case !r.length(length, id, tooLong, "drawing", id):
		return nil
	}
	r.note("scheme/drawn-length", id, "", r.key("drawing", id), fmt.Sprintf("%s is taken to be %s long, as drawn; add what hangs, bends and is connected", id, metresText(length)))
	return &length
}

// sizePlace is where the size of a run is written.
func (r *reading) sizePlace(id string) finding.Pos {
	for _, path := range [][]string{{"runs", id, "length"}, {"runs", id, "pixels"}, {"drawing", id}} {
		if r.given(path...) {
			return r.value(path...)
		}
	}
	return r.key("runs", id)
}

// cuts resolves the cuts of a run, in the order of their marks; cuts of both poles at one mark become one.
func (r *reading) cuts(id string, tape *parts.Tape) {
	run := r.Runs[id]
	var cuts []Cut
	for i, cut := range run.Cuts {
		path := []string{"runs", id, "cuts", strconv.Itoa(i)}
		if r.usable(append(path, "at")...) && r.cut(&cut.At, id, tape, path) {
			cuts = merge(cuts, cut)
		}
	}
	slices.SortFunc(cuts, func(a, b Cut) int { return cmp.Compare(a.At.Mark, b.At.Mark) })
	run.Cuts = cuts
	r.Runs[id] = run
}

func (r *reading) cut(at *Station, id string, tape *parts.Tape, path []string) bool {
	place := append(slices.Clone(path), "at")
	pos, was := r.value(place...), *at
	if at.Before {
		r.wrong(pos, fmt.Sprintf("a cut is at a mark, and %q is one side of it", at.Text), "leave the last - out")
		return false
	}
	if text, hint := at.resolve(r.Runs[id].Count, r.extent[id], tape, id); text != "" {
		r.wrong(pos, text, hint)
		return false
	}
	if at.Start || at.End {
		r.wrong(pos, fmt.Sprintf("there is nothing to cut at %s@%s, an end of the run", id, was.Text), "cut at a mark between the ends, or remove the cut")
		return false
	}
	if text, changed := r.moved(was, *at, id); changed {
		r.note("scheme/rounded", id, id+"@"+was.Text, pos, text, finding.Edit{Path: document.Pointer(place...), Value: at.String()})
	}
	return true
}

func merge(cuts []Cut, cut Cut) []Cut {
	for i, c := range cuts {
		if c.At.Mark == cut.At.Mark {
			if c.Pole != cut.Pole {
				cuts[i].Pole = Both
			}
			return cuts
		}
	}
	return append(cuts, cut)
}

// joints checks that soldered joints lie on the run.
func (r *reading) joints(id string) {
	end, known := r.end(id)
	seen := map[unit.Metre]bool{}
	for i, joint := range r.Runs[id].Joints {
		path := []string{"runs", id, "joints", strconv.Itoa(i)}
		switch {
		case !r.sound(path...):
		case joint <= 0:
			r.wrong(r.value(path...), fmt.Sprintf("the joint at %s is not on %s", metresText(joint), id), "write the length from the data-in end to the joint, above 0 m")
		case known && joint >= end:
			r.wrong(r.value(path...), fmt.Sprintf("the joint at %s is not on %s, which ends at %s", metresText(joint), id, metresText(end)), "a joint has tape on both sides")
		case seen[joint]:
			r.wrong(r.value(path...), fmt.Sprintf("the joint at %s stands twice", metresText(joint)), "remove one of the two")
		}
		seen[joint] = true
	}
}

// end is the length of a run, if it is known.
func (r *reading) end(id string) (unit.Metre, bool) {
	if _, known := r.extent[id]; !known {
		return 0, false
	}
	return *r.Runs[id].Length, true
}
