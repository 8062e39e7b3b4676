package record

import _ "embed" // for the schema

// The schema is made from the types of this package; TestSchema says how.
//
//go:embed schema-record.json
var schema string

// Schema returns the JSON Schema of a [Record].
func Schema() []byte { return []byte(schema) }
