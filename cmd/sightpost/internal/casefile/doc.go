// Package casefile reads cases and kits from YAML into checked, typed values. Read
// [Case] for what comes out, [Entry] for the table of what may go in.
//
// There is one table of the case and one of the kit (table_case.go, table_chair.go,
// table_kit.go). A row has key, kind, bounds, default with its source, meaning, how it is
// measured, picture and part of the form. The reader walks the file's syntax tree along
// the table into a tree of nodes (read.go, node.go), and schemas (schema.go), form of the
// page, pictures, assumptions and the comparison of two cases ([Case.Values]) show the
// same rows. A test walks the table and fails where one of them lacks a row.
//
// Reading has four stages. The text must be plain YAML of bounded size (source.go). Its
// shape must be that of the table: this is exactly what the schema says too. Then bounds,
// orders and relations between entries are checked, which a schema cannot express
// (node.go, sense.go, kitsense.go). Then what only shows in space: keep-clear zones that
// contain an eye or the clamp, a kit that cannot be clamped (surroundings.go). Problems of
// one stage are reported together, each with its place ([Errors]).
//
// What was not measured is assumed, from published dimensions where there are some. Every
// assumption is listed with its source, and none may make a case unworkable: assumed zones
// give way to eyes and clamp.
//
// In files lengths are in any of a few units and bare numbers mm, angles in degrees or
// radians and bare numbers degrees. What comes out is in the units of the packages gaze
// and mount.
package casefile
