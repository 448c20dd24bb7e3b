package split_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"
	"time"

	"farend/split"
)

// wire is a frame on a single wire: 24 bits of 1.25 µs a pixel, and 280 µs of rest.
func wire(_ string, pixels int) float64 { return float64(pixels)*24*1.25e-6 + 280e-6 }

func tape(pixels, every int, cut ...int) split.Run { return split.Run{"a", pixels, every, cut} }

// free is a problem in which every lead is one metre long.
func free(aim float64, ports int, runs ...split.Run) split.Problem {
	return split.Problem{
		Runs: runs, Ports: ports, Frame: wire, Aim: aim,
		Entry: func(int, split.Part) float64 { return 1 },
		Chain: func(_, _ split.Part) float64 { return 1 },
	}
}

// 1000 pixels of 24 bits are good for about 30 frames a second, 500 for about 60 (common practice, no source): by the sheet 1000 · 24 · 1.25 µs +
// 280 µs = 30.28 ms, 33.0 Hz, and 500 · 24 · 1.25 µs + 280 µs = 15.28 ms, 65.4 Hz.
func TestAThousandPixelsOverTwoPorts(t *testing.T) {
	for _, c := range []struct {
		name string
		p    split.Problem
		want [][]split.Part
		ms   float64
	}{
		{"two runs on one port", free(0, 1, tape(500, 1), tape(500, 1)), [][]split.Part{{{0, 0, 500}, {1, 0, 500}}}, 30.28},
		{"two runs on two", free(0, 2, tape(500, 1), tape(500, 1)), [][]split.Part{{{0, 0, 500}}, {{1, 0, 500}}}, 15.28},
		{"one run may not be cut where nothing is asked for", free(0, 2, tape(1000, 1)), [][]split.Part{{{0, 0, 1000}}, nil}, 30.28},
		{"one run is not cut where it is fast enough", free(1.0/30, 2, tape(1000, 1)), [][]split.Part{{{0, 0, 1000}}, nil}, 30.28},
		{"one run is cut in the middle", free(1.0/60, 2, tape(1000, 1)), [][]split.Part{{{0, 0, 500}}, {{0, 500, 1000}}}, 15.28},
		{"at a mark", free(1.0/60, 2, tape(1000, 40)), [][]split.Part{{{0, 0, 480}}, {{0, 480, 1000}}}, 15.88},
		{"and only once, though there are ports", free(1.0/60, 5, tape(1000, 1)), [][]split.Part{{{0, 0, 500}}, {{0, 500, 1000}}, nil, nil, nil}, 15.28},
		{"as near as can be where the aim is too high", free(1.0/90, 2, tape(1000, 1)), [][]split.Part{{{0, 0, 500}}, {{0, 500, 1000}}}, 15.28},
		{"where it is cut in part already, if that is no slower", free(1.0/36, 3, tape(900, 1), tape(1000, 1, 50, 333, 400, 640, 950)), [][]split.Part{{{0, 0, 900}}, {{1, 0, 400}}, {{1, 400, 1000}}}, 27.28},
		{"and not where that is slower", free(1.0/36, 2, tape(1000, 1, 400)), [][]split.Part{{{0, 0, 500}}, {{0, 500, 1000}}}, 15.28},
		{"of two runs one", free(1.0/60, 2, tape(700, 1), tape(300, 1)), [][]split.Part{{{0, 0, 500}}, {{0, 500, 700}, {1, 0, 300}}}, 15.28},
	} {
		d, ok := split.Divide(c.p)
		if !ok || !d.Proven || math.Abs(d.Frame*1e3-c.ms) > 1e-9 {
			t.Errorf("%s: %v, %v", c.name, d, ok)
		}
		if got := fmt.Sprint(sorted(d.Ports)); got != fmt.Sprint(sorted(c.want)) {
			t.Errorf("%s: it is %s, want %v", c.name, got, c.want)
		}
	}
}

// sorted is a division with its ports in the order of what they send to: where all leads are alike, any order is as good.
func sorted(ports [][]split.Part) (list []string) {
	for _, parts := range ports {
		ordered := slices.Clone(parts)
		slices.SortFunc(ordered, func(a, b split.Part) int { return a.Run - b.Run })
		list = append(list, fmt.Sprint(ordered))
	}
	slices.Sort(list)
	return list
}

// random is a small problem with leads of whole decimetres, some of which cannot be, and a division that is there now.
func random(r *rand.Rand, runs, ports, kinds int, forbidden bool) split.Problem {
	p := split.Problem{Ports: ports, Now: make([][]int, ports)}
	entry, chain := make([][]float64, ports), make([][]float64, runs)
	some := func() float64 {
		if forbidden && r.Intn(6) == 0 {
			return math.Inf(1)
		}
		return float64(r.Intn(60)) / 10
	}
	for i := range runs {
		p.Runs = append(p.Runs, split.Run{Kind: string(rune('a' + r.Intn(kinds))), Pixels: 1 + r.Intn(30), CutEvery: 1})
		for range runs {
			chain[i] = append(chain[i], some())
		}
	}
	for q := range ports {
		for range runs {
			entry[q] = append(entry[q], some())
		}
	}
	for _, i := range r.Perm(runs) {
		for range 20 {
			q := r.Intn(ports)
			if list := p.Now[q]; len(list) == 0 && !math.IsInf(entry[q][i], 1) || len(list) > 0 && p.Runs[list[0]].Kind == p.Runs[i].Kind && !math.IsInf(chain[list[len(list)-1]][i], 1) {
				p.Now[q] = append(list, i)
				break
			}
		}
	}
	p.Frame = func(kind string, pixels int) float64 { return float64(pixels)*float64(1+kind[0]-'a') + 2 }
	p.Entry = func(port int, to split.Part) float64 { return entry[port][to.Run] + float64(to.From)/10 }
	p.Chain = func(from, to split.Part) float64 {
		return chain[from.Run][to.Run] + float64(p.Runs[from.Run].Pixels-from.To)/10 + float64(to.From)/10
	}
	return p
}

// A sum is what a division comes to.
type sum struct {
	frame   float64
	metres  float64
	changes int
}

func (a sum) less(b sum) bool {
	if a.frame != b.frame {
		return a.frame < b.frame
	}
	if math.Abs(a.metres-b.metres) > 1e-6 {
		return a.metres < b.metres
	}
	return a.changes < b.changes
}

// of is what parts on ports come to, counted anew.
func of(p split.Problem, ports [][]split.Part) sum {
	var s sum
	for port, list := range ports {
		pixels := 0
		for i, part := range list {
			pixels += part.To - part.From
			now := slices.Concat(p.Now...)
			var before, was *int
			if len(now) > 0 {
				for q, runs := range p.Now {
					for k, r := range runs {
						if r == part.Run && k > 0 {
							before = &runs[k-1]
						} else if r == part.Run {
							was = &q
						}
					}
				}
			}
			if i == 0 {
				s.metres += p.Entry(port, part)
				if part.From > 0 || was == nil || *was != port {
					s.changes++
				}
				continue
			}
			last := list[i-1]
			if p.Runs[last.Run].Kind != p.Runs[part.Run].Kind {
				s.frame = math.Inf(1)
			}
			s.metres += p.Chain(last, part)
			if part.From > 0 || last.To < p.Runs[last.Run].Pixels || before == nil || *before != last.Run {
				s.changes++
			}
		}
		if len(list) > 0 {
			s.frame = max(s.frame, p.Frame(p.Runs[list[0].Run].Kind, pixels))
		}
	}
	return s
}

// tried is the best of all divisions of whole runs: every run at every place of every port.
func tried(p split.Problem) (best sum, some bool) {
	ports := make([][]split.Part, p.Ports)
	var put func(r int)
	put = func(r int) {
		if r == len(p.Runs) {
			if s := of(p, ports); !math.IsInf(s.frame, 1) && !math.IsInf(s.metres, 1) && (!some || s.less(best)) {
				best, some = s, true
			}
			return
		}
		for q := range ports {
			was := ports[q]
			for at := 0; at <= len(was); at++ {
				ports[q] = slices.Insert(slices.Clone(was), at, split.Part{r, 0, p.Runs[r].Pixels})
				put(r + 1)
			}
			ports[q] = was
		}
	}
	put(0)
	return best, some
}

func TestWholeRunsAreDividedAsATrialOfAllDivisionsSays(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	none := 0
	for i := range 600 {
		p := random(r, 1+r.Intn(5), 1+r.Intn(4), 1+r.Intn(2), i%2 == 0)
		d, ok := split.Divide(p)
		want, some := tried(p)
		if ok != some {
			t.Fatalf("case %d: a division is found: %v; there is one: %v", i, ok, some)
		}
		if !some {
			none++
			continue
		}
		got := of(p, d.Ports)
		if d.Frame != want.frame || math.Abs(d.Metres-want.metres) > 1e-6 || d.Changes != want.changes || !d.Proven {
			t.Errorf("case %d: it is %v, want %v", i, d, want)
		}
		if got.frame != d.Frame || math.Abs(got.metres-d.Metres) > 1e-6 || got.changes != d.Changes {
			t.Errorf("case %d: it says %v, and is %v", i, d, got)
		}
		every(t, p, d)
	}
	if none == 0 || none > 300 {
		t.Errorf("%d cases have no division", none)
	}
}

// every holds a division to have each pixel of each run once, cut at marks.
func every(t *testing.T, p split.Problem, d split.Division) {
	t.Helper()
	parts := slices.Concat(d.Ports...)
	slices.SortFunc(parts, func(a, b split.Part) int {
		if a.Run != b.Run {
			return a.Run - b.Run
		}
		return a.From - b.From
	})
	at, cuts := make([]int, len(p.Runs)), 0
	met := make([]bool, len(p.Runs))
	for _, part := range parts {
		if part.From != at[part.Run] || part.To < part.From || part.From > 0 && part.From%p.Runs[part.Run].CutEvery != 0 {
			t.Errorf("%v has a piece that begins where none ends, or at no mark", d)
		}
		if met[part.Run] {
			cuts++
		}
		at[part.Run], met[part.Run] = part.To, true
	}
	for r, run := range p.Runs {
		if at[r] != max(run.Pixels, 0) || !met[r] {
			t.Errorf("%v sends to %d pixels of run %d, which has %d", d, at[r], r, run.Pixels)
		}
	}
	if cuts != d.Cuts {
		t.Errorf("%v has %d cuts, and says %d", d, cuts, d.Cuts)
	}
}

// cutTrials is, by the number of cuts, the shortest longest frame of all ways to cut some runs at marks, and to give the pieces to ports.
func cutTrials(p split.Problem) map[int]float64 {
	best := map[int]float64{}
	load, kind := make([]int, p.Ports), make([]string, p.Ports)
	var piece func(r, from, cuts int)
	piece = func(r, from, cuts int) {
		if r == len(p.Runs) {
			longest := 0.0
			for q := range load {
				if kind[q] != "" {
					longest = max(longest, p.Frame(kind[q], load[q]))
				}
			}
			if was, met := best[cuts]; !met || longest < was {
				best[cuts] = longest
			}
			return
		}
		run := p.Runs[r]
		for to := from + run.CutEvery; to <= run.Pixels; to += run.CutEvery {
			for q := range load {
				if kind[q] != "" && kind[q] != run.Kind {
					continue
				}
				was := kind[q]
				kind[q], load[q] = run.Kind, load[q]+to-from
				if to == run.Pixels {
					piece(r+1, 0, cuts)
				} else if cuts < 4 {
					piece(r, to, cuts+1)
				}
				kind[q], load[q] = was, load[q]-(to-from)
			}
		}
	}
	piece(0, 0, 0)
	return best
}

func TestRunsAreCutAsATrialOfAllCutsSays(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	cut, missed := 0, 0
	for i := range 400 {
		p := random(r, 1+r.Intn(3), 1+r.Intn(3), 1+r.Intn(2), false)
		marks := map[string]int{"a": 1 + r.Intn(3), "b": 1 + r.Intn(3)}
		total := 0.0
		for k, run := range p.Runs {
			p.Runs[k].CutEvery = marks[run.Kind]
			p.Runs[k].Pixels = marks[run.Kind] * (1 + r.Intn(5))
			p.Runs[k].Cut = []int{r.Intn(16), marks[run.Kind] * r.Intn(6)}
			total += p.Frame(run.Kind, p.Runs[k].Pixels)
		}
		p.Aim = total * (0.2 + 0.6*r.Float64())
		d, ok := split.Divide(p)
		trials := cutTrials(p)
		if !ok {
			if len(trials) > 0 {
				t.Errorf("case %d: there is a division", i)
			}
			continue
		}
		every(t, p, d)
		want, meets := -1, false // the fewest cuts that meet the aim, or the fewest of those that come nearest
		for cuts := range 5 {
			frame, some := trials[cuts]
			if some && frame <= p.Aim {
				want, meets = cuts, true
				break
			}
			if some && (want < 0 || frame < trials[want]) {
				want = cuts
			}
		}
		if d.Meets != meets || d.Cuts != want || d.Frame != trials[want] || !d.Proven {
			t.Errorf("case %d: %+v meets %v: %v has %d cuts, want %d; frame %v, want %v; meets %v", i, p.Runs, p.Aim, d.Ports, d.Cuts, want, d.Frame, trials[want], meets)
		}
		if d.Cuts > 0 {
			cut++
		}
		if !meets {
			missed++
		}
	}
	if cut < 100 || missed < 50 {
		t.Errorf("%d cases are cut, %d miss", cut, missed)
	}
}

// longest is the longest frame of the division that is there now.
func longest(p split.Problem) (frame float64, known bool) {
	count := 0
	ports := make([][]split.Part, p.Ports)
	for q, list := range p.Now {
		for _, r := range list {
			ports[q] = append(ports[q], split.Part{r, 0, p.Runs[r].Pixels})
			count++
		}
	}
	return of(p, ports).frame, count == len(p.Runs)
}

func TestNoFrameGetsLonger(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	asked, better := 0, 0
	for i := range 300 {
		p := random(r, 1+r.Intn(40), 1+r.Intn(10), 1+r.Intn(3), i%3 == 0)
		if i%2 == 0 {
			p.Aim = 20 + 100*r.Float64()
			for k := range p.Runs {
				p.Runs[k].CutEvery = r.Intn(4)
			}
		}
		was, known := longest(p)
		if !known {
			continue
		}
		asked++
		d, ok := split.Divide(p)
		if !ok || d.Frame > was {
			t.Errorf("case %d: it is %v (%v), and was %v", i, d.Frame, ok, was)
			continue
		}
		every(t, p, d)
		if got := of(p, d.Ports); got.frame != d.Frame || math.Abs(got.metres-d.Metres) > 1e-6 {
			t.Errorf("case %d: it says %v and %v m, and is %v", i, d.Frame, d.Metres, got)
		}
		if d.Frame < was {
			better++
		}
	}
	if asked < 150 || better < 100 {
		t.Errorf("%d cases were there, %d of them better", asked, better)
	}
}

func TestTheSearchComesNearTheBest(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	worst := 1.0
	for range 60 {
		p := random(r, 20, 4, 1, false)
		d, ok := split.Divide(p)
		total, largest := 0, 0
		for _, run := range p.Runs {
			total, largest = total+run.Pixels, max(largest, run.Pixels)
		}
		least := p.Frame("a", max((total+3)/4, largest)) // no division is shorter
		if !ok || d.Proven {
			t.Fatal("20 runs are proven")
		}
		worst = max(worst, d.Frame/least)
	}
	if worst > 1.02 {
		t.Errorf("the longest frame is %.3f of what the pixels ask for", worst)
	}
}

func TestOddInputHasAnAnswer(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	odd := []float64{math.Inf(1), math.Inf(-1), math.NaN(), -3, 0, 1e300, 2}
	pick := func() float64 { return odd[r.Intn(len(odd))] }
	for range 3000 {
		runs, ports := r.Intn(7), r.Intn(5)-1
		p := split.Problem{Ports: ports, Aim: pick()}
		for range runs {
			p.Runs = append(p.Runs, split.Run{Kind: string(rune('a' + r.Intn(3))), Pixels: []int{0, 0, -1, 5, 1000, math.MaxInt}[r.Intn(6)], CutEvery: r.Intn(5) - 1})
		}
		for range r.Intn(6) {
			p.Now = append(p.Now, []int{r.Intn(9) - 1})
		}
		seed := r.Int63()
		at := func(i int) float64 { return odd[rand.New(rand.NewSource(seed+int64(i))).Intn(len(odd))] }
		p.Frame = func(kind string, pixels int) float64 { return at(int(kind[0])) + float64(pixels) }
		p.Entry = func(port int, to split.Part) float64 { return at(100*port + to.Run) }
		p.Chain = func(from, to split.Part) float64 { return at(1000*from.Run + to.Run) }
		d, ok := split.Divide(p)
		if runs == 0 && !ok {
			t.Error("nothing is easily divided")
		}
		if ok && runs > 0 && (ports < 1 || math.IsInf(d.Frame, 1) || math.IsNaN(d.Frame)) {
			t.Errorf("%+v is divided as %v", p, d)
		}
	}
}

// The search has a budget: hundredths of a second for what people build, tenths for what they do not. The bounds are wide, for a machine that is busy.
func TestTheSearchTakesLittleTime(t *testing.T) {
	r := rand.New(rand.NewSource(6))
	for _, c := range []struct {
		runs, ports int
		most        time.Duration
	}{{8, 8, 2 * time.Second}, {12, 8, 5 * time.Second}, {14, 4, 5 * time.Second}, {200, 32, 10 * time.Second}} {
		p := random(r, c.runs, c.ports, 1, false)
		p.Aim = 1
		begin := time.Now()
		split.Divide(p)
		took := time.Since(begin)
		t.Logf("%d runs on %d ports: %v", c.runs, c.ports, took)
		if took > c.most {
			t.Errorf("%d runs on %d ports take %v", c.runs, c.ports, took)
		}
	}
}

func BenchmarkDivide(b *testing.B) {
	for _, c := range []struct{ runs, ports int }{{4, 4}, {8, 8}, {12, 8}, {200, 32}} {
		for _, cut := range []bool{false, true} {
			b.Run(fmt.Sprintf("%d-runs-%d-ports-cut-%v", c.runs, c.ports, cut), func(b *testing.B) {
				p := random(rand.New(rand.NewSource(7)), c.runs, c.ports, 1, false)
				if cut {
					total := 0
					for _, run := range p.Runs {
						total += run.Pixels
					}
					p.Aim = 1.05 * p.Frame("a", total/c.ports)
				}
				for b.Loop() {
					split.Divide(p)
				}
			})
		}
	}
}
