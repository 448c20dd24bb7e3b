package rulebook_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"farend/rulebook"
	"farend/study"
)

var update = flag.Bool("update", false, "write docs/rules.md anew")

func TestRulesPageIsWrittenFromTheRules(t *testing.T) {
	const path = "../docs/rules.md"
	want := page(rulebook.All())
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("%s is stale: go test ./rulebook -update (%v)", path, err)
	}
}

func page(rules []study.Rule) string {
	var b strings.Builder
	b.WriteString("# Rules\n\nWritten from the rules themselves by `go test ./rulebook -update`. Grades, worst first: danger, fails, unknown, tight, note. A safety rule that cannot be assessed is not a pass.\n")
	for _, r := range rules {
		safety := ""
		if r.Safety {
			safety = ", a safety rule"
		}
		fmt.Fprintf(&b, "\n## %s: %s\n\nJudges %s%s. %s\n", r.Name, r.Title, r.Scope, safety, r.Doc)
	}
	return b.String()
}

func TestRulesAreNamedDocumentedAndDistinct(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rulebook.All() {
		if seen[r.Name] {
			t.Errorf("%s stands twice", r.Name)
		}
		seen[r.Name] = true
		if r.Title == "" || len(r.Doc) < 60 || r.Scope == "" || r.Judge == nil || !strings.Contains(r.Name, "/") {
			t.Errorf("%s is not complete", r.Name)
		}
		if found, ok := rulebook.Named(r.Name); !ok || found.Title != r.Title {
			t.Errorf("%s is not found by its name", r.Name)
		}
	}
}
