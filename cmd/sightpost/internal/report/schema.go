package report

import _ "embed" // for the schema

// schema is made from the types of this package; TestSchema says how.
//
//go:embed schema.json
var schema string

// Schema returns the JSON Schema of a [Report].
func Schema() []byte { return []byte(schema) }
