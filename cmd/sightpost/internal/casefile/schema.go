package casefile

import _ "embed" // for the schemas

// The schemas are made from the tables; TestSchemas says how.
var (
	//go:embed schema-case.json
	caseSchema string
	//go:embed schema-kit.json
	kitSchema string
)

// Schema returns the JSON Schema (2020-12) of case files. It accepts what [Read]
// accepts, but for what a schema cannot say: bounds of values with units, and
// relations between entries.
func Schema() []byte { return []byte(caseSchema) }

// KitSchema returns the JSON Schema (2020-12) of kit files; see [Schema].
func KitSchema() []byte { return []byte(kitSchema) }
