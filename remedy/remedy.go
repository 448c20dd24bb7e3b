// Package remedy knows which change to a scheme would do: which part of the library suffices where one does not, where one more feed
// would land and what it would be made of, which cable hangs on the wrong supply. Rules ask it for the edits of their findings; Mend
// makes such edits, one after the other, and has each judged before it stands.
//
// It reads solved results and never solves, so that an edit is what an experienced installer would try first, by the currents as
// they are; that it does what it should is known once it has been solved again. Of several parts that suffice it takes the
// smallest; where none suffices, or where only people can know what was meant, there is no edit.
package remedy

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// roomy is how much of a limit a new part is loaded with at most: rules call what comes closer tight.
const roomy = 0.95

// most is the largest of a current over all cases, the failed cap among them.
func most(s *study.Study, of func(*network.Result) unit.Ampere) unit.Ampere {
	largest := unit.Ampere(0)
	for _, c := range s.Cases() {
		largest = max(largest, of(s.Result(c.Name)))
	}
	return largest
}

// lasting is the largest of a current over the cases that last: all but the failed cap.
func lasting(s *study.Study, of func(*network.Result) unit.Ampere) unit.Ampere {
	largest := unit.Ampere(0)
	for _, c := range s.Cases() {
		if c.Kind != network.CapFailed {
			largest = max(largest, of(s.Result(c.Name)))
		}
	}
	return largest
}

// edit sets one key of a thing; nil takes it out.
func edit(value any, keys ...string) finding.Edit {
	return finding.Edit{Path: finding.Pointer(keys...), Value: value}
}

// family is a part's name up to its first figure: parts that share it differ in size.
func family(part string) string {
	if i := strings.IndexAny(part, "0123456789"); i >= 0 {
		return part[:i]
	}
	return part
}

// A named part goes by its name.
type named[T any] struct {
	name string
	part *T
}

// fitting are the parts of a kind that fit, best first; less says which of two is better, and names decide between equals.
func fitting[T any](s *study.Study, kind string, fits func(name string, part *T) bool, better func(a, b named[T]) int) []named[T] {
	var all []named[T]
	for _, name := range s.Scheme.Library.Names(kind) {
		if part, ok := parts.Get[T](s.Scheme.Library, name); ok && fits(name, part) {
			all = append(all, named[T]{name, part})
		}
	}
	slices.SortStableFunc(all, better)
	return all
}

// first is the name of the first of some parts, "" if there is none.
func first[T any](list []named[T]) string {
	if len(list) == 0 {
		return ""
	}
	return list[0].name
}

// plain is a number without idle zeros, to a tenth of a thousandth.
func plain(x float64) string { return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64) }

// rank puts parts for which something holds before others.
func rank(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// end is one end of a cable, and far the other one.
func ends(c scheme.Cable) [2]scheme.Ref { return [2]scheme.Ref{c.From, c.To} }

// far is the end of a cable that is not at a place.
func far(c scheme.Cable, place string) scheme.Ref {
	if c.From.String() == place {
		return c.To
	}
	return c.From
}

// volts is the highest voltage that supplies bring to a thing, at the upper end of their spread; 0 where none does.
func volts(s *study.Study, id string) unit.Volt {
	highest, _, _ := s.Highest(id)
	return highest
}

// short is the most that the supplies on a thing give together into a short.
func short(s *study.Study, id string) unit.Ampere {
	_, sum := s.Gives(id)
	return sum
}
