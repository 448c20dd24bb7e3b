package scheme

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
)

const (
	MaxMetres    = 10e3       // of one run or cable
	maxPixels    = 2_000_000  // of one run
	maxAllPixels = 20_000_000 // of a scheme: a few gigabytes of memory
	maxSearches  = 200        // for a near name; each goes through all names, and a file may have many mistakes
)

// A reading is a scheme while it is being checked. What failed to decode is left alone, so that one mistake is not
// reported as several.
type reading struct {
	*Scheme
	result   document.Result
	touched  map[string]bool // nodes with a mistake in them or below
	lost     map[string]bool // sections that could not be read whole
	mistakes finding.Mistakes
	notes    map[string]finding.Finding // by ID
	elements map[string]string          // identifier to section; "" where two elements share it
	extent   map[string]float64         // of a run whose marks are known: its pixels before rounding
	places   map[use][]string           // what a dangling name may have meant
	endless  map[string]bool            // elements of which was said that nothing can end on them
	searches int
}

func newReading(s *Scheme, result document.Result, catalogue *parts.Library) *reading {
	r := &reading{
		Scheme: s, result: result,
		touched: map[string]bool{}, lost: map[string]bool{}, notes: map[string]finding.Finding{},
		elements: map[string]string{}, extent: map[string]float64{}, places: map[use][]string{}, endless: map[string]bool{},
	}
	for path := range result.Faulty {
		for ; path != "" && !r.touched[path]; path = path[:strings.LastIndexByte(path, '/')] {
			r.touched[path] = true
		}
	}
	r.findLost()
	own := parts.Set{}
	for name, part := range s.Parts {
		if r.sound("parts", name) {
			own[name] = part
		}
	}
	if catalogue == nil {
		catalogue = parts.Catalogue()
	}
	s.Library = catalogue.With(own)
	s.Places = result.Places
	return r
}

// findLost marks the sections whose names are not all known: because they are no maps, stand twice, or may hide behind
// a key that is not known here.
func (r *reading) findLost() {
	keys := document.Keys(*r.Scheme)
	for _, key := range keys {
		r.lost[key] = r.result.Faulty[document.Pointer(key)] || r.result.Unsure[document.Pointer(key)]
	}
	for path := range r.result.Faulty {
		name := strings.TrimPrefix(path, "/")
		if path == "" || strings.Contains(name, "/") || slices.Contains(keys, name) {
			continue
		}
		if near := finding.DidYouMean(name, keys); near != "" {
			r.lost[near] = true
			continue
		}
		for _, section := range sections() {
			r.lost[section.key] = true
		}
	}
}

// A section is a part of the file whose keys are identifiers of elements.
type section struct {
	key, noun string
	ids       func(*Scheme) []string
}

func sections() []section {
	return []section{
		{"supplies", "supply", func(s *Scheme) []string { return IDs(s.Supplies) }},
		{"boards", "board", func(s *Scheme) []string { return IDs(s.Boards) }},
		{"junctions", "junction", func(s *Scheme) []string { return IDs(s.Junctions) }},
		{"runs", "run", func(s *Scheme) []string { return IDs(s.Runs) }},
		{"cables", "cable", func(s *Scheme) []string { return IDs(s.Cables) }},
		{"data", "data lead", func(s *Scheme) []string { return IDs(s.Data) }},
		{"contactors", "contactor", func(s *Scheme) []string { return IDs(s.Contactors) }},
		{"capacitors", "capacitor", func(s *Scheme) []string { return IDs(s.Capacitors) }},
		{"enclosures", "enclosure", func(s *Scheme) []string { return IDs(s.Enclosures) }},
	}
}

func (r *reading) check() {
	r.format()
	r.texts()
	r.ownParts()
	r.identifiers()
	r.site()
	r.aims()
	r.supplies()
	r.boards()
	r.junctions()
	r.runs()
	r.cables()
	r.leads()
	r.fuses()
	r.contactors()
	r.capacitors()
	r.enclosures()
	r.separate()
	r.revisions()
	r.states()
	r.duty()
	r.drawing()
	r.unjudged()
}

func (r *reading) format() {
	if r.given("farend") && r.sound("farend") && r.Format != form {
		r.wrong(r.value("farend"), fmt.Sprintf("there is no form %d of this file; this Farend reads form %d", r.Format, form), "write farend: 1")
	}
}

// sound reports whether nothing at or below a key failed to decode.
func (r *reading) sound(path ...string) bool { return !r.touched[document.Pointer(path...)] }

// given reports whether the file has the key.
func (r *reading) given(path ...string) bool {
	_, ok := r.result.Places[document.Pointer(path...)]
	return ok
}

// usable reports whether the file has the key and its value decoded.
func (r *reading) usable(path ...string) bool { return r.given(path...) && r.sound(path...) }

// lacks reports whether the map at path surely has no such key: neither as such nor misspelt.
func (r *reading) lacks(path []string, key string) bool {
	return !r.given(append(slices.Clone(path), key)...) && !r.result.Unsure[document.Pointer(path...)]
}

func (r *reading) key(path ...string) finding.Pos {
	return nearest(r.result.Places, r.File, document.Pointer(path...))
}

func (r *reading) value(path ...string) finding.Pos {
	if pos, ok := r.result.Values[document.Pointer(path...)]; ok {
		return pos
	}
	return r.key(path...)
}

func (r *reading) wrong(at finding.Pos, text, hint string) {
	r.mistakes = append(r.mistakes, finding.Mistake{Pos: at, Text: text, Hint: hint})
}

func comparePlaces(a, b finding.Pos) int {
	return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
}

// note keeps a finding of grade note; one that says the same again is dropped.
func (r *reading) note(rule, subject, at string, pos finding.Pos, text string, edits ...finding.Edit) {
	id := rule + ":" + cmp.Or(at, subject)
	if _, twice := r.notes[id]; !twice {
		r.notes[id] = finding.Finding{ID: id, Rule: rule, Grade: finding.Note, Subject: subject, At: at, Text: text, Edits: edits, Pos: pos}
	}
}

// sortedNotes puts the notes in an order that does not depend on that of the file.
func (r *reading) sortedNotes() []finding.Finding {
	var notes []finding.Finding
	for _, id := range IDs(r.notes) {
		notes = append(notes, r.notes[id])
	}
	return notes
}

// near is the name that was probably meant, "" where none is close or too many were looked for.
func (r *reading) near(word string, names []string) string {
	if r.searches++; r.searches > maxSearches {
		return ""
	}
	return finding.DidYouMean(word, names)
}

// nearOr is a hint: the name that was probably meant, or else the names there are, or else what to do. The names are
// asked for only if they are used.
func (r *reading) nearOr(word string, names func() []string, otherwise string) string {
	if r.searches >= maxSearches {
		return otherwise
	}
	all := names()
	near := r.near(word, all)
	switch {
	case near != "":
		return "did you mean " + near + "?"
	case len(all) == 0:
		return otherwise
	case len(all) == 1:
		return "there is " + all[0]
	}
	return "there are " + list(all, "and", 8)
}

// texts checks that what is printed on drawings and labels is one line of text.
func (r *reading) texts() {
	r.text(r.Title, "title")
	for id, s := range r.Supplies {
		r.text(s.Label, "supplies", id, "label")
	}
	for id, b := range r.Boards {
		r.text(b.Label, "boards", id, "label")
		r.text(b.Host, "boards", id, "host")
	}
	for id, run := range r.Runs {
		r.text(run.Label, "runs", id, "label")
		r.text(run.Reel, "runs", id, "reel")
	}
	for id, c := range r.Cables {
		r.text(c.Label, "cables", id, "label")
	}
	for id, l := range r.Data {
		r.text(l.Label, "data", id, "label")
	}
	for id, j := range r.Junctions {
		r.text(j.Label, "junctions", id, "label")
	}
	for id, q := range r.Contactors {
		r.text(q.Label, "contactors", id, "label")
	}
	for id, c := range r.Capacitors {
		r.text(c.Label, "capacitors", id, "label")
	}
	for id, e := range r.Enclosures {
		r.text(e.Label, "enclosures", id, "label")
	}
	for i, v := range r.Revisions {
		n := strconv.Itoa(i)
		r.text(v.Name, "revisions", n, "name")
		r.text(v.By, "revisions", n, "by")
		r.text(v.What, "revisions", n, "what")
	}
}

func (r *reading) text(text string, path ...string) {
	if strings.ContainsFunc(text, breaks) {
		r.wrong(r.value(path...), path[len(path)-1]+" must be one line of plain text", "remove line breaks and control characters")
	}
}

// breaks reports whether a character breaks a line or steers a terminal.
func breaks(c rune) bool { return unicode.In(c, unicode.Cc, unicode.Zl, unicode.Zp) }

// ownParts checks the names of the parts that the scheme brings along; their kinds are checked already.
func (r *reading) ownParts() {
	for _, name := range IDs(r.Parts) {
		rest := strings.TrimPrefix(name, parts.Kind(name)+"/")
		if strings.Trim(rest, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") != "" || rest == "" {
			r.wrong(r.key("parts", name), strconv.Quote(name)+" is not the name of a part", "write letters A to Z, digits, - _ and . after "+parts.Kind(name)+"/")
		}
	}
}

// identifiers checks the names of all elements and notes what each is.
func (r *reading) identifiers() {
	type entry struct {
		id, key, noun string
		at            finding.Pos
	}
	var entries []entry
	for _, section := range sections() {
		for _, id := range section.ids(r.Scheme) {
			entries = append(entries, entry{id, section.key, section.noun, r.key(section.key, id)})
		}
	}
	slices.SortStableFunc(entries, func(a, b entry) int { return comparePlaces(a.at, b.at) })
	first := map[string]entry{}
	for _, e := range entries {
		one, twice := first[e.id]
		switch {
		case twice:
			r.elements[e.id], r.lost[e.key] = "", true
			r.wrong(e.at, fmt.Sprintf("%s is the name of %s already, given in line %d", e.id, article(one.noun), one.at.Line), "give the "+e.noun+" a name of its own")
			continue
		case !Identifier(e.id):
			r.wrong(e.at, strconv.Quote(e.id)+" is not an identifier", identifierHint)
			r.lost[e.key] = true // names that are not found may mean this one
		}
		first[e.id] = e
		r.elements[e.id] = e.key
		if r.misplaced(e.key, e.id) != "" {
			r.elements[e.id] = "" // what refers to it may mean what it is, not where it stands
		}
	}
}

// misplaced is the section in which an element belongs by its part, where that is another than the one in which it stands.
func (r *reading) misplaced(section, id string) string {
	part := map[string]string{"supplies": r.Supplies[id].Part, "boards": r.Boards[id].Part, "junctions": r.Junctions[id].Part,
		"contactors": r.Contactors[id].Part, "capacitors": r.Capacitors[id].Part, "enclosures": r.Enclosures[id].Part}[section]
	home := map[string]string{"supply": "supplies", "board": "boards", "junction": "junctions", "relay": "contactors", "capacitor": "capacitors",
		"enclosure": "enclosures"}[parts.Kind(part)]
	if _, known := r.Library.Find(part); part == "" || !known || home == section {
		return ""
	}
	return home
}

const identifierHint = "write letters A to Z, digits, - and _, with a letter first, such as E1"

// choose is written in place of the name of a part that is not chosen yet.
const choose = "choose"

// part is the part that the value at path names. It is nil where the name is "choose", where the part's own definition
// has a mistake, and after a mistake here.
func part[T any](r *reading, name, kind string, path ...string) *T {
	if !r.usable(path...) || name == choose || !r.sound("parts", name) {
		return nil
	}
	if found, ok := parts.Get[T](r.Library, name); ok {
		return found
	}
	at := r.value(path...)
	if _, other := r.Library.Find(name); other {
		text := fmt.Sprintf("%s is %s, not %s", name, article(parts.Kind(name)), article(kind))
		if kind == "tape" {
			text = fmt.Sprintf("%s is %s; a run needs a tape", name, article(parts.Kind(name)))
		}
		hint := r.partHint(kind, name, path[0], "write the name of a "+kind)
		if home := r.misplaced(path[0], path[1]); home != "" && path[len(path)-1] == "part" {
			hint = "describe " + path[1] + " under " + home + ", or give it a part that is " + article(kind)
		}
		r.wrong(at, text, hint)
		return nil
	}
	if r.lost["parts"] {
		return nil
	}
	r.wrong(at, fmt.Sprintf("there is no %s %q", kind, name), r.partHint(kind, name, path[0], "describe it under parts: as "+kind+"/ and a name"))
	return nil
}

// partHint is a hint: which part a name that is none was probably meant to be, or else which there are.
func (r *reading) partHint(kind, name, section, otherwise string) string {
	const most = 8
	if r.searches++; r.searches > maxSearches {
		return otherwise
	}
	if near := r.Library.Meant(kind, name); len(near) > 0 {
		return "did you mean " + strings.Join(near, " or ") + "?"
	}
	if rated, ok := r.Library.Rated(kind, name, usual(kind, section)); ok {
		return "write the name of a " + kind + " such as " + rated
	}
	all := r.Library.Named(kind, name)
	if len(all) == 0 {
		all = r.Library.Names(kind)
	}
	switch {
	case len(all) == 0:
		return otherwise
	case len(all) == 1:
		return "there is " + all[0]
	case len(all) > most:
		return "there are " + list(all, "and", most) + "; farend parts " + kind + " lists them"
	}
	return "there are " + list(all, "and", most)
}

// usual is how the names of most parts of a kind begin, in a section of the file.
func usual(kind, section string) string {
	switch {
	case kind == "fuse" && section == "cables":
		return "fuse/inline-"
	case kind == "fuse":
		return "fuse/blade-"
	case kind == "cable" && section == "data":
		return "cable/data-"
	case kind == "cable":
		return "cable/flex-2x"
	}
	return kind + "/"
}

func (r *reading) boards() {
	for _, id := range IDs(r.Boards) {
		part[parts.Board](r, r.Boards[id].Part, "board", "boards", id, "part")
	}
}

func (r *reading) junctions() {
	for _, id := range IDs(r.Junctions) {
		part[parts.Junction](r, r.Junctions[id].Part, "junction", "junctions", id, "part")
	}
}

// anyLost reports whether there may be elements that could not be read.
func (r *reading) anyLost() bool {
	return slices.ContainsFunc(sections(), func(s section) bool { return r.lost[s.key] })
}
