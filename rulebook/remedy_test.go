package rulebook_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
)

// everyScheme lists the schemes of all rooms, and the examples.
func everyScheme(t *testing.T) []string {
	t.Helper()
	paths := schemetest.Paths(t, "../examples/*.scheme.yaml")
	for _, room := range append(rulebook.Rooms(), rulebook.Room{Name: "remedy"}) {
		paths = append(paths, schemetest.Paths(t, "../"+room.Name+"/testdata/*.scheme.yaml")...)
	}
	return paths
}

// without lists the rules that propose no edit, or none here, and why.
func without() map[string]string {
	return map[string]string{
		"survey/run":                     "whether the tape or its line is wrong only people know",
		"protection/not-chosen":          "which part is meant only people know",
		"protection/loose-cable":         "what the cable was meant to feed only people know",
		"protection/operating-point":     "it is a fault of ours, or numbers of no world",
		"light/typical-tape":             "the remedy is to measure",
		"protection/nuisance":            "a slower fuse, less capacitance or another supply: which is meant only people know",
		"signal/levels-at-cuts":          "what the piece before a cut lacks is voltage: feeds, of which other rules ask",
		"signal/refresh":                 "whether it is filmed only people know",
		"signal/no-data":                 "where its data comes from only people know",
		"signal/lead-ground":             "it may be open on purpose, and which of the two is meant only people know",
		"signal/waking":                  "whether that matters only people know",
		"signal/reach":                   "where a buffer or a nearer port could be only people know",
		"protection/touch-voltage":       "another voltage is another installation: tape, supplies and boards",
		"protection/limited-power":       "it says what a supply is; nothing is to be mended",
		"protection/protective-measures": "they are questions to an electrician",
		"protection/faults":              "the remedy is to have them followed",
		"protection/silent-power":        "it is not sought here; TestSilentPowerIsLessWithItsEdits tries its edits",
		"protection/bridged-volts":       "how far runs of unlike voltage can be kept apart only people know",
		"protection/beside-mains":        "another way for it only people know, and the mains is an electrician's",
		"protection/weather":             "what a thing is made for its sheet says",
		"protection/back-feed":           "it says what to draw before work; nothing is to be mended",
	}
}

// stuck lists, by scheme and finding, or by scheme alone, what has no edit though its rule proposes some elsewhere, and why. Of what is
// unknown the remedy is to choose a part or to read its sheet: that is not listed.
func stuck() map[string]string {
	return map[string]string{
		"examples/library-atrium-altered protection/supply-load:T1": "no supply of the catalogue gives more at 24.5 V",
		"signal/unlike":                                            "its board has fewer ports than there are protocols",
		"signal/lacking signal/frame-rate:A1.P1":                   "its board has one port",
		"protection/bundle protection/cable-current:W3":            "its cable is the scheme's own, and has one size",
		"protection/cap-failed":                                    "no junction of the catalogue takes cores as thick as W1 needs",
		"protection/limits":                                        "the catalogue has no supplies of 10 V",
		"protection/no-world":                                      "numbers of no world",
		"protection/parallel protection/parallel-supplies:T7":      "which of the two stays only people know",
		"protection/parallel protection/parallel-supplies:T8":      "which of the two stays only people know",
		"protection/ended protection/rail-current:E6":              "a fuse ends it in time; one more feed is one more fuse that has to",
		"board/connectors protection/smallest-conductor:W3":        "its cable is the scheme's own, and has one size",
		"board/connectors protection/voltage-drop:W2":              "its connector takes no thicker cores, and more is lost elsewhere",
		"board/contacts protection/source-fuse:W0":                 "no holder of the catalogue carries its 50 A",
		"protection/nothing light/unfed-run:E1":                    "there is no supply yet",
		"board/ended protection/cable-current:W11":                 "no cable of the catalogue is thicker",
		"board/ended protection/source-fuse:W11":                   "no fuse of the catalogue carries its load",
		"board/sound protection/voltage-drop:W3":                   "the splice takes no thicker cores, and more is lost in fuse and board",
		"board/sound protection/voltage-drop:W4":                   "the splice takes no thicker cores, and more is lost in fuse and board",
		"remedy/splice protection/voltage-drop:W2":                 "no splice takes thicker cores",
		"remedy/splice protection/voltage-drop:W3":                 "no splice takes thicker cores",
		"remedy/stronger protection/voltage-drop:W3":               "it is lost in contacts and fuses",
		"remedy/stronger protection/voltage-drop:W4":               "it is lost in contacts and fuses",
		"board/contacts protection/supply-load:T1":                 "the catalogue has no larger supply of 5 V",
		"board/ended board/inlet-current:A2":                       "the board is the scheme's own",
		"board/ended board/way-current:A1.1":                       "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/way-current:A1.2":                       "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/way-current:A1.3":                       "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/way-current:A1.4":                       "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/junction-current:X1":                    "no junction of the catalogue carries that on three cores",
		"board/ended board/connector-current:W0":                   "its fuse ends what the inlet of A2 carries, and stronger holders hold larger fuses",
		"board/junctions protection/voltage-drop:W2":               "no splice takes thicker cores",
		"board/junctions protection/voltage-drop:W3":               "no splice takes thicker cores",
		"board/junctions protection/voltage-drop:W9":               "no splice takes thicker cores",
		"board/junctions board/junction-current:X1":                "no junction of the catalogue carries that on three cores",
		"board/boxed light/unfed-run:E1":                           "there is no board yet",
		"board/wet board/enclosure-degree:B8":                      "where it is dry only people know",
		"board/wet board/enclosure-degree:B9":                      "no box of the catalogue is made to be under water",
		"board/junctions board/junction-fit:X1":                    "no junction of the catalogue takes three cores of 6 mm²",
		"examples/library-atrium-altered protection/short-heat:E3": "no inline fuse of the catalogue is as small as its rails ask for, and no way of A2 is free",
		"board/contactors protection/short-heat:E2":                "one more feed, along 40 m of run, loses a quarter of 5 V",
		"board/ended protection/short-heat:W11":                    "no fuse of the catalogue carries its load",
		"board/junctions protection/short-heat:X1":                 "no junction of the catalogue carries what 25 A let through on three cores",
		"protection/fuses protection/inline-fuse-load:W1":          "the next fuse would take half an hour for a short at the end of W1",
		"protection/parallel protection/short-heat:W7":             "two supplies meet whose part forbids it, and which of them stays only people know",
		"protection/parallel protection/short-heat:W8":             "two supplies meet whose part forbids it, and which of them stays only people know",
		"protection/parallel protection/short-heat:X1":             "two supplies meet whose part forbids it, and which of them stays only people know",
		"protection/touch protection/far-short:W1":                 "T1 gives 4.4 A at most, and no smaller fuse breaks 48 V",
		"protection/warm protection/far-short:A1.1":                "T1 gives 12 A at most, less than twice what the warm fuse is rated for, and no smaller one carries 5 A",
		"protection/warm protection/far-short:W2":                  "T2 gives 12 A at most, less than twice the rating of the fuse, and no smaller one carries 5 A",
		"signal/buffers signal/buffer:D7":                          "no pixel reaches so far without it, and whence it or the run gets another supply or port only people know",
		"remedy/splice protection/short-heat:X1":                   "its load asks for a fuse of 25 A, and no junction of the catalogue carries 25 A on three cores",
	}
}

// applications is how often the edits of one finding may be made until it is gone: one more feed may not be enough.
const applications = 6

// allRemedies asks for the edits of every finding of large schemes.
var allRemedies = flag.Bool("all-remedies", false, "try the edits of every finding of large schemes, too")

// large is how many pixels a scheme has of which only a sample is tried.
const large = 2000

// ofFaults are the rules whose remedies a large scheme asks the most of.
var ofFaults = []string{"protection/short-heat", "protection/far-short"}

// Every finding that has edits is mended by them: made, and solved again with all faults followed, it is gone, or it is better and so on
// until it is gone; and nothing else becomes as bad as it was. Worse findings are mended first, where it matters, as people would. What has no
// edits says why not, here. Of a large scheme only those of the worst finding of each rule about faults are tried, where not all are asked for:
//
//	go test ./rulebook -run EveryRemedy -timeout 60m -all-remedies
func TestEveryRemedyIsAnEditThatMends(t *testing.T) {
	proposed, needed := map[string]bool{}, map[string]bool{}
	var lock sync.Mutex
	t.Run("of", func(t *testing.T) {
		for _, path := range everyScheme(t) {
			t.Run(schemeName(path), func(t *testing.T) {
				t.Parallel()
				b := newBench(t, path)
				b.tryAll(t)
				lock.Lock()
				defer lock.Unlock()
				for _, f := range b.start.found {
					proposed[f.Rule] = proposed[f.Rule] || f.Edits != nil
				}
				maps.Copy(needed, b.needed)
			})
		}
	})
	for _, r := range rulebook.All() {
		if _, never := without()[r.Name]; never == proposed[r.Name] {
			t.Errorf("%s proposes edits: %v; said is %v", r.Name, proposed[r.Name], !never)
		}
	}
	for key := range stuck() {
		if !needed[key] {
			t.Errorf("%s is not stuck", key)
		}
	}
}

// schemeName is a scheme by room and name: protection/warm.
func schemeName(path string) string {
	return strings.TrimSuffix(strings.TrimPrefix(strings.Replace(filepath.ToSlash(path), "/testdata/", "/", 1), "../"), ".scheme.yaml")
}

// A bench is where the edits of one scheme are tried. What some text comes to is worked out once.
type bench struct {
	name  string
	start outcome
	lock  sync.Mutex
	known map[string]*sync.Once
	is    map[string]*outcome
	level map[finding.Grade]func() (outcome, int)

	needed map[string]bool // what no edit clears
}

// An outcome is a text with its study and findings.
type outcome struct {
	study *study.Study
	text  []byte
	found []finding.Finding
	wrong finding.Mistakes // of edits that cannot be made
}

// newBench studies a scheme with its faults, however long that takes.
func newBench(t *testing.T, path string) *bench {
	t.Helper()
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	sch, mistakes := scheme.Read(path, source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch, &study.Options{Striking: study.Always, Mending: true})
	if err != nil {
		t.Fatal(err)
	}
	b := &bench{name: schemeName(path), known: map[string]*sync.Once{}, is: map[string]*outcome{}, level: map[finding.Grade]func() (outcome, int){}, needed: map[string]bool{}}
	b.start = outcome{study: s, text: source, found: s.Findings(s.Assess(rulebook.All()))}
	for grade := finding.Pass; grade <= finding.Danger; grade++ {
		b.level[grade] = sync.OnceValues(func() (outcome, int) { return b.mended(t, grade) })
	}
	return b
}

// large reports whether only a sample of the scheme is tried.
func (b *bench) large() bool {
	pixels := 0
	for _, r := range b.start.study.Scheme.Runs {
		pixels += r.Count
	}
	return pixels > large && !*allRemedies
}

// tryAll makes the edits of every finding, or of a sample, two at a time, and asks of each that has none why not.
func (b *bench) tryAll(t *testing.T) {
	t.Helper()
	var wait sync.WaitGroup
	room := make(chan bool, 2)
	tried := map[string]bool{}
	for _, f := range b.start.found {
		if f.Edits != nil && b.large() && (tried[f.Rule] || !slices.Contains(ofFaults, f.Rule)) {
			b.skip(f)
			continue
		}
		tried[f.Rule] = true
		if f.Edits != nil {
			room <- true
			wait.Go(func() {
				defer func() { <-room }()
				if why := b.mends(t, b.start, f); why != "" {
					b.mendsAfterWorse(t, f, why)
				}
			})
			continue
		}
		if said := b.said(f); f.Grade > finding.Note && f.Grade != finding.Unknown && !said {
			t.Errorf("%s has no edit: %s", f.ID, f.Text)
		}
	}
	wait.Wait()
}

// skip notes that it is not known whether edits clear a finding.
func (b *bench) skip(f finding.Finding) {
	b.lock.Lock()
	defer b.lock.Unlock()
	b.needed[b.name+" "+f.ID] = true
}

// said reports whether it is said why no edit clears a finding.
func (b *bench) said(f finding.Finding) bool {
	b.lock.Lock()
	defer b.lock.Unlock()
	b.needed[b.name], b.needed[b.name+" "+f.ID] = true, true
	_, never := without()[f.Rule]
	return never || stuck()[b.name] != "" || stuck()[b.name+" "+f.ID] != ""
}

// mendsAfterWorse makes the edits of a finding where the edits of all worse ones are made already. Mended with them it is mended.
func (b *bench) mendsAfterWorse(t *testing.T, f finding.Finding, why string) {
	t.Helper()
	now, steps := b.level[f.Grade]()
	i := slices.IndexFunc(now.found, func(g finding.Finding) bool { return g.ID == f.ID })
	if steps == 0 {
		t.Error(why)
	} else if i >= 0 && now.found[i].Grade > finding.Note {
		if again := b.mends(t, now, now.found[i]); again != "" {
			t.Errorf("%s; and after what is worse was mended: %s", why, again)
		}
	}
}

// mended is the scheme with all mended that is worse than a grade, and by how many steps.
func (b *bench) mended(t *testing.T, grade finding.Grade) (outcome, int) {
	m, err := remedy.Mend(t.Context(), b.start.study, b.start.text, above(grade), func(int) {})
	if err != nil {
		t.Error(err)
		return b.start, 0
	}
	return outcome{study: m.Study, text: m.Text, found: m.Study.Findings(m.Study.Assess(rulebook.All()))}, len(m.Steps)
}

// edited is what edits make of a scheme.
func (b *bench) edited(t *testing.T, s outcome, edits []finding.Edit) outcome {
	key := fmt.Sprint(edits, string(s.text))
	b.lock.Lock()
	once, is := b.known[key]
	if !is {
		once = &sync.Once{}
		b.known[key] = once
	}
	b.lock.Unlock()
	once.Do(func() {
		got, err := s.study.Edit(t.Context(), s.text, edits)
		now := outcome{study: got.Study, text: got.Text, wrong: got.Mistakes}
		switch {
		case err != nil:
			t.Error(err)
		case got.Study != nil:
			now.found = got.Study.Findings(got.Study.Assess(rulebook.All()))
		}
		b.lock.Lock()
		b.is[key] = &now
		b.lock.Unlock()
	})
	b.lock.Lock()
	defer b.lock.Unlock()
	return *b.is[key]
}

// above are the rules as they would be if nothing but what is worse than a grade were found.
func above(grade finding.Grade) []study.Rule {
	rules := rulebook.All()
	for i, r := range rules {
		rules[i].Judge = func(s *study.Study, id string) []study.Assessment {
			var found []study.Assessment
			for _, a := range r.Judge(s, id) {
				if a.Grade <= grade {
					a.Grade = finding.Pass
				}
				found = append(found, a)
			}
			return found
		}
	}
	return rules
}

// mends makes the edits of a finding until it is gone, or says why it is not.
func (b *bench) mends(t *testing.T, s outcome, f finding.Finding) string {
	t.Helper()
	var made []string
	for range applications {
		now := b.edited(t, s, f.Edits)
		made = append(made, fmt.Sprint(f.Edits))
		if now.study == nil {
			return fmt.Sprintf("%s: %s cannot be made: %v", f.ID, made, now.wrong)
		}
		if now.study.Struck() == nil {
			return fmt.Sprintf("%s: no faults were followed after %s", f.ID, made)
		}
		if worse := worseThan(s.study, now.study, s.found, now.found, f.Grade); worse != nil {
			return fmt.Sprintf("%s: %s brings %s", f.ID, made, worse)
		}
		i := slices.IndexFunc(now.found, func(g finding.Finding) bool { return g.ID == f.ID })
		switch {
		case i < 0 || now.found[i].Grade <= min(finding.Note, f.Grade-1):
			return ""
		case !better(f, now.found[i]):
			return fmt.Sprintf("%s: %s does not make it better: %s", f.ID, made, now.found[i].Text)
		case now.found[i].Edits == nil && b.said(f): // better, and why no more can be done is said
			return ""
		case now.found[i].Edits == nil:
			return fmt.Sprintf("%s: after %s it has no more edits: %s", f.ID, made, now.found[i].Text)
		}
		s, f = now, now.found[i]
	}
	return fmt.Sprintf("%s: %s does not clear it: %s", f.ID, made, f.Text)
}

// better reports whether a finding is better than it was.
func better(was, is finding.Finding) bool {
	if is.Grade != was.Grade {
		return is.Grade < was.Grade
	}
	if is.Unit != was.Unit { // what ends within some time is better than a current that lasts, and their margins do not compare
		return was.Unit == "A" && is.Unit == "1"
	}
	return was.Margin != nil && is.Margin != nil && *is.Margin > *was.Margin
}

// worseThan lists the findings of at least a grade that were less bad before. A run that nothing fed was as bad as can be; a new feed may
// be as bad as the feeds beside it.
func worseThan(s, now *study.Study, before, after []finding.Finding, grade finding.Grade) (list []string) {
	was := map[string]finding.Grade{}
	for _, f := range before {
		was[f.ID] = f.Grade
	}
	for _, f := range after {
		unfed := slices.ContainsFunc(s.Network.Feeds(f.Subject), func(at network.Feed) bool { return !at.Closed() })
		for id, c := range s.Scheme.Cables {
			if _, old := s.Scheme.Cables[f.Subject]; !old && c.To.Kind == scheme.StationRef && c.To.Element == now.Scheme.Cables[f.Subject].To.Element {
				was[f.ID] = max(was[f.ID], was[f.Rule+":"+id])
			}
		}
		idle := f.Grade == finding.Unknown && !f.Safety // proves nothing
		if f.Grade >= grade && f.Grade > was[f.ID] && !unfed && !idle {
			list = append(list, fmt.Sprintf("%s %s: %s", f.Grade, f.ID, f.Text))
		}
	}
	return list
}
