package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
)

// Interrupted at any moment, the file holds the text that it had or all of the new one, and nothing lies beside it.
func TestInterruptLeavesAFileThatIsBeingMendedWhole(t *testing.T) {
	source := installation(8, 150, func(int) string { return "rail" })
	whole := file(t, source)
	if _, errs, code := call("check", "--fix", "--write", whole); code == exitUsage || code == exitFault {
		t.Fatal(errs)
	}
	mended, err := os.ReadFile(whole)
	if err != nil || string(mended) == source {
		t.Fatalf("there is nothing to mend (%v)", err)
	}
	cut := 0
	for after := 20 * time.Millisecond; after < time.Second; after *= 2 {
		path := filepath.Join(t.TempDir(), "hall.scheme.yaml")
		if err := os.WriteFile(path, []byte(source), 0o644); err != nil {
			t.Fatal(err)
		}
		_, errs, code, took := interrupted(t, nil, after, "check", "--fix", "--write", path)
		if took > soon || code == exitFault || code == exitUsage {
			t.Errorf("interrupted after %v it ends after %v with exit code %d: %s", after, took, code, errs)
		}
		got, err := os.ReadFile(path)
		if err != nil || string(got) != source && !bytes.Equal(got, mended) {
			t.Errorf("interrupted after %v it leaves the file half written (%v)", after, err)
		}
		if code == exitInterrupted && string(got) == source {
			cut++
		}
		names, _ := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
		hidden, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
		if len(names) != 1 || len(hidden) > 0 {
			t.Errorf("interrupted after %v it leaves %v %v", after, names, hidden)
		}
	}
	if cut == 0 {
		t.Error("no interrupt came in time")
	}
}

// A file that somebody changes while it is mended is left to them.
func TestAFileThatChangedMeanwhileIsNotWritten(t *testing.T) {
	path := file(t, "farend: 1\n")
	if written, err := overwrite(path, []byte("farend: 1\ntitle: read\n"), []byte("farend: 1\ntitle: mended\n")); written || err == nil || !strings.Contains(err.Error(), "has changed since it was read; nothing was written") {
		t.Errorf("written: %v, %v", written, err)
	}
	if now, err := os.ReadFile(path); err != nil || string(now) != "farend: 1\n" {
		t.Errorf("it holds %q, %v", now, err)
	}
	if written, err := overwrite(path, []byte("farend: 1\n"), []byte("farend: 1\n")); written || err != nil {
		t.Errorf("nothing changed, and written is %v, %v", written, err)
	}
}

// What the JSON says is what is done: its edits, made one after the other, give its text, line by line as it says.
func TestTheJSONOfFixIsWhatIsDone(t *testing.T) {
	for _, name := range []string{"examples/footbridge-two-feeds", "examples/cafe-canopy-hasty", "remedy/testdata/together/bar"} {
		source, err := os.ReadFile("../../" + name + ".scheme.yaml")
		if err != nil {
			t.Fatal(err)
		}
		out, errs, code := call("check", "--fix", "--json", file(t, string(source)))
		var got struct {
			Changes []struct {
				Words []string
				Edits []finding.Edit
				Lines []lineJSON
			}
			Text    *string
			Written bool
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil || code != exitFindings || len(got.Changes) == 0 || got.Text == nil || got.Written {
			t.Fatalf("%s: exit code %d, %v, %s, %s", name, code, err, errs, out)
		}
		text := source
		for _, change := range got.Changes {
			_, after, mistakes := scheme.Apply("x", text, change.Edits, parts.Catalogue())
			if len(mistakes) > 0 {
				t.Fatalf("%s: %v: %v", name, change.Edits, mistakes)
			}
			if words := scheme.Changes(text, change.Edits); strings.Join(words, "|") != strings.Join(change.Words, "|") {
				t.Errorf("%s: %q, said is %q", name, words, change.Words)
			}
			for i, l := range changedLines(text, after) {
				if i >= len(change.Lines) || change.Lines[i] != (lineJSON{l.number, l.old, l.text}) {
					t.Errorf("%s: line %v is not said", name, l)
				}
			}
			text = after
		}
		if string(text) != *got.Text {
			t.Errorf("%s: the edits give\n%s\nsaid is\n%s", name, text, *got.Text)
		}
	}
}

// What was tried and not kept for one reason is told once, and so is what is left with one remedy; what has no change says so.
func TestWhatIsLeftIsGrouped(t *testing.T) {
	for _, c := range []struct {
		scheme string
		wants  []string
	}{
		{"../../board/testdata/sound.scheme.yaml", []string{
			"protection/voltage-drop:W3 and W5: a new cable ",
			" like it because protection/voltage-drop:W3 would be tight still: ",
			"So it is with the others.",
			"higher voltage. A change was tried: see above.",
		}},
		{"../../remedy/testdata/together/bar.scheme.yaml", []string{
			"[D] protection/source-fuse:W2: Move its fuse to the end at the supply",
			"[F] protection/parallel-supplies:T1 and T2: Cut the positive rail between their feeds, or use one larger supply. No change to the file is known for it.",
		}},
	} {
		out, errs, _ := call("check", "--fix", c.scheme)
		flat := strings.Join(strings.Fields(out), " ")
		for _, want := range c.wants {
			if strings.Count(flat, want) != 1 {
				t.Errorf("%q is said %d times in\n%s%s", want, strings.Count(flat, want), out, errs)
			}
		}
	}
}
