package parts

import (
	"reflect"
	"strings"

	"farend/internal/document"
	"farend/unit"
)

// Schema says how a value may be written: the number alone, or with its basis, source and spread.
func (v Value[T]) Schema(s *document.Sketch) document.Schema {
	d := v.Is.Dimension()
	return s.Define(strings.ReplaceAll(d.Name, " ", "-")+"-of-a-part", func() document.Schema {
		schema := document.AnyOf(s.Of(reflect.TypeFor[T]()), s.Object(reflect.TypeFor[full[T]]()))
		schema["examples"] = []any{d.Example}
		return schema
	})
}

// Schema says how a band may be written.
func (b Band[T]) Schema(s *document.Sketch) document.Schema {
	return s.Define(strings.ReplaceAll(b.Low.Is.Dimension().Name, " ", "-")+"-band", func() document.Schema { return s.Object(reflect.TypeFor[Band[T]]()) })
}

// Schema says how a spread may be written.
func (Spread) Schema(s *document.Sketch) document.Schema {
	return s.Define("spread", func() document.Schema {
		schema := document.AnyOf(s.Of(reflect.TypeFor[unit.Ratio]()), s.Object(reflect.TypeFor[wide]()))
		schema["examples"] = []any{"10 %"}
		return schema
	})
}

// Schema says how a current-carrying capacity may be written: one for every method, or one for each.
func (a Ampacity) Schema(s *document.Sketch) document.Schema {
	schema := document.AnyOf(a.Conduit.Schema(s), s.Object(reflect.TypeFor[Ampacity]()))
	schema["examples"] = []any{"15 A"}
	return schema
}

// Schema is that of the struct, for a channel that is regulated or limited by resistors.
func (Channel) Schema(s *document.Sketch) document.Schema {
	return s.Define("channel", func() document.Schema {
		schema := s.Object(reflect.TypeFor[Channel]())
		schema["anyOf"] = []any{
			document.Schema{"required": []any{"set", "hi"}, "properties": document.Schema{"string": false}},
			document.Schema{"required": []any{"string"}, "properties": document.Schema{"set": false, "hi": false}},
		}
		return schema
	})
}

// Schema is that of the struct, for a gate with one time at least.
func (Gate) Schema(s *document.Sketch) document.Schema {
	return s.Define("gate", func() document.Schema {
		schema := s.Object(reflect.TypeFor[Gate]())
		schema["anyOf"] = []any{document.Schema{"required": []any{"min"}}, document.Schema{"required": []any{"max"}}}
		return schema
	})
}

// Schema is that of the struct, with what the words for levels may be.
func (Logic) Schema(s *document.Sketch) document.Schema {
	return s.Define("logic", func() document.Schema {
		schema := s.Object(reflect.TypeFor[Logic]())
		volts, share := s.Of(reflect.TypeFor[unit.Volt]()), s.Of(reflect.TypeFor[unit.Ratio]())
		properties := schema["properties"].(map[string]any)
		properties["supply"] = described(properties["supply"], document.AnyOf(document.Schema{"const": "rail"}, volts))
		properties["high"] = described(properties["high"], document.AnyOf(share, volts))
		properties["low"] = described(properties["low"], document.AnyOf(share, volts))
		return schema
	})
}

// described is a schema with the description of another.
func described(as any, s document.Schema) document.Schema {
	s["description"] = as.(document.Schema)["description"]
	return s
}

// Schema is parts by name; the word before the slash says which form each has.
func (Set) Schema(s *document.Sketch) document.Schema {
	byKind := document.Schema{}
	for _, k := range kinds() {
		byKind["^"+k.name+"/[a-zA-Z0-9_.-]+$"] = s.Of(reflect.TypeOf(k.make()))
	}
	return document.Schema{"type": "object", "patternProperties": byKind, "additionalProperties": false}
}
