package network_test

import (
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand"
	"regexp"
	"slices"
	"strings"

	"testing"

	"farend/circuit"
	"farend/network"
)

// A change is a scheme's text with something done to it that leaves the circuit's plan as it is, or opens cores of one cable: that
// is another text without them, and the first one's plan with those wires open.
type change struct {
	what   string
	items  map[string][]string
	opened []string // wires, by name
}

var (
	lengthKey = regexp.MustCompile(`length: ([0-9.]+) m`)
	bladeKey  = regexp.MustCompile(`fuse/blade-[0-9.]+A`)
	firstWord = regexp.MustCompile(`^ *([A-Z]\w*):`)
)

// randomChange makes a cable or a lead three times as long, gives a way another fuse, takes a cable away or one of its cores.
func randomChange(r *rand.Rand, items map[string][]string) change {
	c := change{items: maps.Clone(items)}
	edit := func(section string, how func(string) string) string {
		lines := slices.Clone(items[section])
		i := r.Intn(len(lines))
		before := lines[i]
		lines[i] = how(before)
		if lines[i] == "" {
			lines = slices.Delete(lines, i, i+1)
		}
		c.items[section] = lines
		return before
	}
	longer := func(line string) string {
		return lengthKey.ReplaceAllStringFunc(line, func(key string) string {
			var metres float64
			fmt.Sscanf(key, "length: %f m", &metres)
			return fmt.Sprintf("length: %.2f m", 3*metres)
		})
	}
	switch k := r.Intn(10); {
	case k < 2:
		c.what = "a longer cable: " + edit("cables", longer)
	case k < 3 && len(items["data"]) > 0:
		c.what = "a longer lead: " + edit("data", longer)
	case k < 5 && len(items["fuses"]) > 0:
		other := "fuse/blade-" + []string{"1", "2", "15"}[r.Intn(3)] + "A"
		c.what = "another fuse: " + edit("fuses", func(line string) string { return bladeKey.ReplaceAllString(line, other) })
	case k < 7:
		line := edit("cables", func(string) string { return "" })
		c.what, c.opened = "no cable: "+line, cores(line, "plus", "return")
	default:
		lost, left := "plus", "return"
		if r.Intn(2) == 0 {
			lost, left = left, lost
		}
		line := edit("cables", func(line string) string {
			if strings.Contains(line, "pole:") {
				return ""
			}
			line = strings.Replace(line, "}", ", pole: "+left+"}", 1)
			if left == "return" { // a fuse is in the positive
				line = regexp.MustCompile(`, fuse(_at)?: [^,}]*`).ReplaceAllString(line, "")
			}
			return line
		})
		c.what, c.opened = "no "+lost+" core: "+line, cores(line, lost)
		if strings.Contains(line, "pole:") {
			c.opened = cores(line, "plus", "return")
		}
	}
	return c
}

func cores(line string, poles ...string) (names []string) {
	for _, pole := range poles {
		names = append(names, firstWord.FindStringSubmatch(line)[1]+"."+pole)
	}
	return names
}

// A trail is a point that was followed: what the worker found from a solved point, by names.
type trail struct {
	what   string
	places map[string]float64
}

// wireKey tells a wire by its name and where it starts: a joint is two wires of one name.
func wireKey(n *network.Network, i int) string {
	return n.WireName(i) + " from " + n.NodeName(n.Plan.Shape().Wires[i].A)
}

// follow has the worker go from a slice of a solved case to the values that a case of a changed scheme ends with: every wire that
// both have, the supplies, and open cores. Both slices must have the same pixels on.
func follow(t *testing.T, f *proof, c change, from *network.Network, s *network.Solution, to *network.Network, end *network.Solution, slice int) *trail {
	t.Helper()
	v := s.Values(slice).Fork()
	wires := map[string]int{}
	for i := range to.Plan.Shape().Wires {
		wires[wireKey(to, i)] = i
	}
	if len(wires) != len(to.Plan.Shape().Wires) {
		t.Fatal("two wires have one name and one start")
	}
	for i := range from.Plan.Shape().Wires {
		k, kept := wires[wireKey(from, i)]
		switch {
		case slices.Contains(c.opened, from.WireName(i)):
			v.SetWire(i, circuit.Wire{})
		case kept:
			v.SetWire(i, end.Values(slice).Wire(k))
		}
	}
	for i := range from.SourceNames() {
		v.SetSource(i, end.Values(slice).Source(i))
	}
	p, status := circuit.NewWorker().Solve(context.Background(), from.Plan, v, s.Point(slice), nil)
	if status.Outcome != circuit.Converged {
		t.Errorf("%s, %s: outcome %v", c.what, s.Case.Name, status.Outcome)
	}
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if status.Followed {
		f.followed++
	} else {
		f.full++
	}
	places := map[string]float64{}
	shape := from.Plan.Shape()
	for k := range shape.Nodes {
		places[from.NodeName(k)] = p.Volts(k)
	}
	for i, chain := range shape.Chains {
		plus, minus := make([]float64, chain.Loads), make([]float64, chain.Loads)
		p.Rails(i, plus, minus)
		for k := range chain.Loads {
			places[from.PixelName(i, k)+" plus"], places[from.PixelName(i, k)+" return"] = plus[k], minus[k]
		}
	}
	return &trail{c.what, places}
}

// compare compares a followed point with ngspice's answer for the changed scheme, at every node and pixel that this has.
func (w *trail) compare(q question, a answer, differ func(string, float64, float64, float64, *float64), f *proof) {
	meet := func(name string, theirs float64) {
		ours, known := w.places[name]
		if !known {
			ours = math.NaN()
		}
		differ(w.what+", followed to "+name, ours, theirs, voltsApart, &f.behind)
	}
	n, floats, shape := q.n, q.floats(), q.n.Plan.Shape()
	for k := range shape.Nodes {
		if a.p.Live(k) && !floats[k] {
			meet(n.NodeName(k), a.at(k))
		}
	}
	for i, c := range shape.Chains {
		if !a.p.Live(c.APlus) || floats[c.APlus] {
			continue
		}
		for k := range c.Loads {
			plus, minus := a.pixel(i, k)
			meet(n.PixelName(i, k)+" plus", plus)
			meet(n.PixelName(i, k)+" return", minus)
		}
	}
}

// changed asks for one case of a scheme with a random change, solved cold, and for the same point followed from that of the scheme
// as it was.
func (b *batch) changed(t *testing.T, r *rand.Rand, n *network.Network, items map[string][]string) {
	t.Helper()
	cases := n.States()
	c := cases[r.Intn(len(cases))]
	from := solved(t, n, c)
	how := randomChange(r, items)
	to := layOut(t, readScheme(t, how.what, []byte(schemeText(how.items, asWritten))))
	end := solved(t, to, c)
	slice := 0
	if end.Slices() == from.Slices() {
		slice = r.Intn(end.Slices())
	}
	way := follow(t, b.proof, how, n, from, to, end, slice)
	b.add(t, to, end, slice, way)
}
