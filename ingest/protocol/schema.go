package protocol

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"go.yaml.in/yaml/v3"
)

// schema is a JSON Schema, draft 2020-12 (json-schema.org/draft/2020-12).
type schema = map[string]any

// shape collects what the reader asks a mapping for. The schema is made by letting
// the reader itself read mappings without keys, so that it says what the reader
// does; a nil shape collects nothing.
type shape struct {
	properties map[string]schema
	required   []string
	// oneOf are keys of which at least one must be there.
	oneOf []string
}

func (s *shape) tell(key string, of schema) {
	if s != nil {
		s.properties[key] = of
	}
}

func (s *shape) require(key string) {
	if s != nil && !slices.Contains(s.required, key) {
		s.required = append(s.required, key)
	}
}

func (s *shape) requireOne(keys ...string) {
	if s != nil {
		s.oneOf = keys
	}
}

// fill says that a list must not be empty.
func (s *shape) fill(key string) {
	if s == nil {
		return
	}
	for _, form := range s.properties[key]["anyOf"].([]schema) {
		if form["type"] == "array" {
			form["minItems"] = 1
		}
	}
}

// shapeOf is what a reading function asks for.
func shapeOf(read func(*fields)) *shape {
	f := &fields{reader: &reader{}, node: &yaml.Node{Kind: yaml.MappingNode}, shape: &shape{properties: map[string]schema{}}}
	read(f)
	return f.shape
}

// object is the schema of a mapping of this shape and no other keys.
func (s *shape) object() schema {
	o := schema{"type": "object", "properties": s.properties, "additionalProperties": false}
	if len(s.required) > 0 {
		o["required"] = s.required
	}
	for _, key := range s.oneOf {
		given, _ := o["anyOf"].([]schema)
		o["anyOf"] = append(given, schema{"required": []string{key}})
	}
	return o
}

// catalogue names words that this package does not know.
type catalogue string

const (
	measures catalogue = "measure"
	indices  catalogue = "index"
)

func (c catalogue) schema() schema { return schema{"$ref": "#/$defs/" + string(c)} }

// What stands for a text or an id may be read by YAML as a number or a truth value.
var (
	textSchema = schema{"type": []string{"string", "number", "boolean"}, "minLength": 1}
	idSchema   = schema{"type": []string{"string", "integer"}, "pattern": kebab.String(), "minimum": 0}
	// titleSchema says in an expression of ECMA-262 what breaksLine says.
	titleSchema = schema{"type": textSchema["type"], "pattern": fmt.Sprintf(`^[^\u0000-\u001f\u007f-\u009f\u2028\u2029]{1,%d}\n*$`, maxTitle)}
)

// wordSchema is one of known; any id where the words stand in the file itself.
func wordSchema(known []string) schema {
	if len(known) == 0 {
		return idSchema
	}
	return schema{"enum": known}
}

// listSchema is one value or a list of values.
func listSchema(of schema) schema {
	return schema{"anyOf": []schema{of, {"type": "array", "items": of, "maxItems": maxList}}}
}

// setSchema is one value or a list of values, each once.
func setSchema(of schema) schema {
	return schema{"anyOf": []schema{of, {"type": "array", "items": of, "uniqueItems": true, "maxItems": maxList}}}
}

// Schema is the JSON Schema of protocol files, for editors that complete and check.
// The words for measures and indices are those given. It refuses nothing that Parse
// takes; what one part of a file says of another, as that ids are given once, a
// schema cannot say.
func Schema(measureIDs, indexIDs []string) ([]byte, error) {
	document := shapeOf(func(f *fields) { f.head(&Protocol{}) })
	document.tell("extends", textSchema)
	document.tell("sources", schema{"type": "object", "minProperties": 1, "maxProperties": maxList, "propertyNames": schema{"pattern": kebab.String()}, "additionalProperties": textSchema})
	document.tell("when", whenSchema())
	document.tell("uncertainty", shapeOf(func(f *fields) { f.uncertainty() }).object())
	document.tell("drop", setSchema(idSchema))
	document.tell("items", schema{"type": "array", "items": changeSchema()})
	whole := document.object()
	whole["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	whole["title"] = "Leadline protocol"
	whole["if"] = schema{"required": []string{"extends"}}
	whole["else"] = schema{
		"required": []string{"sources", "when", "items"},
		"properties": schema{
			"drop":  false,
			"items": schema{"minItems": 1, "items": itemSchema()},
		},
	}
	whole["$defs"] = schema{
		string(measures): schema{"enum": measureIDs},
		string(indices):  schema{"enum": indexIDs},
	}
	return json.MarshalIndent(whole, "", "  ")
}

// whenSchema asks also for one entry or more.
func whenSchema() schema {
	s := shapeOf(func(f *fields) { f.when() }).object()
	var filled []schema
	for _, key := range whenLists {
		filled = append(filled, schema{"required": []string{key}, "properties": schema{key: schema{"not": schema{"type": "array", "maxItems": 0}}}})
	}
	s["anyOf"] = filled
	return s
}

// itemShape is what stands around a rule.
func itemShape() *shape {
	s := shapeOf(func(f *fields) { f.item(nil) })
	s.require("sources")
	s.fill("sources")
	condition := shapeOf(func(f *fields) { f.condition() }).object()
	condition["minProperties"] = 1
	s.tell("if", condition)
	return s
}

func ruleShape(kind Kind) *shape {
	s := shapeOf(func(f *fields) { f.rule(f, kind) })
	s.tell("kind", schema{"const": kind})
	s.require("kind")
	return s
}

// itemSchema is an item that stands alone: with the keys of its kind, or any-of.
func itemSchema() schema {
	item := itemShape()
	grouped := &shape{properties: maps.Clone(item.properties), required: []string{"any-of"}}
	grouped.tell("any-of", anyOfSchema())
	return schema{
		"type": "object", "required": item.required,
		"allOf": append(byKind(item.properties), schema{"if": schema{"not": schema{"required": []string{"kind"}}}, "then": grouped.object()}),
	}
}

func anyOfSchema() schema {
	rule := schema{
		"type": "object", "required": []string{"kind"},
		"properties": schema{"kind": wordSchema(kinds)}, "allOf": byKind(nil),
	}
	return schema{"type": "array", "minItems": 2, "items": rule}
}

// byKind holds a mapping to the keys of the kind that it names, and to a kind that
// there is.
func byKind(around map[string]schema) []schema {
	out := []schema{{"properties": schema{"kind": wordSchema(kinds)}}}
	for _, kind := range kinds {
		s := ruleShape(Kind(kind))
		maps.Copy(s.properties, around)
		then := s.object()
		switch Kind(kind) {
		case KindHeader:
			then["dependentSchemas"] = dependent([]string{"min", "max"}, "fact", schema{"enum": slices.Sorted(maps.Keys(numericFacts))})
		case KindImage:
			then["dependentSchemas"] = dependent(clipKeys, "type", schema{"const": "clip"})
		}
		isKind := schema{"properties": schema{"kind": schema{"const": kind}}, "required": []string{"kind"}}
		out = append(out, schema{"if": isKind, "then": then})
	}
	return out
}

// dependent asks, beside any of keys, that another has a value of a schema.
func dependent(keys []string, other string, value schema) schema {
	out := schema{}
	for _, key := range keys {
		out[key] = schema{"properties": schema{other: value}, "required": []string{other}}
	}
	return out
}

// changeSchema is an item beside extends, which may be a part of one: any key of an
// item, whatever its kind.
func changeSchema() schema {
	s := itemShape()
	for _, kind := range kinds {
		maps.Copy(s.properties, ruleShape(Kind(kind)).properties)
	}
	s.tell("kind", wordSchema(kinds))
	s.tell("any-of", anyOfSchema())
	s.required = []string{"id"}
	return s.object()
}
