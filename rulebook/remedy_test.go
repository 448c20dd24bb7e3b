package rulebook_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/network"
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

// without lists the rules that propose no edit, and why.
func without() map[string]string {
	return map[string]string{
		"protection/not-chosen":          "which part is meant only people know",
		"protection/loose-cable":         "what the cable was meant to feed only people know",
		"protection/operating-point":     "it is a fault of ours, or numbers of no world",
		"light/typical-tape":             "the remedy is to measure",
		"protection/nuisance":            "a slower fuse, less capacitance or another supply: which is meant only people know",
		"signal/no-data":                 "where its data comes from only people know",
		"protection/touch-voltage":       "another voltage is another installation: tape, supplies and boards",
		"protection/limited-power":       "it says what a supply is; nothing is to be mended",
		"protection/protective-measures": "they are questions to an electrician",
		"protection/weather":             "what a thing is made for its sheet says",
	}
}

// stuck lists, by scheme and finding, or by scheme alone, what has no edit though its rule proposes some elsewhere, and why. Of what is
// unknown the remedy is to choose a part or to read its sheet: that is not listed.
func stuck() map[string]string {
	return map[string]string{
		"examples/library-atrium-altered protection/supply-load:T1": "no supply of the catalogue gives more at 24.5 V",
		"protection/bundle protection/cable-current:W3":             "its cable is the scheme's own, and has one size",
		"protection/cap-failed":                                     "no junction of the catalogue takes cores as thick as W1 needs",
		"protection/limits":                                         "the catalogue has no supplies of 10 V",
		"protection/no-world":                                       "numbers of no world",
		"protection/parallel protection/parallel-supplies:T7":       "which of the two stays only people know",
		"protection/parallel protection/parallel-supplies:T8":       "which of the two stays only people know",
		"protection/ended protection/rail-current:E6":               "a fuse ends it in time; one more feed is one more fuse that has to",
		"board/connectors protection/smallest-conductor:W3":         "its cable is the scheme's own, and has one size",
		"board/connectors protection/voltage-drop:W2":               "its connector takes no thicker cores, and more is lost elsewhere",
		"board/contacts protection/source-fuse:W0":                  "no holder of the catalogue carries its 50 A",
		"protection/nothing light/unfed-run:E1":                     "there is no supply yet",
		"board/ended protection/cable-current:W11":                  "no cable of the catalogue is thicker",
		"board/ended protection/source-fuse:W11":                    "no fuse of the catalogue carries its load",
		"board/sound protection/voltage-drop:W3":                    "the splice takes no thicker cores, and more is lost in fuse and board",
		"board/sound protection/voltage-drop:W4":                    "the splice takes no thicker cores, and more is lost in fuse and board",
		"remedy/splice protection/voltage-drop:W2":                  "no splice takes thicker cores",
		"remedy/splice protection/voltage-drop:W3":                  "no splice takes thicker cores",
		"remedy/stronger protection/voltage-drop:W3":                "it is lost in contacts and fuses",
		"remedy/stronger protection/voltage-drop:W4":                "it is lost in contacts and fuses",
		"board/contacts protection/supply-load:T1":                  "the catalogue has no larger supply of 5 V",
		"board/ended board/inlet-current:A2":                        "the board is the scheme's own",
		"board/ended board/way-current:A1.1":                        "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/way-current:A1.2":                        "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/way-current:A1.3":                        "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/way-current:A1.4":                        "the board is the scheme's own, and along rails that hardly drop a feed takes little off it",
		"board/ended board/junction-current:X1":                     "no junction of the catalogue carries that on three cores",
		"board/ended board/connector-current:W0":                    "its fuse ends what the inlet of A2 carries, and stronger holders hold larger fuses",
		"board/junctions protection/voltage-drop:W2":                "no splice takes thicker cores",
		"board/junctions protection/voltage-drop:W3":                "no splice takes thicker cores",
		"board/junctions protection/voltage-drop:W9":                "no splice takes thicker cores",
		"board/junctions board/junction-current:X1":                 "no junction of the catalogue carries that on three cores",
		"board/boxed light/unfed-run:E1":                            "there is no board yet",
		"board/wet board/enclosure-degree:B8":                       "where it is dry only people know",
		"board/wet board/enclosure-degree:B9":                       "no box of the catalogue is made to be under water",
		"board/junctions board/junction-fit:X1":                     "no junction of the catalogue takes three cores of 6 mm²",
	}
}

// applications is how often the edits of one finding may be made until it is gone: one more feed may not be enough.
const applications = 6

// Every finding that has edits is mended by them: made, and solved again, it is gone, or it is better and so on until it is gone;
// and nothing else becomes as bad as it was. Worse findings are mended first, where it matters, as people would. What has no edits
// says why not, here.
func TestEveryRemedyIsAnEditThatMends(t *testing.T) {
	proposed, needed := map[string]bool{}, map[string]bool{}
	for _, path := range everyScheme(t) {
		name := strings.TrimSuffix(strings.TrimPrefix(strings.Replace(filepath.ToSlash(path), "/testdata/", "/", 1), "../"), ".scheme.yaml")
		t.Run(name, func(t *testing.T) {
			source, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			s := schemetest.Study(t, path)
			found := s.Findings(s.Assess(rulebook.All()))
			for _, f := range found {
				proposed[f.Rule] = proposed[f.Rule] || f.Edits != nil
				if f.Grade <= finding.Note && f.Edits == nil {
					continue
				}
				if f.Edits != nil {
					if why := mends(t, s, source, found, f); why != "" {
						mendsAfterWorse(t, s, source, f, why)
					}
					continue
				}
				needed[name], needed[name+" "+f.ID] = true, true
				if _, never := without()[f.Rule]; !never && f.Grade != finding.Unknown && stuck()[name] == "" && stuck()[name+" "+f.ID] == "" {
					t.Errorf("%s has no edit: %s", f.ID, f.Text)
				}
			}
		})
	}
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

// mendsAfterWorse makes the edits of a finding where the edits of all worse ones are made already. Mended with them it is mended.
func mendsAfterWorse(t *testing.T, s *study.Study, source []byte, f finding.Finding, why string) {
	t.Helper()
	m, err := remedy.Mend(t.Context(), s, source, above(f.Grade), func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	found := m.Study.Findings(m.Study.Assess(rulebook.All()))
	i := slices.IndexFunc(found, func(g finding.Finding) bool { return g.ID == f.ID })
	if len(m.Steps) == 0 {
		t.Error(why)
	} else if i >= 0 && found[i].Grade > finding.Note {
		if again := mends(t, m.Study, m.Text, found, found[i]); again != "" {
			t.Errorf("%s; and after what is worse was mended: %s", why, again)
		}
	}
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
func mends(t *testing.T, s *study.Study, source []byte, before []finding.Finding, f finding.Finding) string {
	t.Helper()
	var made []string
	for range applications {
		got, err := s.Edit(t.Context(), source, f.Edits)
		if err != nil {
			t.Fatal(err)
		}
		made = append(made, fmt.Sprint(f.Edits))
		if got.Study == nil {
			return fmt.Sprintf("%s: %s cannot be made: %v", f.ID, made, got.Mistakes)
		}
		after := got.Study.Findings(got.Study.Assess(rulebook.All()))
		if worse := worseThan(s, got.Study, before, after, f.Grade); worse != nil {
			return fmt.Sprintf("%s: %s brings %s", f.ID, made, worse)
		}
		i := slices.IndexFunc(after, func(g finding.Finding) bool { return g.ID == f.ID })
		switch {
		case i < 0 || after[i].Grade <= min(finding.Note, f.Grade-1):
			return ""
		case !better(f, after[i]):
			return fmt.Sprintf("%s: %s does not make it better: %s", f.ID, made, after[i].Text)
		case after[i].Edits == nil:
			return fmt.Sprintf("%s: after %s it has no more edits: %s", f.ID, made, after[i].Text)
		}
		s, source, before, f = got.Study, got.Text, after, after[i]
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
