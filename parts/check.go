package parts

import (
	"strconv"
	"strings"

	"farend/finding"
	"farend/internal/document"
)

// ReadNode reads parts by name. The word before the slash says what each is; a name that a part refers to must be among
// these parts or in the catalogue.
func (s *Set) ReadNode(r *document.Reader, n document.Node) {
	if !n.IsMap() {
		var want map[string]struct{}
		r.Decode(n, &want)
		return
	}
	*s = Set{}
	r.Pairs(n, func(name string, keyNode, value document.Node) {
		part := empty(name)
		if part == nil {
			r.Mistake(keyNode, strconv.Quote(name)+" is not the name of a kind of part", kindHint(name))
			return
		}
		r.Decode(value, part)
		(*s)[name] = part
	})
	s.refer(r, n)
}

func kindHint(name string) string {
	if near := finding.DidYouMean(Kind(name), Kinds()); near != "" {
		return "did you mean " + near + "/" + strings.TrimPrefix(name, Kind(name)+"/") + "?"
	}
	return "begin the name with one of " + strings.Join(Kinds(), "/, ") + "/"
}

// refer looks up the parts that these parts name.
func (s *Set) refer(r *document.Reader, n document.Node) {
	library := Catalogue().With(*s)
	pairs(r, n, func(_ string, _, part document.Node) {
		reference(r, library, part, "protocol", "protocol")
		reference(r, library, part, "curve", "curve")
		reference(r, library, part, "seat", "connector")
		if ports, ok := part.Get("ports"); ok {
			pairs(r, ports, func(_ string, _, port document.Node) { reference(r, library, port, "ground_fuse", "fuse") })
		}
	})
}

// reference checks that the text under key is the name of a part of that kind.
func reference(r *document.Reader, library *Library, n document.Node, key, kind string) {
	at, given := n.Get(key)
	if !given || !at.IsScalar() {
		return
	}
	name := at.Text()
	if name == "" || Kind(name) == kind && library.has(name) {
		return
	}
	names := library.Names(kind)
	hint := "there are " + some(names)
	if near := library.Meant(kind, name); len(near) > 0 {
		hint = "did you mean " + strings.Join(near, " or ") + "?"
	}
	r.Mistake(at, "there is no "+kind+" "+strconv.Quote(name), hint)
}

// some is the first of many names, and how many more there are.
func some(names []string) string {
	const most = 8
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:most], ", ") + " and " + strconv.Itoa(len(names)-most) + " more"
}

// pairs is r.Pairs for a node that may be no map.
func pairs(r *document.Reader, n document.Node, each func(key string, keyNode, value document.Node)) {
	if n.IsMap() {
		r.Pairs(n, each)
	}
}
