package farend_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// laws says which rooms of ours a room may import. A room that is not here may not exist.
var laws = map[string][]string{
	".":                   {},
	"unit":                {},
	"finding":             {},
	"circuit":             {},
	"draw":                {},
	"layout":              {"draw"},
	"split":               {},
	"conductor":           {"unit"},
	"fuse":                {"unit"},
	"supply":              {"unit"},
	"line":                {},
	"pixel":               {"unit"},
	"parts":               {"unit", "finding", "internal/document"},
	"scheme":              {"unit", "finding", "parts", "internal/document"},
	"network":             {"unit", "finding", "circuit", "conductor", "fuse", "supply", "pixel", "parts", "scheme"},
	"study":               {"unit", "finding", "circuit", "line", "conductor", "fuse", "parts", "scheme", "network", "internal/sums"},
	"remedy":              {"unit", "finding", "conductor", "split", "parts", "scheme", "network", "study"},
	"survey":              judge,
	"protection":          judge,
	"board":               judge,
	"signal":              judge,
	"light":               judge,
	"rulebook":            {"study", "survey", "protection", "board", "signal", "light"},
	"sizing":              {"unit", "finding", "parts", "scheme", "network", "study", "rulebook"},
	"addressing":          {"unit", "parts", "scheme"},
	"sheet/drafting":      {"unit", "parts", "scheme", "study", "draw", "layout"},
	"sheet/plan":          drawings,
	"sheet/night":         append([]string{"sheet/plan"}, drawings...),
	"sheet/wiring":        drawings,
	"sheet/runsheet":      drawings,
	"sheet/profile":       drawings,
	"sheet/chart":         drawings,
	"sheet":               {"finding", "scheme", "study", "layout", "sheet/drafting", "sheet/plan", "sheet/night", "sheet/wiring", "sheet/runsheet", "sheet/profile", "sheet/chart"},
	"report":              {"unit", "finding", "parts", "scheme", "network", "study", "addressing", "draw", "layout", "sheet/drafting"},
	"commission":          {"unit", "finding", "conductor", "fuse", "pixel", "parts", "scheme", "network", "study", "draw", "layout"},
	"examples":            {},
	"cmd/farend":          {"unit", "finding", "circuit", "parts", "scheme", "network", "study", "remedy", "rulebook", "sizing", "sheet", "sheet/drafting", "sheet/chart", "report", "commission", "addressing", "draw", "layout", "examples", "internal/save"},
	"internal/document":   {"unit", "finding"},
	"internal/bench":      {"circuit", "network", "parts", "pixel", "scheme", "study"},
	"internal/pagetest":   {"draw"},
	"internal/reference":  {},
	"internal/save":       {},
	"internal/schemetest": {"finding", "parts", "scheme", "network", "study"},
	"internal/sheettest":  {"draw", "layout", "study", "sheet/drafting", "internal/pagetest"},
	"internal/spice":      {},
	"internal/sums":       {},
}

// judge is what every judge may import: no other judge, and no kernel.
var judge = []string{"unit", "finding", "conductor", "fuse", "supply", "pixel", "parts", "scheme", "network", "study", "remedy"}

// drawings is what every room of drawings may import.
var drawings = []string{"unit", "finding", "conductor", "fuse", "parts", "scheme", "network", "study", "draw", "layout", "sheet/drafting"}

// behind says which one room an outside module stands behind.
var behind = map[string]string{
	"go.yaml.in/yaml/v4":                "internal/document",
	"github.com/alecthomas/kong":        "cmd/farend",
	"github.com/jotaen/kong-completion": "cmd/farend",
	"github.com/posener/complete":       "cmd/farend",
	"github.com/jedib0t/go-pretty/v6/":  "cmd/farend",
	"golang.org/x/image/":               "draw",
	"rsc.io/qr":                         "report",
}

// The files themselves are read, not the build: a cached test would not see a new import.
func TestImportsPointDown(t *testing.T) {
	rooms := 0
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if name := entry.Name(); path != "." && (strings.HasPrefix(name, ".") || name == "testdata" || name == "tools") {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		rooms++
		room := filepath.ToSlash(filepath.Dir(path))
		allowed, known := laws[room]
		if !known {
			t.Errorf("%s: no law for the room %s", path, room)
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range file.Imports {
			name, _ := strconv.Unquote(spec.Path.Value)
			judgeImport(t, path, room, name, allowed)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if rooms < 40 {
		t.Errorf("only %d files were read: the walk is broken", rooms)
	}
}

func judgeImport(t *testing.T, path, room, name string, allowed []string) {
	if own, ours := strings.CutPrefix(name, "farend/"); ours {
		if !slices.Contains(allowed, own) {
			t.Errorf("%s imports %s: %s may import %v", path, own, room, allowed)
		}
		return
	}
	if first, _, _ := strings.Cut(name, "/"); !strings.Contains(first, ".") {
		return // the standard library
	}
	for module, home := range behind {
		if strings.HasPrefix(name, module) {
			if room != home {
				t.Errorf("%s imports %s, which stands behind %s", path, name, home)
			}
			return
		}
	}
	t.Errorf("%s imports %s: no room is given to it", path, name)
}
