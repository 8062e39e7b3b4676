// Package casefile reads cases and kits from YAML into checked, typed values, and
// publishes the JSON Schema of both.
//
// One set of definitions does it all: the structs of forms.go and kitforms.go
// carry the key, the meaning, the bounds and the default of every entry in their
// tags. The reader walks the file's syntax tree along them (walk.go), the schema
// is written from them (schema.go), and the defaults they name are reported as
// assumptions with their sources (sources.go).
//
// Reading has four stages. The text must be plain YAML of bounded size
// (source.go). Its shape must be that of the forms: this is exactly what the
// schema says too. Then the sense is checked (sense.go, kitsense.go): bounds,
// orders and relations between entries, which a schema cannot express. Then what
// only shows in space: spaces to keep clear that hold an eye or the clamp, a kit that
// cannot be clamped. Problems of one stage are reported together, each with its
// place ([Errors]).
//
// What nobody has measured is assumed, from published dimensions where there are
// some: every assumption is listed with its source, and none may make a case
// unworkable, so that assumed spaces give way to eyes and clamp (surround.go).
//
// In files lengths are in any of a few units and bare numbers mm, angles in
// degrees or radians and bare numbers degrees. What comes out is in the units of
// the packages gaze and mount.
package casefile
