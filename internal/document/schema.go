package document

import (
	"encoding"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"farend/unit"
)

// A Schema is a JSON Schema (draft 2020-12) as plain data.
type Schema map[string]any

// Schematic is implemented by types that decode a node or a text themselves, to say what they accept.
type Schematic interface{ Schema(*Sketch) Schema }

// patterned is implemented by types that read texts of one pattern.
type patterned interface {
	Pattern() string
	Example() string
}

// A Sketch makes schemas of the types that are decoded, and gathers the definitions that they share.
type Sketch struct {
	// Refine, if it is there, completes the schema of a field by tags of its own.
	Refine func(reflect.StructField, Schema) Schema

	defs map[string]Schema
}

// NewSketch is a sketch without definitions.
func NewSketch() *Sketch { return &Sketch{defs: map[string]Schema{}} }

// Definitions is every definition made so far, by name.
func (s *Sketch) Definitions() map[string]Schema { return maps.Clone(s.defs) }

// Of is the schema of what decoding accepts for a type.
func (s *Sketch) Of(t reflect.Type) Schema {
	t = plainType(t)
	switch v := reflect.New(t).Interface().(type) {
	case Schematic:
		return v.Schema(s)
	case measured:
		return s.Quantity(v.Dimension())
	case patterned:
		return Matching(v.Pattern(), v.Example())
	case Words:
		return Schema{"enum": texts(v.Words())}
	case encoding.TextUnmarshaler:
		panic("document: " + t.String() + " reads text and does not say which")
	}
	switch t.Kind() {
	case reflect.Struct:
		return s.Define(t.String(), func() Schema { return s.Object(t) })
	case reflect.Map:
		return Schema{"type": "object", "additionalProperties": s.Of(t.Elem())}
	case reflect.Slice:
		return Schema{"type": "array", "items": s.Of(t.Elem())}
	case reflect.String:
		return Schema{"type": []any{"string", "number", "boolean"}} // YAML takes some texts for others
	case reflect.Bool:
		return s.Define("yes-or-no", func() Schema {
			return AnyOf(Schema{"type": "boolean"}, Matching("^([yY][eE][sS]|[nN][oO]|[tT][rR][uU][eE]|[fF][aA][lL][sS][eE])$", "yes", "no"))
		})
	case reflect.Int:
		return s.Define("whole-number", func() Schema { return AnyOf(Schema{"type": "integer"}, Matching("^[+-]?[0-9]+$", "150")) })
	case reflect.Float64:
		return s.Define("number", func() Schema {
			return AnyOf(Schema{"type": "number"}, Matching("^[+-]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][+-]?[0-9]+)?$", "0.5"))
		})
	}
	panic("document: no schema for " + t.String())
}

// Object is the schema of a map that is read into a struct by its key tags.
func (s *Sketch) Object(t reflect.Type) Schema {
	properties, required, together := map[string]any{}, []string{}, map[string]any{}
	for key, f := range fieldsOf(t) {
		field := t.FieldByIndex(f.index)
		property := maps.Clone(s.Of(field.Type))
		if s.Refine != nil {
			property = s.Refine(field, property)
		}
		if f.like != "" && plainType(field.Type).Kind() != reflect.Map {
			property["examples"] = []any{meaningOf(f.like)}
		}
		if f.doc != "" {
			property["description"] = f.doc
		}
		if least, err := strconv.Atoi(field.Tag.Get("least")); err == nil {
			property["minProperties"], property["minItems"] = least, least // each of which means nothing to the other kind
		}
		if with := field.Tag.Get("with"); with != "" {
			together[key] = []any{with}
		}
		properties[key] = property
		if f.required {
			required = append(required, key)
		}
	}
	object := Schema{"type": "object", "additionalProperties": false, "properties": properties}
	if len(required) > 0 {
		slices.Sort(required)
		object["required"] = texts(required)
	}
	if len(together) > 0 {
		object["dependentRequired"] = together
	}
	return object
}

// meaningOf is what a piece of YAML stands for in JSON.
func meaningOf(text string) any {
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err != nil {
		panic("document: " + err.Error())
	}
	return v
}

// Quantity is the schema of a number with its unit.
func (s *Sketch) Quantity(d *unit.Dimension) Schema {
	return s.Define(strings.ReplaceAll(d.Name, " ", "-"), func() Schema {
		return Schema{"type": "string", "pattern": d.Pattern(), "description": article(d.Name) + " with its unit", "examples": []any{d.Example}}
	})
}

// Define is a reference to the definition of that name, which is made when it is first asked for.
func (s *Sketch) Define(name string, make func() Schema) Schema {
	if _, known := s.defs[name]; !known {
		s.defs[name] = nil // it may ask for itself
		s.defs[name] = make()
	}
	return Schema{"$ref": "#/$defs/" + name}
}

// examples is what the schema of a type, or the definition that it refers to, shows.
func (s *Sketch) examples(of Schematic) []any {
	schema := of.Schema(s)
	if ref, ok := schema["$ref"].(string); ok {
		schema = s.defs[strings.TrimPrefix(ref, "#/$defs/")]
	}
	shown, _ := schema["examples"].([]any)
	return shown
}

// AnyOf is a schema of what at least one of others accepts.
func AnyOf(others ...Schema) Schema {
	list := make([]any, len(others))
	for i, one := range others {
		list[i] = one
	}
	return Schema{"anyOf": list}
}

// Matching is the schema of texts that match a pattern.
func Matching(pattern string, examples ...string) Schema {
	return Schema{"type": "string", "pattern": pattern, "examples": texts(examples)}
}

func texts(list []string) []any {
	all := make([]any, len(list))
	for i, text := range list {
		all[i] = text
	}
	return all
}
