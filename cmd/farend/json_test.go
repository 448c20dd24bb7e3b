package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// documented reads docs/json.md: for every command, what each key is said to be.
func documented(t *testing.T) map[string]map[string]string {
	t.Helper()
	text, err := os.ReadFile("../../docs/json.md")
	if err != nil {
		t.Fatal(err)
	}
	row := regexp.MustCompile("^\\| `([^`]+)` \\| ([^|]+) \\|")
	said := map[string]map[string]string{}
	command := ""
	for line := range strings.Lines(string(text)) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "## farend "); ok {
			command = name
			said[command] = map[string]string{}
		}
		if m := row.FindStringSubmatch(line); m != nil {
			said[command][m[1]] = m[2]
		}
	}
	return said
}

// keysOf lists every key that values of a type have in JSON: "cases[].runs.ID.amps".
func keysOf(of reflect.Type, path string) []string {
	switch of.Kind() {
	case reflect.Pointer:
		return keysOf(of.Elem(), path)
	case reflect.Slice:
		return keysOf(of.Elem(), path+"[]")
	case reflect.Map:
		return keysOf(of.Elem(), path+".ID")
	case reflect.Struct:
		var keys []string
		for i := range of.NumField() {
			name, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ",")
			key := strings.TrimPrefix(path+"."+name, ".")
			keys = append(append(keys, key), keysOf(of.Field(i).Type, key)...)
		}
		return keys
	}
	return nil
}

func TestEveryKeyOfTheJSONIsDocumentedAndNoOther(t *testing.T) {
	said := documented(t)
	for command, object := range map[string]any{"check": checkJSON{}, "check --why": whyJSON{}, "check --fix": fixJSON{}, "check --wave": wavesJSON{}, "addresses": addressesObject{}, "draw": drawnJSON{}, "report": drawnJSON{}, "demo": demoJSON{}, "new": newJSON{}, "parts": partsJSON{}, "explain": rulesJSON{}, "version": versionJSON{}} {
		keys := keysOf(reflect.TypeOf(object), "")
		for _, key := range keys {
			if said[command][key] == "" {
				t.Errorf("%s: docs/json.md does not name the key %q", command, key)
			}
		}
		for key := range said[command] {
			if !slices.Contains(keys, key) {
				t.Errorf("%s: docs/json.md names the key %q, which is not written", command, key)
			}
		}
	}
}

// promised is the contract of check as it was agreed: these keys may never go.
var promised = map[string]string{
	"":                    "schema_version scheme title verdict errors findings protection assessed cases",
	"errors[]":            "file line column text hint",
	"findings[]":          "id rule grade subject case at text value limit unit margin basis source remedy edits line column",
	"findings[].edits[]":  "path value",
	"protection.ways[]":   "id load_amps cap_failed_amps fuse rating_amps iz_amps verdict",
	"assessed[]":          "rule subject case value limit unit margin grade",
	"cases[]":             "name kind solver supplies boards ways cables data runs",
	"cases[].solver":      "steps residual_amps limited",
	"cases[].supplies.ID": "volts volts_low volts_start amps amps_rms amps_peak watts state",
	"cases[].boards.ID":   "inlet_amps amps_rms amps_peak",
	"cases[].ways.ID":     "amps amps_rms amps_peak volts volts_low",
	"cases[].cables.ID":   "amps amps_return amps_rms amps_peak volts_drop watts celsius",
	"cases[].data.ID":     "ground_amps amps_rms amps_peak ground_shift_volts",
	"cases[].runs.ID":     "pixels amps volts_low volts_high low_at evenness colour_shift rail_amps volts plus minus pixel_amps",
}

func TestPromisedKeysStay(t *testing.T) {
	keys := keysOf(reflect.TypeFor[checkJSON](), "")
	for path, names := range promised {
		for _, name := range strings.Fields(names) {
			if key := strings.TrimPrefix(path+"."+name, "."); !slices.Contains(keys, key) {
				t.Errorf("the promised key %q is gone", key)
			}
		}
	}
}

// fits reports whether a decoded value is what the document says it is.
func fits(v any, said string) bool {
	if v == nil {
		return strings.HasSuffix(said, " or null") || said == "anything"
	}
	number, isNumber := v.(float64)
	list, isList := v.([]any)
	switch strings.TrimSuffix(said, " or null") {
	case "text":
		return reflect.TypeOf(v).Kind() == reflect.String
	case "number":
		return isNumber
	case "whole number":
		return isNumber && number == math.Trunc(number)
	case "true or false":
		return reflect.TypeOf(v).Kind() == reflect.Bool
	case "list":
		return isList
	case "object":
		return reflect.TypeOf(v).Kind() == reflect.Map
	case "list of numbers":
		return isList && !slices.ContainsFunc(list, func(e any) bool { return !fits(e, "number") })
	case "list of numbers or nulls":
		return isList && !slices.ContainsFunc(list, func(e any) bool { return !fits(e, "number or null") })
	}
	return said == "anything"
}

// hold compares an object with what is documented for it and wants every key there; wanted says which are asked for.
func hold(t *testing.T, v any, path string, said map[string]string, wanted func(key string) bool) {
	t.Helper()
	switch v := v.(type) {
	case []any:
		for _, e := range v {
			hold(t, e, path+"[]", said, wanted)
		}
	case map[string]any:
		if byID(path, said) {
			for _, e := range v {
				hold(t, e, path+".ID", said, wanted)
			}
			return
		}
		holdKeys(t, v, path, said, wanted)
	}
}

// byID reports whether the keys of an object are identifiers of the scheme.
func byID(path string, said map[string]string) bool {
	for key := range said {
		if strings.HasPrefix(key, path+".ID.") && path != "" {
			return true
		}
	}
	return false
}

func holdKeys(t *testing.T, v map[string]any, path string, said map[string]string, wanted func(key string) bool) {
	t.Helper()
	for name, e := range v {
		key := strings.TrimPrefix(path+"."+name, ".")
		if what := said[key]; what == "" || !fits(e, what) {
			t.Errorf("%s is %.60v, and said to be %q", key, e, what)
		}
		if said[key] != "anything" {
			hold(t, e, key, said, wanted)
		}
	}
	for key := range said {
		name, inside := strings.CutPrefix(key, path+".")
		if path == "" {
			name, inside = key, true
		}
		if _, there := v[name]; inside && !strings.ContainsAny(name, ".[") && !there && wanted(key) {
			t.Errorf("%s is missing", key)
		}
	}
}

func object(t *testing.T, wantCode int, args ...string) any {
	t.Helper()
	out, errs, code := call(args...)
	if code != wantCode || errs != "" {
		t.Fatalf("%v: exit code %d, want %d: %s", args, code, wantCode, errs)
	}
	return decoded(t, out)
}

// decoded reads JSON.
func decoded(t *testing.T, text string) any {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%v in %.200s", err, text)
	}
	return v
}

func file(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "porch.scheme.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// unfed is a scheme in which nothing is fed, yet copper and data join some of it.
const unfed = `farend: 1
boards:
  A1: {part: board/four-way-two-port}
runs:
  E1: {tape: tape/5v-rgb-60, length: 1 m}
  E2: {tape: tape/5v-rgb-60, length: 1 m}
cables:
  W1: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2, ground: open}
states:
  full: {level: 100 %, colour: white}
`

func TestTheJSONOfCheckIsAsDocumented(t *testing.T) {
	said := documented(t)["check"]
	pixels := regexp.MustCompile(`\.(volts|plus|minus|pixel_amps)$`)
	plain := func(key string) bool { return !strings.HasPrefix(key, "cases[].runs.ID.") || !pixels.MatchString(key) }
	for _, c := range []struct {
		name   string
		file   string
		code   int
		pixels bool
	}{
		{"a scheme that passes, with peaks", "../../examples/footbridge.scheme.yaml", exitFine, false},
		{"the same with every pixel", "../../examples/footbridge.scheme.yaml", exitFine, true},
		{"one that fails", "../../examples/footbridge-two-feeds.scheme.yaml", exitFindings, true},
		{"one without a supply", file(t, unfed), exitFindings, true},
		{"one that is wrong", file(t, strings.ReplaceAll(unfed, "1 m", "1")), exitUsage, false},
		{"one that is not there", "nowhere.scheme.yaml", exitUsage, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			args := []string{"check", "--json", c.file}
			wanted := plain
			if c.pixels {
				args, wanted = append(args, "--pixels"), func(string) bool { return true }
			}
			hold(t, object(t, c.code, args...), "", said, wanted)
		})
	}
}

func TestTheJSONOfTheOtherCommandsIsAsDocumented(t *testing.T) {
	all := func(string) bool { return true }
	listed := func(key string) bool { return key != "parts[].facts" }
	for _, c := range []struct {
		command string
		args    []string
		wanted  func(string) bool
	}{
		{"parts", []string{"tape/5v-rgb-60"}, all}, {"parts", []string{"fuse"}, listed},
		{"parts", []string{"fuse", "7.5 A"}, all}, {"parts", []string{"fuse/blade-5A", "tape/5v-rgb-60"}, all},
		{"explain", nil, all}, {"explain", []string{"light/evenness"}, all}, {"version", nil, all},
		{"addresses", []string{"--pixels", "../../examples/library-atrium.scheme.yaml"}, all},
	} {
		v := object(t, exitFine, append([]string{c.command, "--json"}, c.args...)...)
		hold(t, v, "", documented(t)[c.command], c.wanted)
	}
	hold(t, decoded(t, demonstrated(t).said), "", documented(t)["demo"], all)
}

func TestTheJSONOfAWaveIsAsDocumented(t *testing.T) {
	v := object(t, exitFine, "check", "--json", "--wave", "D1", "../../examples/footbridge.scheme.yaml")
	hold(t, v, "", documented(t)["check --wave"], func(string) bool { return true })
	near, far := at(t, v, "waves", 0, "near_volts").([]any), at(t, v, "waves", 0, "far_volts").([]any)
	if len(near) != len(far) || len(near) < 1000 {
		t.Errorf("%d points where it begins, %d where it ends", len(near), len(far))
	}
}

func TestTheJSONOfWhyIsAsDocumented(t *testing.T) {
	said := documented(t)["check --why"]
	const failing = "../../examples/footbridge-two-feeds.scheme.yaml"
	for _, asked := range []string{"light/pixel-voltage:E1", "cable-current:W1:dark", "protection/not-chosen", "board/port-ground", "A1.2", "light/colour-shift:E2:peak/full", "supply-load:T1"} {
		v := object(t, exitFindings, "check", "--json", "--why", asked, failing)
		hold(t, v, "", said, func(string) bool { return true })
		if len(at(t, v, "askable").([]any)) == 0 {
			t.Errorf("%s asks for nothing", asked)
		}
	}
	v := object(t, exitFindings, "check", "--json", "--why", "cable-current:W1:dark", failing)
	if in := at(t, v, "comparisons", 0, "case"); in != "dark" {
		t.Errorf("asked for the dark, got %v", in)
	}
	if step := at(t, v, "comparisons", 0, "steps", 0, "sum").(string); !strings.HasPrefix(step, "max(") {
		t.Errorf("the first step is %q", step)
	}
}

// at walks into a decoded object: keys, or numbers for places in a list.
func at(t *testing.T, v any, path ...any) any {
	t.Helper()
	for _, step := range path {
		switch step := step.(type) {
		case string:
			v = v.(map[string]any)[step]
		case int:
			v = v.([]any)[step]
		}
	}
	return v
}

func TestAPieceWithoutASupplyHasNoPotentials(t *testing.T) {
	v := object(t, exitFindings, "check", "--json", "--pixels", file(t, unfed))
	for _, run := range []string{"E1", "E2"} {
		for _, rail := range []string{"plus", "minus"} {
			list := at(t, v, "cases", 0, "runs", run, rail).([]any)
			if len(list) != 60 || slices.ContainsFunc(list, func(e any) bool { return e != nil }) {
				t.Errorf("%s %s: %v", run, rail, list)
			}
		}
		volts := at(t, v, "cases", 0, "runs", run, "volts").([]any)
		if len(volts) != 60 || slices.ContainsFunc(volts, func(e any) bool { return e != 0.0 }) {
			t.Errorf("%s: voltages across its pixels are %v", run, volts)
		}
		if even := at(t, v, "cases", 0, "runs", run, "evenness"); even != nil {
			t.Errorf("%s is dark, yet its evenness is %v", run, even)
		}
	}
	if volts := at(t, v, "cases", 0, "ways", "A1.1", "volts"); volts != 0.0 {
		t.Errorf("the way of a dead board has %v V", volts)
	}
	if shift := at(t, v, "cases", 0, "data", "D1", "ground_shift_volts"); shift != 0.0 {
		t.Errorf("the grounds of D1 are joined, and stand %v V apart", shift)
	}
	if shift := at(t, v, "cases", 0, "data", "D2", "ground_shift_volts"); shift != nil {
		t.Errorf("nothing joins the grounds of D2, yet they stand %v V apart", shift)
	}
}

// TestTheJSONOfCheckBalances holds the numbers to each other, in the units they claim: currents add up, and volts times
// amperes are watts. Each is summed by one node, so 1 nA and 1 nW leave room for rounding.
func TestTheJSONOfCheckBalances(t *testing.T) {
	const rounding = 1e-9
	v := object(t, exitFine, "check", "--json", "--pixels", "../../examples/footbridge.scheme.yaml")
	kinds := map[any]bool{}
	for i := range v.(map[string]any)["cases"].([]any) {
		c := at(t, v, "cases", i)
		kinds[at(t, c, "kind")] = true
		number := func(path ...any) float64 { return at(t, c, path...).(float64) }
		for id := range at(t, c, "runs").(map[string]any) {
			sum := 0.0
			for _, a := range at(t, c, "runs", id, "pixel_amps").([]any) {
				sum += a.(float64)
			}
			balance(t, fmt.Sprintf("%v: pixels of %s", at(t, c, "name"), id), sum, number("runs", id, "amps"), rounding)
			p, m, across := number("runs", id, "plus", 7), number("runs", id, "minus", 7), number("runs", id, "volts", 7)
			balance(t, "plus less minus", p-m, across, rounding)
		}
		balance(t, "runs and supply", number("runs", "E1", "amps")+number("runs", "E2", "amps"), number("supplies", "T1", "amps"), rounding)
		balance(t, "cable and inlet", number("cables", "W1", "amps"), number("boards", "A1", "inlet_amps"), rounding)
		if at(t, c, "kind") == "state" {
			balance(t, "watts", number("supplies", "T1", "volts")*number("supplies", "T1", "amps"), number("supplies", "T1", "watts"), rounding)
		}
		if at(t, c, "kind") != "peak" {
			balance(t, "rms", number("ways", "A1.1", "amps_rms"), number("ways", "A1.1", "amps"), rounding)
		} else if number("ways", "A1.1", "amps_peak") <= number("ways", "A1.1", "amps_rms") || number("ways", "A1.1", "amps_rms") <= number("ways", "A1.1", "amps") {
			t.Errorf("%v: peak, rms and mean are not in that order", at(t, c, "name"))
		}
	}
	if len(kinds) != 4 {
		t.Errorf("kinds of cases: %v", kinds)
	}
}

func balance(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v and %v", what, got, want)
	}
}
