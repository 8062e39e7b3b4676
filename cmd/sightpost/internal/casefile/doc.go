// Package casefile reads cases and kits from YAML into checked, typed values, and
// publishes the JSON Schema of both.
//
// One set of definitions does it all: the structs of forms.go and kitforms.go
// carry the key, the meaning, the bounds and the default of every entry in their
// tags. The reader walks the file's syntax tree along them (walk.go), the schema
// is written from them (schema.go), and the defaults they name are reported as
// assumptions with their sources (sources.go).
//
// Reading has three stages. The text must be plain YAML of bounded size
// (source.go). Its shape must be that of the forms: this is exactly what the
// schema says too. Then the sense is checked (sense.go, kitsense.go): bounds,
// orders and relations between entries, which a schema cannot express. Problems
// of one stage are reported together, each with its place ([Errors]).
//
// In files lengths are in any of a few units and bare numbers mm, angles in
// degrees or radians and bare numbers degrees. What comes out is in the units of
// the packages gaze and mount.
package casefile
