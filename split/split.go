// Package split divides the pixels of runs over data ports: so that the longest frame is as short as can be, then with as little lead as can
// be, then with as few changes as can be. Whole runs come first; where no division of whole runs is fast enough they are cut at marks, as
// few times as will do. It knows pixels, seconds and metres, and nothing of what they belong to.
//
// A port sends to runs of one kind only, one after the other. For what people build, some twelve runs and eight ports, what comes out is the best
// there is: whole runs by dynamic programming over sets of runs (the order within a port after Held and Karp, "A dynamic programming approach to
// sequencing problems", 1962), cuts by counting (see cut.go). Beyond that a search from what there is and from a fresh start improves both
// until nothing near is better (search.go); it says then that nothing is proven.
package split

import "math"

// A Run is pixels in a row that data goes through from one end to the other.
type Run struct {
	Kind     string // how its data is sent: runs of unlike kinds share no port
	Pixels   int
	CutEvery int   // it may be cut at multiples of so many pixels; 0 where it may not be cut
	Cut      []int // marks at which it is cut in part already: it is cut there where that takes nothing from the frame rate
}

// A Part is a run, or a piece of it: its pixels from From to before To.
type Part struct{ Run, From, To int }

// A Problem is what there is to divide. Lengths are metres, +Inf where no lead can be; those of leads that are there now are finite.
type Problem struct {
	Runs  []Run
	Ports int
	Frame func(kind string, pixels int) float64 // how long a frame takes, s; more pixels take no less
	Entry func(port int, to Part) float64       // of a lead from a port to the first pixel of a part
	Chain func(from, to Part) float64           // of a lead from the last pixel of a part to the first of another
	Now   [][]int                               // the runs of each port as they are, in order
	Aim   float64                               // the longest frame that is wanted, s: runs are cut where whole ones miss it; 0 where none may be cut
}

// A Division says which port sends to what, in order.
type Division struct {
	Ports   [][]Part
	Frame   float64 // the longest, s
	Metres  float64 // of all leads
	Changes int     // leads that begin elsewhere than now, or are new
	Cuts    int
	Meets   bool // the frame that is wanted
	Proven  bool // no division has a shorter frame, or fewer cuts where there are some; none of these parts has less lead
}

// Divide is the best division of a problem; it is not ok where there is none, as where runs are of more kinds than there are ports. Where not even cuts
// meet the aim, it is the one that comes nearest, with as few cuts as that takes.
func Divide(p Problem) (d Division, ok bool) {
	p.tidy()
	d, ok = p.divide(p.whole(), p.now())
	if !ok || p.Aim <= 0 || d.Frame <= p.Aim {
		return p.finished(d), ok
	}
	if cut, better := p.cut(d); better {
		d = cut
	}
	return p.finished(d), true
}

// tidy makes sense of odd input: no pixels where there are less than none, and nothing as it is where that names runs twice or ones that are not there.
func (p *Problem) tidy() {
	runs := make([]Run, len(p.Runs))
	for i, r := range p.Runs {
		runs[i] = Run{r.Kind, min(max(r.Pixels, 0), mostPixels), max(r.CutEvery, 0), r.Cut}
	}
	p.Runs, p.Ports = runs, max(p.Ports, 0)
	seen := make([]bool, len(runs))
	for port, list := range p.Now {
		for _, r := range list {
			if port >= p.Ports || r < 0 || r >= len(runs) || seen[r] {
				p.Now = nil
				return
			}
			seen[r] = true
		}
	}
}

// finished counts what a division comes to.
func (p *Problem) finished(d Division) Division {
	pieces := 0
	for _, list := range d.Ports {
		pieces += len(list)
	}
	d.Cuts = max(0, pieces-len(p.Runs))
	d.Meets = d.Frame <= p.Aim
	return d
}

// whole are the runs as parts.
func (p *Problem) whole() []Part {
	parts := make([]Part, len(p.Runs))
	for i, r := range p.Runs {
		parts[i] = Part{i, 0, r.Pixels}
	}
	return parts
}

// now is the division as it is, by the indices of whole runs; nil where it is not known of all of them.
func (p *Problem) now() [][]int {
	plan, known := make([][]int, p.Ports), 0
	for port, list := range p.Now {
		plan[port] = append(plan[port], list...)
		known += len(list)
	}
	if known < len(p.Runs) {
		return nil
	}
	return plan
}

// frame is how long a frame takes; for ever where that is no number.
func (p *Problem) frame(kind string, pixels int) float64 {
	if t := p.Frame(kind, pixels); !math.IsNaN(t) {
		return t
	}
	return math.Inf(1)
}

// most is how many pixels of a kind a frame is long enough for, up to a number; −1 where not even for none.
func (p *Problem) most(kind string, frame float64, upTo int) int {
	low, high := -1, upTo // what fits, and the most that may
	for low < high {
		if mid := low + (high-low+1)/2; p.frame(kind, mid) <= frame {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return low
}

// divide is the best division of some parts over the ports; start is one to begin with where they are too many to try all, nil where there is none.
func (p *Problem) divide(parts []Part, start [][]int) (Division, bool) {
	t := p.table(parts)
	plan, proven, ok := t.exact()
	if !proven {
		plan, ok = t.search(start)
	}
	if !ok {
		return Division{}, false
	}
	return t.division(plan, proven), true
}

// mostPixels is more than any run has: sums of so many are still numbers.
const mostPixels = 1 << 40
