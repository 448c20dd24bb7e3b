package main

import (
	"strings"
	"testing"

	"farend/rulebook"
)

func TestThePageOfEveryRuleHasEverySectionAndFits(t *testing.T) {
	for _, r := range rulebook.All() {
		out, errs, code := call("explain", r.Name)
		if code != exitFine || errs != "" {
			t.Fatalf("%s: exit code %d: %s", r.Name, code, errs)
		}
		fitting(t, out)
		for _, part := range []string{r.Name + ": " + r.Title + "\n───", "\nFormula\n", "\nSources\n", "\nWhere it ends\n", "\nGrades\n", "\nExample\n"} {
			if !strings.Contains(out, part) {
				t.Errorf("%s: the page has no %q", r.Name, part)
			}
		}
		if strings.Contains(out, "\nA safety rule: ") != r.Safety {
			t.Errorf("%s: the page says the wrong thing of safety", r.Name)
		}
		flat := strings.Join(strings.Fields(out), " ")
		d := r.Doc
		for _, text := range append(append([]string{d.What, d.Why, d.Example.Says}, d.Limits...), d.Example.Sums...) {
			if !strings.Contains(strings.ReplaceAll(flat, " – ", " "), strings.Join(strings.Fields(text), " ")) {
				t.Errorf("%s: the page does not say %q", r.Name, text)
			}
		}
	}
}

func TestAListOfRulesFitsAndMarksSafety(t *testing.T) {
	all, _, _ := call("explain")
	fitting(t, all)
	for _, room := range rulebook.Rooms() {
		out, errs, code := call("explain", room.Name)
		if code != exitFine || errs != "" {
			t.Fatalf("%s: exit code %d: %s", room.Name, code, errs)
		}
		fitting(t, out)
		for _, other := range rulebook.Rooms() {
			for _, r := range other.Rules {
				mark := "  "
				if r.Safety {
					mark = "! "
				}
				if strings.Contains(out, mark+r.Name+" ") != (other.Name == room.Name) || !strings.Contains(all, mark+r.Name+" ") {
					t.Errorf("%s: %s is listed wrongly", room.Name, r.Name)
				}
			}
		}
	}
}

// What is nearly a rule or a room is answered with the one that was meant.
func TestANearMissIsAnswered(t *testing.T) {
	for asked, meant := range map[string]string{
		"light/eveness": "light/evenness", "eveness": "light/evenness", "protection/fuse-laod:A1.1": "protection/fuse-load", "ligth": "light", "protecion": "protection", "boards": "board",
	} {
		out, errs, code := call("explain", asked)
		if code != exitUsage || out != "" || !strings.Contains(errs, "hint: did you mean "+meant+"?\n") {
			t.Errorf("%s: exit code %d: %s", asked, code, errs)
		}
	}
	if _, errs, _ := call("explain", "everything"); !strings.Contains(errs, "hint: farend explain lists them all\n") {
		t.Errorf("everything: %s", errs)
	}
}

// What people paste from a finding, and words of names and titles, are as good as names.
func TestARuleIsFoundAsAFindingHasItAndByItsWords(t *testing.T) {
	for _, c := range []struct {
		asked []string
		rule  string
	}{
		{[]string{"protection/fuse-load:A1.1"}, "protection/fuse-load"},
		{[]string{"light/evenness:E1:state/full"}, "light/evenness"},
		{[]string{"evenness"}, "light/evenness"},
		{[]string{"pixel", "voltage"}, "light/pixel-voltage"},
		{[]string{"Pixel voltage"}, "light/pixel-voltage"},
		{[]string{"cable-current"}, "protection/cable-current"},
		{[]string{"wrong voltage"}, "protection/tape-voltage"},
	} {
		out, errs, code := call(append([]string{"explain"}, c.asked...)...)
		if code != exitFine || !strings.HasPrefix(out, c.rule+": ") {
			t.Errorf("%q: exit code %d: %s", c.asked, code, errs+out)
		}
		_, subject, finding := strings.Cut(strings.Join(c.asked, " "), ":")
		if said := strings.Contains(strings.Join(strings.Fields(out), " "), "farend check --why "+c.asked[0]+" SCHEME shows"); said != finding || finding && subject == "" {
			t.Errorf("%q: it speaks of --why: %v", c.asked, said)
		}
		fitting(t, out)
	}
	out, _, code := call("explain", "fuse", "load")
	if code != exitFine || !strings.Contains(out, " protection/fuse-load ") || !strings.Contains(out, " protection/inline-fuse-load ") || strings.Contains(out, "protection/cable-current") {
		t.Errorf("fuse load: exit code %d: %s", code, out)
	}
}
