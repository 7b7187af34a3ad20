package job

import (
	_ "embed" // the schema
	"slices"
)

//go:embed schema.json
var schema []byte

// Schema returns the JSON Schema (draft 2020-12) of the job file, for editors
// that check YAML as it is typed. It knows keys, words and shapes; what a
// length says, what names mean and whether drawings exist only Read knows.
func Schema() []byte { return slices.Clone(schema) }
