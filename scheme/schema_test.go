package scheme_test

import (
	"bytes"
	"flag"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"go.yaml.in/yaml/v4"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
	"farend/scheme"
)

var mutations = flag.Int("mutations", 500, "how many changed files the schema and the reader are compared on")

// compiled is the schema as an independent validator reads it; that it is a schema at all is checked against the meta-schema.
func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	plain, err := jsonschema.UnmarshalJSON(bytes.NewReader(scheme.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	compiler.DefaultDraft(jsonschema.Draft2020)
	if err := compiler.AddResource("scheme.json", plain); err != nil {
		t.Fatal(err)
	}
	schema, err := compiler.Compile("scheme.json")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// A dialect is a version of YAML: in the elder, the bare words yes and no are no texts.
type dialect bool

const (
	today dialect = false // YAML 1.2.2, section 10.3
	elder dialect = true  // YAML 1.1, type repository
)

// elderBooleans leaves out y, n, on and off, of which readers think differently and Farend nothing.
var elderBooleans = regexp.MustCompile("^(yes|Yes|YES)$|^(no|No|NO)$")

// plain is a node as JSON has it.
func (d dialect) plain(n *yaml.Node) any {
	switch n.Kind {
	case yaml.AliasNode:
		return d.plain(n.Alias)
	case yaml.MappingNode:
		object := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			object[n.Content[i].Value] = d.plain(n.Content[i+1])
		}
		return object
	case yaml.SequenceNode:
		list := []any{}
		for _, item := range n.Content {
			list = append(list, d.plain(item))
		}
		return list
	}
	if is := elderBooleans.FindStringSubmatch(n.Value); d == elder && n.Style == 0 && is != nil {
		return is[1] != ""
	}
	var value any
	if err := n.Decode(&value); err != nil {
		return n.Value
	}
	switch v := value.(type) {
	case nil, bool, int:
		return v
	case float64:
		if v-v == 0 { // JSON has no others
			return v
		}
	}
	return n.Value
}

// validated says why a text is not valid, nil where it is, by the schema; ok is false where the text is no YAML.
func validated(t testing.TB, schema *jsonschema.Schema, source []byte) (why error, ok bool) {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal(bytes.TrimPrefix(source, []byte("\ufeff")), &doc); err != nil || len(doc.Content) == 0 {
		return nil, false
	}
	why = schema.Validate(today.plain(doc.Content[0]))
	if other := schema.Validate(elder.plain(doc.Content[0])); (why == nil) != (other == nil) && !onlyWords(other) {
		t.Errorf("read as YAML 1.2 the schema says %v, as YAML 1.1 %v\n%s", why, other, source)
	}
	return why, true
}

// onlyWords reports whether all that a validator finds is yes, no, on or off in the place of a name or a number: where YAML 1.1 has no
// text, an editor that reads it cannot know that there is one.
func onlyWords(err error) bool {
	e, ok := err.(*jsonschema.ValidationError)
	if !ok {
		return false
	}
	for _, cause := range e.Causes {
		if !onlyWords(cause) {
			return false
		}
	}
	wanted, isType := e.ErrorKind.(*kind.Type)
	return len(e.Causes) > 0 || isType && wanted.Got == "boolean"
}

// Every scheme of this repository that can be read is valid.
func TestEverySchemeThatIsReadIsValid(t *testing.T) {
	schema, count := compiled(t), 0
	err := filepath.WalkDir("..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".scheme.yaml") {
			return err
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if _, mistakes := scheme.Read(path, source, library(t)); len(mistakes) > 0 {
			return nil // it may be another room's, for its own parts
		}
		count++
		if why, _ := validated(t, schema, source); why != nil {
			t.Errorf("%s: %v", path, why)
		}
		return nil
	})
	if err != nil || count < 20 {
		t.Errorf("%d schemes were read (%v)", count, err)
	}
}

func TestTheCatalogueIsValid(t *testing.T) {
	schema, count := compiled(t), 0
	paths, _ := filepath.Glob("../parts/catalogue/*.yaml")
	for _, path := range paths {
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		source = regexp.MustCompile("(?m)^").ReplaceAll(source, []byte("  "))
		if why, ok := validated(t, schema, append([]byte("farend: 1\nparts:\n"), source...)); why != nil || !ok {
			t.Errorf("%s: %v", path, why)
		}
		count++
	}
	if count < len(parts.Kinds()) {
		t.Errorf("only %d files", count)
	}
}

// anywhere stands for the place of a wrong name, which this validator gets wrong: it writes other places over it.
const anywhere = "?"

// What an editor should underline, and the place at which it should.
func TestWrongFilesAreNotValid(t *testing.T) {
	schema, base := compiled(t), everything(t)
	for _, c := range []struct{ name, old, new, at string }{
		{"the form is missing", "farend: 1\n", "", ""},
		{"a later form", "farend: 1", "farend: 2", "/farend"},
		{"the form in words", "farend: 1", "farend: one", "/farend"},
		{"a section that there is not", "aims:", "goals:", ""},
		{"a key that is misspelt", "tape: tape/5v-rgb-60, length", "tappe: tape/5v-rgb-60, length", "/runs/E1"},
		{"a key of another kind of thing", "fuse_at: from", "ground: open", "/cables/W1"},
		{"a unit is missing", "length: 4.8 m", "length: 4.8", "/runs/E1/length"},
		{"a unit of something else", "length: 4.8 m", "length: 4.8 A", "/runs/E1/length"},
		{"a decimal comma", "length: 4.8 m", "length: \"4,8 m\"", "/runs/E1/length"},
		{"a word that is none of the list", "exposure: outdoors", "exposure: outside", "/site/exposure"},
		{"a list in place of a map", "{part: supply/5v-300w, volts: 5.1 V, label: plant room}", "[supply/5v-300w]", "/supplies/T1"},
		{"text in place of a list", "holds: [T1, A1, Q1]", "holds: T1", "/enclosures/B1/holds"},
		{"text in place of a map", "site:\n", "site: dry\nsate:\n", "/site"},
		{"nothing in place of text", "label: west arch", "label:", "/runs/E1/label"},
		{"half a pixel", "pixels: 288", "pixels: 288.5", "/runs/E2/pixels"},
		{"neither yes nor no", "sun: yes", "sun: sometimes", "/enclosures/B1/sun"},
		{"an identifier that begins with a digit", "  E2: {tape", "  2E: {tape", anywhere},
		{"a fuse of no way", "A1.2: fuse/blade-7.5A", "A1: fuse/blade-7.5A", anywhere},
		{"a board for a supply", "T1: {part: supply/5v-300w", "T1: {part: board/six-way-three-port", "/supplies/T1/part"},
		{"a place that is none", "from: A1.1, to: X1", "from: A1/1, to: X1", "/cables/W2/from"},
		{"a station that is none", "to: E1@px150-", "to: E1@pixel150", "/cables/W4/to"},
		{"a colour of three digits", "\"#ffb060\"", "\"#fb6\"", "/states/dusk/colour"},
		{"a tariff without its currency", "0.27 EUR/kWh", "0.27 /kWh", "/site/tariff"},
		{"an address that is none", "192.168.1.20", "192.168.1.300", "/boards/A1/address"},
		{"a point with a unit", "A1: [-0.5, 0.7]", "A1: [-0.5 m, 0.7 m]", "/drawing/A1"},
		{"a part of no kind", "  fuse/mine: {", "  lamp/mine: {", "/parts"},
		{"a part that lacks what it needs", "rating: 5 A, resistance: 18 mΩ", "resistance: 18 mΩ", "/parts/fuse~1mine"},
		{"a number of a part without its unit", "rating: 5 A", "rating: 5", "/parts/fuse~1mine/rating"},
		{"a basis that is none", "basis: handbook", "basis: hearsay", "/parts/cable~1mine/iz"},
		{"a channel that is neither", "string: 150 Ω, lo", "lo", "/parts/tape~1mine/channels/green"},
		{"a channel that is both", "string: 150 Ω, lo", "string: 150 Ω, set: 3 mA, hi: 4 V, lo", "/parts/tape~1mine/channels/green"},
		{"a colour that no tape has", "      red: {set", "      pink: {set", anywhere},
		{"a way by a word", "ways: {1: {", "ways: {one: {", anywhere},
		{"a port named in", "ports: {P1: {", "ports: {in: {", anywhere},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(base, c.old) {
				t.Fatalf("there is no %q", c.old)
			}
			source := []byte(strings.Replace(base, c.old, c.new, 1))
			why, ok := validated(t, schema, source)
			if wrong, isWrong := why.(*jsonschema.ValidationError); !ok || !isWrong {
				t.Errorf("the schema says nothing (%v)", why)
			} else if at := deepest(wrong); c.at != anywhere && !slices.Contains(at, c.at) {
				t.Errorf("the schema says so at %q, want %q: %v", at, c.at, why)
			}
			if _, mistakes := scheme.Read("a", source, library(t)); len(mistakes) == 0 {
				t.Error("the reader says nothing")
			}
		})
	}
}

// deepest lists the places at which a validator found something.
func deepest(e *jsonschema.ValidationError) []string {
	if len(e.Causes) == 0 {
		return []string{document.Pointer(e.InstanceLocation...)}
	}
	places := []string{document.Pointer(e.InstanceLocation...)}
	for _, cause := range e.Causes {
		places = append(places, deepest(cause)...)
	}
	return places
}

// twice is the mistake that hides all others from a schema: JSON has no map in which a key stands twice, and of the two values a
// validator sees the one that the reader leaves out.
const twice = "stands twice; it was first given"

// unseen is what reading refuses and a schema cannot, and why. All else that reading refuses the schema must refuse.
var unseen = map[string]*regexp.Regexp{
	"a schema does not compare numbers with units":                  regexp.MustCompile(`must be (more than 0|at least|below|above)|cannot be (less than 0|above|more|shorter)|is no [a-z -]+ of a real part|is slower than|must have a higher multiple|goes from a negative low|is not a [a-z ]+ above 0`),
	"nor what a part says with each other":                          regexp.MustCompile(`are no chromaticity|come more often than pixels|there is no conductor class|must stand more than|is no degree of protection|belongs? to a|protocol .*needs|"order" cannot be|, and "bits" is`),
	"nor names with what they lead to":                              regexp.MustCompile(`there is no (protocol|curve|connector|fuse) |is nothing to measure`),
	"nor does it see that a number is too large":                    regexp.MustCompile("is too large a number"),
	"nor all rules of addresses, and which of them are of one host": regexp.MustCompile("is neither an IP address nor a host name|is no address of one board"),
	"nor how a whole number was written: 1e3, 2.0, 0x10, 1_000":     regexp.MustCompile(`needs a whole number, not "[-+]?[0-9][0-9.eExobA-F_+-]*"`),
}

// seen reports whether a schema can see one of the mistakes.
func seen(mistakes finding.Mistakes) bool {
	if slices.ContainsFunc(mistakes, func(m finding.Mistake) bool { return strings.Contains(m.Text, twice) }) {
		return false
	}
	return slices.ContainsFunc(mistakes, func(m finding.Mistake) bool {
		for _, class := range unseen {
			if class.MatchString(m.Text) {
				return false
			}
		}
		return true
	})
}

// Changed at random, files are refused by the schema where reading cannot make sense of them, and by nobody else: what the schema
// refuses the reader refuses too. What the reader finds only when it checks names and sums the schema need not see.
func TestSchemaAndReaderAgreeOnChangedFiles(t *testing.T) {
	schema, catalogue := compiled(t), library(t)
	sources := map[string]string{"everything": everything(t)}
	maps.Copy(sources, exampleFiles(t))
	names := slices.Sorted(maps.Keys(sources))
	count := map[string]int{}
	for k := range *mutations {
		name := names[k%len(names)]
		source, what := mutated(t, sources[name], int64(k))
		why, ok := validated(t, schema, source)
		if !ok { // comments and brackets that no longer fit
			count["no YAML"]++
			continue
		}
		unread := document.Load("a", source, new(scheme.Scheme)).Mistakes
		_, wrong := scheme.Read("a", source, catalogue)
		switch {
		case why != nil && len(wrong) == 0:
			t.Errorf("%d, %s, %s: the schema refuses what is read: %v", k, name, what, why)
		case why == nil && seen(unread):
			t.Errorf("%d, %s, %s: the schema accepts what cannot be read: %v", k, name, what, unread)
		case why != nil:
			count["refused by both"]++
		case len(unread) > 0:
			count["refused for what a schema cannot see"]++
		case len(wrong) > 0:
			count["refused by the checks alone"]++
		default:
			count["accepted by both"]++
		}
		count[what[:strings.IndexByte(what+":", ':')]]++
	}
	t.Logf("%v", count)
	if 100*count["no YAML"] > *mutations {
		t.Errorf("%d files are no YAML", count["no YAML"])
	}
	for what, share := range map[string]int{"refused by both": 3, "refused by the checks alone": 40, "accepted by both": 10} {
		if count[what]*share < *mutations {
			t.Errorf("only %d of %d files are %s: the changes test too little", count[what], *mutations, what)
		}
	}
}

// Whatever the schema shows as an example is one.
func TestExamplesInTheSchemaAreValid(t *testing.T) {
	root, err := jsonschema.UnmarshalJSON(bytes.NewReader(scheme.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	compiler.DefaultDraft(jsonschema.Draft2020)
	if err := compiler.AddResource("scheme.json", root); err != nil {
		t.Fatal(err)
	}
	shown := 0
	var look func(at string, v any)
	look = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			if examples, ok := v["examples"].([]any); ok && !strings.HasSuffix(at, "/properties") {
				schema, err := compiler.Compile("scheme.json#" + at)
				if err != nil {
					t.Fatal(err)
				}
				for _, example := range examples {
					shown++
					if err := schema.Validate(example); err != nil {
						t.Errorf("%s: %v is no example: %v", at, example, err)
					}
				}
			}
			for key, value := range v {
				look(at+document.Pointer(key), value)
			}
		case []any:
			for i, value := range v {
				look(at+"/"+strconv.Itoa(i), value)
			}
		}
	}
	look("", root)
	if shown < 200 {
		t.Errorf("only %d examples", shown)
	}
}

// Every key of the schema says what it is.
func TestEveryKeyOfTheSchemaIsDescribed(t *testing.T) {
	root, err := jsonschema.UnmarshalJSON(bytes.NewReader(scheme.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	keys := 0
	var look func(at string, v any)
	look = func(at string, v any) {
		object, _ := v.(map[string]any)
		if properties, ok := object["properties"].(map[string]any); ok && object["type"] == "object" {
			if object["additionalProperties"] != false {
				t.Errorf("%s lets any key pass", at)
			}
			for key, property := range properties {
				keys++
				if text, _ := property.(map[string]any)["description"].(string); text == "" || strings.HasSuffix(text, ".") || strings.Contains(text, "\n") {
					t.Errorf("%s of %s is described as %q", key, at, text)
				}
			}
		}
		for key, value := range object {
			look(at+"/"+key, value)
		}
		if list, ok := v.([]any); ok {
			for _, value := range list {
				look(at, value)
			}
		}
	}
	look("", root)
	if keys < 150 {
		t.Errorf("only %d keys", keys)
	}
}
