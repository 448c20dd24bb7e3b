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
	"farend/internal/schemetest"
	"farend/network"
)

// A change is a scheme's text with something done to it that leaves the circuit's plan as it is, or opens something: that is another
// text without it, and the first one's plan with those wires open.
type change struct {
	what   string
	items  map[string][]string
	out    string   // the outage of the first scheme that comes to the same
	opened []string // its wires, by name
	apart  string   // a node that hangs on other copper then
}

var (
	lengthKey = regexp.MustCompile(`length: ([0-9.]+) m`)
	bladeKey  = regexp.MustCompile(`fuse/blade-[0-9.]+A`)
	fuseKeys  = regexp.MustCompile(`, fuse(_at)?: [^,}]*`)
	firstWord = regexp.MustCompile(`^ *([A-Z][\w.]*):`)
)

// randomChange makes a cable or a lead three times as long, gives a way another fuse, takes a cable away, one of its cores, or what a
// fuse feeds.
func randomChange(r *rand.Rand, items map[string][]string) change {
	c := change{items: maps.Clone(items)}
	switch k := r.Intn(10); {
	case k < 2:
		c.what = "a longer cable: " + c.edit(r, "cables", longer)
	case k < 3 && len(items["data"]) > 0:
		c.what = "a longer lead: " + c.edit(r, "data", longer)
	case k < 5 && len(items["fuses"]) > 0:
		other := "fuse/blade-" + []string{"1", "2", "15"}[r.Intn(3)] + "A"
		c.what = "another fuse: " + c.edit(r, "fuses", func(line string) string { return bladeKey.ReplaceAllString(line, other) })
	case k < 6:
		c.lose(c.edit(r, "cables", func(string) string { return "" }), "plus", "return")
	case k < 8 && c.blow(r):
	case r.Intn(2) == 0:
		c.lose(c.edit(r, "cables", withoutPlus), "plus")
	default:
		c.lose(c.edit(r, "cables", withoutReturn), "return")
	}
	return c
}

// edit edits one line of a section, or takes it away, and returns it as it was.
func (c *change) edit(r *rand.Rand, section string, how func(string) string) string {
	lines := slices.Clone(c.items[section])
	i := r.Intn(len(lines))
	before := lines[i]
	if lines[i] = how(before); lines[i] == "" {
		lines = slices.Delete(lines, i, i+1)
	}
	c.items[section] = lines
	return before
}

func longer(line string) string {
	return lengthKey.ReplaceAllStringFunc(line, func(key string) string {
		var metres float64
		fmt.Sscanf(key, "length: %f m", &metres)
		return fmt.Sprintf("length: %.2f m", 3*metres)
	})
}

// withoutPlus leaves a cable its return core, and nothing where it has but one. A fuse is in the positive.
func withoutPlus(line string) string {
	switch {
	case strings.Contains(line, "pole: return"):
		return line
	case strings.Contains(line, ", pole:"):
		return ""
	}
	return fuseKeys.ReplaceAllString(strings.TrimSuffix(line, "}")+", pole: return}", "")
}

func withoutReturn(line string) string {
	switch {
	case strings.Contains(line, "pole: plus"):
		return line
	case strings.Contains(line, ", pole:"):
		return ""
	}
	return strings.TrimSuffix(line, "}") + ", pole: plus}"
}

// lose notes the cores of a cable, as its line was, that are open.
func (c *change) lose(line string, poles ...string) {
	id := firstWord.FindStringSubmatch(line)[1]
	c.what = fmt.Sprintf("open %v of %s", poles, line)
	for _, pole := range poles {
		c.opened = append(c.opened, id+"."+pole)
	}
	switch {
	case len(poles) == 2:
		c.out = id
	case !strings.Contains(line, ", pole:") || strings.Contains(line, "pole: "+poles[0]):
		c.out = id + "." + poles[0]
	}
}

// blow opens the fuse of a way from which one positive leaves, by taking that away; more would stay joined. ok is false where there
// is no such way.
func (c *change) blow(r *rand.Rand) (ok bool) {
	fuses := c.items["fuses"]
	for _, i := range r.Perm(len(fuses)) {
		way := firstWord.FindStringSubmatch(fuses[i])[1]
		from := func(line string) bool {
			return strings.Contains(line, "from: "+way+",") && !strings.Contains(line, "pole: return")
		}
		at := slices.IndexFunc(c.items["cables"], from)
		if at < 0 || slices.ContainsFunc(c.items["cables"][at+1:], from) {
			continue
		}
		c.what, c.out, c.opened, c.apart = "blown fuse of "+way, way+".fuse", []string{way + ".fuse"}, way+" plus"
		cables := slices.Clone(c.items["cables"])
		if cables[at] = withoutPlus(cables[at]); cables[at] == "" {
			cables = slices.Delete(cables, at, at+1)
		}
		c.items["cables"] = cables
		return true
	}
	return false
}

// A trail is a point that was found from another: potentials by names.
type trail struct {
	what   string
	apart  string
	places map[string]float64
}

func trailOf(c change, n *network.Network, p *circuit.Point) *trail {
	places := map[string]float64{}
	shape := n.Plan.Shape()
	for k := range shape.Nodes {
		places[n.NodeName(k)] = p.Volts(k)
	}
	for i, chain := range shape.Chains {
		plus, minus := make([]float64, chain.Loads), make([]float64, chain.Loads)
		p.Rails(i, plus, minus)
		for k := range chain.Loads {
			places[n.PixelName(i, k)+" plus"], places[n.PixelName(i, k)+" return"] = plus[k], minus[k]
		}
	}
	return &trail{c.what, c.apart, places}
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
	f.note("values", status.Followed)
	return trailOf(c, from, p)
}

// note counts a point by what it was: followed, or solved in full after all.
func (f *proof) note(what string, followed bool) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if followed {
		f.followed[what]++
	} else {
		f.full[what]++
	}
}

// resolved is the case of the changed scheme as the network itself finds it from the solution of the first: as an outage of that, or
// as an edit of it.
func resolved(t *testing.T, f *proof, c change, from *network.Network, s *network.Solution, to *network.Network, slice, slicesOf int) *trail {
	t.Helper()
	var after *network.Solution
	n, what := from, "an edit"
	if c.out != "" {
		what = "an outage"
		after = from.SolveFrom(context.Background(), circuit.NewWorker(), s.Case.With(c.out), s)
	} else {
		n = layOut(t, to.Scheme)
		n.Adopt(from)
		after, _ = n.Resolve(context.Background(), circuit.NewWorker(), s.Case, from, s)
	}
	if after.Outcome != circuit.Converged {
		t.Errorf("%s, %s from the solution before: outcome %v", c.what, s.Case.Name, after.Outcome)
	}
	if after.Slices() != slicesOf {
		t.Fatalf("%s, %s from the solution before: %d slices, want %d", c.what, s.Case.Name, after.Slices(), slicesOf)
	}
	f.note(what, after.Followed)
	return trailOf(c, n, after.Point(slice))
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
		if a.p.Live(k) && !floats[k] && n.NodeName(k) != w.apart {
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
	from := n.Solve(context.Background(), circuit.NewWorker(), c)
	if from.Outcome == circuit.NotFound && stillAll(n, from) {
		return
	}
	how := randomChange(r, items)
	to := layOut(t, readScheme(t, how.what, []byte(schemetest.Text(how.items, schemetest.AsWritten))))
	end := solved(t, to, c)
	slice := 0
	if end.Slices() == from.Slices() {
		slice = r.Intn(end.Slices())
	}
	b.add(t, to, end, slice, follow(t, b.proof, how, n, from, to, end, slice), resolved(t, b.proof, how, n, from, to, slice, end.Slices()))
}
