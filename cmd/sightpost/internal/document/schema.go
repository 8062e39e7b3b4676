package document

import "embed"

// The schemas are made from the types of this package; TestSchema says how.
//
//go:embed schema*.json
var schemas embed.FS

// Schema returns the JSON Schema of an object of this package: of a "result", which is a
// [Report], of "vary", "refit", "match", "records" or "comparison". The error says that
// there is no such object.
func Schema(object string) ([]byte, error) { return schemas.ReadFile("schema-" + object + ".json") }
