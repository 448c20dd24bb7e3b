package study

import (
	"cmp"
	"slices"

	"farend/finding"
	"farend/scheme"
)

// Does is the worst that a course does to a conductor; its conductor is nil where it overloads none.
func (c *Course) Does() (worst Harm) {
	for _, o := range c.Over {
		worst = worst.or(did(&c.Strike, o))
	}
	return worst
}

// Fades lists, in order, the runs in which lights go out in a course, those in which they change colour, and those in which they get or give less than
// they should; none in the dark.
func (c *Course) Fades() (dark, off, dim []string) {
	return scheme.IDs(c.faded.dark), scheme.IDs(c.faded.off), scheme.IDs(c.faded.dim)
}

// A Told outage is one with its worst course.
type Told struct {
	*Outage
	Course *Course // that which does most harm; of those that do as much that with most that opens
	Harm   Harm
}

// Grade is how bad that is.
func (t Told) Grade() finding.Grade { return t.Harm.Verdict.Grade }

// Worst lists the outages, the worst first: by what they do to a conductor, then by how many fuses open, then by the runs that go dark.
func (t *Lost) Worst() []Told {
	var list []Told
	for i := range t.Outages {
		o := &t.Outages[i]
		told := Told{Outage: o}
		for k := range o.Courses {
			c := &o.Courses[k]
			harm := c.Does()
			if grade := harm.Verdict.Grade; told.Course == nil || grade > told.Grade() || grade == told.Grade() && c.opens() > told.Course.opens() {
				told.Course, told.Harm = c, harm
			}
		}
		list = append(list, told)
	}
	slices.SortStableFunc(list, func(a, b Told) int {
		return cmp.Or(cmp.Compare(b.Grade(), a.Grade()), cmp.Compare(b.Course.opens(), a.Course.opens()), cmp.Compare(len(b.Dark), len(a.Dark)), cmp.Compare(len(b.Off)+len(b.Dim), len(a.Off)+len(a.Dim)))
	})
	return list
}

// opens is how many fuses surely open, and as halves those that may.
func (c *Course) opens() int { return 2*len(c.Cascade) + len(c.May) }
