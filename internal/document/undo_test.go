package document_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/document"
)

// Everything in the worked examples, with the line ends of both worlds and with a byte-order mark: nothing applied, a value changed
// and changed back, and a key inserted and taken out again leave the same bytes.
func TestApplyAndUndoLeaveTheSameBytes(t *testing.T) {
	paths, _ := filepath.Glob("../../examples/*.scheme.yaml")
	if len(paths) < 6 {
		t.Fatalf("only %d examples", len(paths))
	}
	for _, path := range paths {
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text := string(source)
		switch filepath.Base(path)[0] { // one kind of each, to save time
		case 'l':
			text = strings.ReplaceAll(text, "\n", "\r\n")
		case 'c':
			text = "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n")
		}
		t.Run(filepath.Base(path), func(t *testing.T) { undo(t, text) })
	}
}

// undo changes every value of a text and changes it back, and inserts a key into every map and takes it out. Text in quotes is
// left out: quotes that are not needed are not put back.
func undo(t *testing.T, text string) {
	t.Helper()
	if same := made(t, text); same != text {
		t.Fatal("nothing was applied and the text changed")
	}
	changed, inserted := 0, 0
	walk("", decoded(t, text), func(pointer string, value any) {
		switch old := value.(type) {
		case map[string]any:
			inserted++
			there := made(t, text, finding.Edit{Path: pointer + "/zz", Value: "1 m"})
			if back := made(t, there, finding.Edit{Path: pointer + "/zz"}); back != text || there == text {
				t.Errorf("%s: a key inserted and taken out leaves other bytes", pointer)
			}
		case string:
			if strings.Contains(text, strconv.Quote(old)) {
				return
			}
			changed++
			there := made(t, text, finding.Edit{Path: pointer, Value: "another"})
			if back := made(t, there, finding.Edit{Path: pointer, Value: old}); back != text || there == text {
				t.Errorf("%s: %q changed and changed back leaves other bytes", pointer, old)
			}
		}
	})
	if changed < 20 || inserted < 10 {
		t.Errorf("only %d values and %d maps were tried", changed, inserted)
	}
}

func made(t *testing.T, text string, edits ...finding.Edit) string {
	t.Helper()
	after, mistakes := document.Apply("x", []byte(text), edits, nil)
	if len(mistakes) > 0 {
		t.Fatalf("%v: %v", edits, mistakes)
	}
	return string(after)
}

// walk visits every value below a tree.
func walk(pointer string, tree any, visit func(pointer string, value any)) {
	visit(pointer, tree)
	switch v := tree.(type) {
	case map[string]any:
		for key, item := range v {
			walk(pointer+finding.Pointer(key), item, visit)
		}
	case []any:
		for i, item := range v {
			walk(pointer+finding.Pointer(strconv.Itoa(i)), item, visit)
		}
	}
}
