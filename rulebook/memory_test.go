package rulebook_test

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"farend/finding"
	"farend/parts"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
)

// Every number of every part in use is moved by a tenth. Where that moves a limit of a safety rule, or the grade for the same
// value, the limit rests on that number; and when the number is then from memory, every finding with that limit must say so.
func TestASafetyFindingSaysWhatItsLimitOwesToMemory(t *testing.T) {
	var paths []string
	for _, room := range rulebook.Rooms() { // those that judge safety
		if slices.ContainsFunc(room.Rules, func(r study.Rule) bool { return r.Safety }) {
			paths = append(paths, roomPaths(t, room.Name)...)
		}
	}
	moved, catalogue := 0, parts.Catalogue()
	for _, path := range paths {
		t.Run(filepath.Base(filepath.Dir(filepath.Dir(path)))+" "+filepath.Base(path), func(t *testing.T) { moved += owed(t, path, catalogue) })
	}
	if moved < 10 {
		t.Errorf("only %d limits moved with a number", moved)
	}
}

// owed tries every number of the parts that one scheme takes from the catalogue, and gives how many limits moved.
func owed(t *testing.T, path string, catalogue *parts.Library) (moved int) {
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	used := inUse(source, catalogue)
	sound := trusted(used, catalogue)
	was := limits(safetyFindings(t, path, source, sound, nil))
	for _, name := range used {
		part, _ := sound.Find(name)
		for _, key := range numberKeys(part) {
			if strings.HasPrefix(key, "channels.") || strings.HasPrefix(key, "idle.") {
				continue // what a pixel draws decides values, never a limit, and takes the most time
			}
			more := altered(part, key, func(v reflect.Value) { is := v.FieldByName("Is"); is.SetFloat(1.1 * is.Float()) })
			var on []string
			for id, limit := range limits(safetyFindings(t, path, source, sound, parts.Set{name: more})) {
				if before, there := was[id]; there && before != limit {
					on = append(on, id)
				}
			}
			if len(on) == 0 {
				continue
			}
			moved += len(on)
			remembered := altered(part, key, func(v reflect.Value) { v.FieldByName("Basis").SetString(string(parts.Memory)) })
			for _, f := range safetyFindings(t, path, source, sound, parts.Set{name: remembered}) {
				if slices.Contains(on, f.ID) && !strings.Contains(f.Text, "from memory") {
					t.Errorf("%s %s decides the limit of %s, which does not say that it is from memory: %s", name, key, f.ID, f.Text)
				}
			}
		}
	}
	return moved
}

// safetyFindings is the findings of the safety rules in a scheme, with some parts in the place of others. Faults are followed where the
// scheme is kept for them.
func safetyFindings(t *testing.T, path string, source []byte, library *parts.Library, instead parts.Set) []finding.Finding {
	sch, mistakes := scheme.Read(path, source, library.With(instead))
	if len(mistakes) > 0 {
		return nil // the altered part is no longer one that may be
	}
	striking := study.NotNow
	if filepath.Base(filepath.Dir(path)) == "faults" {
		striking = study.Always
	}
	s, err := study.New(context.Background(), sch, &study.Options{Striking: striking, Mending: true})
	if err != nil {
		t.Fatal(err)
	}
	rules := slices.DeleteFunc(rulebook.All(), func(r study.Rule) bool { return !r.Safety })
	return s.Findings(s.Assess(rules))
}

func limits(findings []finding.Finding) map[string]float64 {
	by := map[string]float64{}
	for _, f := range findings {
		if f.Limit != nil {
			by[f.ID] = *f.Limit
		}
	}
	return by
}

// trusted is the catalogue in which each number of the parts in use is called standard, so that no other number can be the
// reason why a finding speaks of memory.
func trusted(used []string, catalogue *parts.Library) *parts.Library {
	own := parts.Set{}
	for _, name := range used {
		part, _ := catalogue.Find(name)
		for _, key := range numberKeys(part) {
			part = altered(part, key, func(v reflect.Value) { v.FieldByName("Basis").SetString(string(parts.Standard)) })
		}
		own[name] = part
	}
	return catalogue.With(own)
}

// inUse lists the parts of the catalogue that a scheme names, and those that they name.
func inUse(source []byte, catalogue *parts.Library) []string {
	var used []string
	for _, name := range catalogue.Names("") {
		if part, _ := catalogue.Find(name); strings.Contains(string(source), name) {
			used = append(used, name)
			for _, f := range parts.Facts(part) {
				if _, other := catalogue.Find(f.Text); other {
					used = append(used, f.Text)
				}
			}
		}
	}
	slices.Sort(used)
	return slices.Compact(used)
}

// numberKeys is the keys of a part's numbers that carry a basis of their own.
func numberKeys(part any) []string {
	var keys []string
	for _, f := range parts.Facts(part) {
		if f.Of != nil {
			keys = append(keys, f.Key)
		}
	}
	return keys
}

// altered is a copy of a part in which one number was changed; the part itself, which others share, stays as it is.
func altered(part any, key string, change func(reflect.Value)) any {
	of, changed := reflect.ValueOf(part).Elem(), false
	twin := reflect.New(of.Type())
	twin.Elem().Set(copied(of, strings.Split(key, "."), func(v reflect.Value) { changed = true; change(v) }))
	if !changed {
		panic("no " + key + " in a " + of.Type().Name())
	}
	return twin.Interface()
}

// copied is a copy of a value in which what lies under a path was changed.
func copied(of reflect.Value, path []string, change func(reflect.Value)) reflect.Value {
	twin := reflect.New(of.Type()).Elem()
	twin.Set(of)
	if len(path) == 0 {
		change(twin)
		return twin
	}
	switch of.Kind() {
	case reflect.Map:
		twin.Set(reflect.MakeMap(of.Type()))
		for _, k := range of.MapKeys() {
			twin.SetMapIndex(k, of.MapIndex(k))
		}
		twin.SetMapIndex(reflect.ValueOf(path[0]), copied(of.MapIndex(reflect.ValueOf(path[0])), path[1:], change))
	case reflect.Slice:
		i, _ := strconv.Atoi(path[0])
		twin.Set(reflect.AppendSlice(reflect.MakeSlice(of.Type(), 0, of.Len()), of))
		twin.Index(i - 1).Set(copied(of.Index(i-1), path[1:], change))
	case reflect.Struct:
		for i := range of.NumField() {
			field := of.Type().Field(i)
			name, _, _ := strings.Cut(field.Tag.Get("key"), ",")
			if name == path[0] {
				twin.Field(i).Set(copied(of.Field(i), path[1:], change))
			} else if field.Anonymous && field.Name != "Origin" {
				if _, embedded := keyed(field.Type, path[0]); embedded {
					twin.Field(i).Set(copied(of.Field(i), path, change))
				}
			}
		}
	}
	return twin
}

// keyed is the field of a struct under a key.
func keyed(of reflect.Type, key string) (reflect.StructField, bool) {
	for i := range of.NumField() {
		if name, _, _ := strings.Cut(of.Field(i).Tag.Get("key"), ","); name == key {
			return of.Field(i), true
		}
	}
	return reflect.StructField{}, false
}
