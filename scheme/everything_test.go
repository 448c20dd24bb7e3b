package scheme_test

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/scheme"
)

func everything(t testing.TB) string {
	t.Helper()
	source, err := os.ReadFile("testdata/everything.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(source)
}

func TestEveryKeyIsRead(t *testing.T) {
	s := read(t, everything(t))
	if got := s.Cables["W1"].Ends; got != (scheme.Ends{From: "connector/supply-terminal", To: "connector/screw-5.08mm"}) {
		t.Errorf("W1 has the connectors %+v", got)
	}
	if got := s.Contactors["Q1"]; got != (scheme.Contactor{Part: "relay/plug-in-30A", In: "W1", Label: "night switch"}) {
		t.Errorf("Q1 is %+v", got)
	}
	if got := s.Capacitors["C1"]; got.At.Kind != scheme.StationRef || got.At.Element != "E1" || got.At.Station.Mark != 0 || got.Part != "capacitor/1000uF-10V" {
		t.Errorf("C1 is %+v", got)
	}
	if got := s.Enclosures["B1"]; !slices.Equal(got.Holds, []string{"T1", "A1", "Q1"}) || !got.Sun || s.Enclosures["B2"].Sun {
		t.Errorf("B1 is %+v", got)
	}
	if got := *s.Data["D1"].Buffer; got != (scheme.LeadBuffer{Part: "buffer/ahct-5v", At: scheme.FromEnd}) || s.Data["D2"].Buffer != nil {
		t.Errorf("the buffer of D1 is %+v", got)
	}
	if got := s.Data["D1"].Series; got != 33 {
		t.Errorf("the resistor in D1 is %v", got)
	}
	if a := s.Boards["A1"]; a.Host != "yard controller" || a.Address != "192.168.1.20" || s.Boards["A2"].Address != "gable-board.local" {
		t.Errorf("A1 is %+v", a)
	}
	if got := s.Site.Separate; !reflect.DeepEqual(got, [][]string{{"E1", "E3"}, {"E2", "E3"}}) {
		t.Errorf("separate are %v", got)
	}
	if s.Runs["E1"].Reel != "R1" || s.Runs["E3"].Reel != "7" {
		t.Errorf("E1 is of reel %q, E3 of %q", s.Runs["E1"].Reel, s.Runs["E3"].Reel)
	}
}

// A key that is added to a type of this room is added to the file of all keys too, and says what it is.
func TestEveryKeyIsInTheFileOfAllKeysAndSaysWhatItIs(t *testing.T) {
	s := read(t, everything(t))
	written := map[string]bool{} // paths without names and numbers, such as "/cables/*/ends/from"
	for path := range s.Places {
		written[path] = true
	}
	var look func(of reflect.Type, paths []string)
	look = func(of reflect.Type, paths []string) {
		switch of.Kind() {
		case reflect.Pointer:
			look(of.Elem(), paths)
		case reflect.Map, reflect.Slice:
			look(of.Elem(), below(written, paths))
		case reflect.Struct:
			for _, f := range reflect.VisibleFields(of) {
				key, _, _ := strings.Cut(f.Tag.Get("key"), ",")
				if key == "" {
					continue
				}
				var found []string
				for _, path := range paths {
					if written[path+"/"+key] {
						found = append(found, path+"/"+key)
					}
				}
				if len(found) == 0 {
					t.Errorf("the file has no %s of a %s", key, of)
				}
				if f.Tag.Get("doc") == "" {
					t.Errorf("%s of a %s does not say what it is", key, of)
				}
				if strings.HasSuffix(of.PkgPath(), "/scheme") && f.Name != "Parts" {
					look(f.Type, found)
				}
			}
		}
	}
	look(reflect.TypeFor[scheme.Scheme](), []string{""})
}

// below lists the written paths one step below others.
func below(written map[string]bool, paths []string) []string {
	var found []string
	for path := range written {
		if at := strings.LastIndexByte(path, '/'); at >= 0 && slices.Contains(paths, path[:at]) {
			found = append(found, path)
		}
	}
	return found
}

func TestWhatNoRuleJudgesIsNoted(t *testing.T) {
	s := read(t, everything(t))
	got := map[string]string{}
	for _, note := range s.Notes {
		if note.Rule != "scheme/not-judged" {
			continue
		}
		if note.Grade != finding.Note || note.Safety || note.ID != note.Rule+":"+note.Subject || note.Pos.Line == 0 {
			t.Errorf("%+v", note)
		}
		got[note.Subject] = note.Text
	}
	want := map[string]string{
		"Q1":    "no rule judges Q1 in full yet: neither the inrush that its contacts make, nor their resistance, which is not in the solved network",
		"C1":    "no rule judges C1 and C2 in full yet: not what ripple warms them",
		"B1":    "how warm it gets inside B1 and B2 is not worked out yet, so ambient must be that of the air in the box",
		"mains": "nothing is computed yet from mains, tariff and duty",
		"E1":    "no rule judges yet which rails are within reach of each other; E1, E2 and E3 are taken down as separate",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the notes are %v", got)
	}
	if finding.Blocks(s.Notes) {
		t.Error("a note spoils a pass")
	}
	for _, note := range read(t, footbridge(t)).Notes {
		if note.Text != "nothing is computed yet from mains, tariff and duty" {
			t.Errorf("the footbridge has none of these things, and the note %q", note.Text)
		}
	}
}
