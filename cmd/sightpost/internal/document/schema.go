package document

import _ "embed" // for the schemas

// The schemas are made from the types of this package; TestSchema says how.
var (
	//go:embed schema.json
	schema string
	//go:embed schema-vary.json
	schemaVary string
	//go:embed schema-refit.json
	schemaRefit string
	//go:embed schema-match.json
	schemaMatch string
)

// Schema returns the JSON Schema of a [Report].
func Schema() []byte { return []byte(schema) }

// VarySchema returns the JSON Schema of a [Vary].
func VarySchema() []byte { return []byte(schemaVary) }

// RefitSchema returns the JSON Schema of a [Refit].
func RefitSchema() []byte { return []byte(schemaRefit) }

// MatchSchema returns the JSON Schema of a [Match].
func MatchSchema() []byte { return []byte(schemaMatch) }
