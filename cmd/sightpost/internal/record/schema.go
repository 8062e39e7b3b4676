package record

import _ "embed" // for the schemas

// The schemas are made from the types of this package; TestSchema says how.
var (
	//go:embed schema-record.json
	schemaRecord string
	//go:embed schema-records.json
	schemaRecords string
	//go:embed schema-comparison.json
	schemaComparison string
)

// Schema returns the JSON Schema of a [Record].
func Schema() []byte { return []byte(schemaRecord) }

// ListSchema returns the JSON Schema of a [List].
func ListSchema() []byte { return []byte(schemaRecords) }

// ComparisonSchema returns the JSON Schema of a [Comparison].
func ComparisonSchema() []byte { return []byte(schemaComparison) }
