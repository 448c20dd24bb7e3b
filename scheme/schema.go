package scheme

import (
	"encoding/json"
	"reflect"
	"strings"

	"farend/internal/document"
	"farend/parts"
	"farend/unit"
)

// Schema is a JSON Schema (draft 2020-12) of scheme files, made of the types that read them. It accepts what can be read: every
// key with a value of its form, every spelling of a unit. Whether names lead somewhere, and numbers make sense, it cannot know.
func Schema() []byte {
	sketch := document.NewSketch()
	sketch.Refine = func(f reflect.StructField, s document.Schema) document.Schema { return refine(sketch, f, s) }
	schema := sketch.Object(reflect.TypeFor[Scheme]())
	schema["properties"].(map[string]any)["farend"] = document.Schema{
		"description": "version of the form of this file",
		"anyOf":       []any{document.Schema{"const": form}, document.Schema{"type": "string", "pattern": "^[+]?0*1$"}},
	}
	schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	schema["$id"] = "urn:farend:scheme:1"
	schema["title"] = "Farend scheme"
	schema["description"] = "One addressable-LED installation: NAME.scheme.yaml. Every quantity carries its unit as text."
	schema["$defs"] = sketch.Definitions()
	text, err := json.MarshalIndent(schema, "", "  ")
	if err != nil {
		panic("scheme: " + err.Error())
	}
	return append(text, '\n')
}

// refine completes a field by its tags: part, the kind of part it names, and names, what its keys are.
func refine(sketch *document.Sketch, f reflect.StructField, s document.Schema) document.Schema {
	if tag := f.Tag.Get("part"); tag != "" {
		named := partNamed(sketch, tag)
		if f.Type.Kind() == reflect.Map {
			s["additionalProperties"] = named
		} else {
			s = named
		}
	}
	if names := f.Tag.Get("names"); names != "" {
		s["propertyNames"] = document.Schema{"pattern": keyPatterns[names]}
	}
	return s
}

const identifierPattern = "[a-zA-Z][a-zA-Z0-9_-]*"

// keyPatterns is what the keys of maps look like, by the word of the tag names.
var keyPatterns = map[string]string{
	"identifier": "^" + identifierPattern + "$",
	"way":        "^ *" + identifierPattern + "\\.[0-9]+ *$",
	"digits":     "^[0-9]+$",
	"port":       "^([a-hj-zA-Z]|i[a-mo-zA-Z0-9_-]|in[a-zA-Z0-9_-])[a-zA-Z0-9_-]*$|^i$", // a word that is not in
	"channel":    "^(" + strings.Join(parts.ChannelNames(), "|") + ")$",
}

// partNamed is the schema of the name of a part of a kind, with those of the catalogue to choose from; where "choose" follows the
// kind, of that word too.
func partNamed(sketch *document.Sketch, tag string) document.Schema {
	kind, open, _ := strings.Cut(tag, ",")
	return sketch.Define("name-of-"+strings.ReplaceAll(tag, ",", "-or-"), func() document.Schema {
		pattern := "^" + kind + "/.+$"
		if open != "" {
			pattern = "^(" + kind + "/.+|" + open + ")$"
		}
		return document.Matching(pattern, parts.Catalogue().Names(kind)...)
	})
}

// Schema says which temperatures of copper there are.
func (Conductors) Schema(s *document.Sketch) document.Schema {
	schema := document.AnyOf(document.Matching("^ *warm *$", "warm"), s.Quantity(unit.Celsius(0).Dimension()))
	schema["examples"] = []any{"warm", "20 °C"}
	return schema
}

// Schema says which colours there are.
func (Colour) Schema(*document.Sketch) document.Schema {
	return document.Matching("^ *("+strings.Join(colourWords(), "|")+"|#[0-9a-fA-F]{6}) *$", "white", "#ffb060")
}

// stationPattern is a station without the cut mark: its ends, a pixel, a length.
func stationPattern() string {
	length := strings.TrimSuffix(strings.TrimPrefix(unit.Metre(0).Dimension().Pattern(), "^"), "$")
	return " *(start|end|(px[0-9]+|" + length + ")(-)?) *"
}

// Schema says which stations there are.
func (Station) Schema(s *document.Sketch) document.Schema {
	return s.Define("station", func() document.Schema {
		schema := document.Matching("^"+stationPattern()+"$", "px120", "start", "end", "2.5m")
		schema["description"] = "a cut mark of a run: start, end, a pixel, or a length from the data-in end"
		return schema
	})
}

// Schema says which places there are.
func (Ref) Schema(s *document.Sketch) document.Schema {
	return s.Define("place", func() document.Schema {
		schema := document.Matching("^ *"+identifierPattern+"(\\.[a-zA-Z0-9_-]+| *@"+stationPattern()+")? *$", "T1", "A1.in", "A1.1", "A1.P1", "X1", "E1@start", "E1@px144", "E1@2.5m")
		schema["description"] = "a supply T1, an inlet A1.in, a way A1.1, a port A1.P1, a junction X1, a station E1@start or a run E1"
		return schema
	})
}
