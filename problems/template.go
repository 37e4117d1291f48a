package problems

import (
	"bytes"
	_ "embed"
	"fmt"

	"steelyard/problems/notation"
)

//go:embed template.toml
var template []byte

//go:embed scenario.schema.json
var schema []byte

// templateID is the id that the template has in its file.
const templateID = "quay-gangway"

// Template is the text of a working scenario to begin from, under an id of
// one's own: every key is in it, explained in comments, the optional ones
// behind a "#" without a blank after it.
func Template(id string) ([]byte, error) {
	if !idPattern().MatchString(id) {
		return nil, fmt.Errorf("\"%s\" is no id; an id is small letters, digits and single hyphens, like \"davit-arm\"", notation.PrintableMax(id, 40))
	}
	return bytes.Replace(template, []byte(`"`+templateID+`"`), []byte(`"`+id+`"`), 1), nil
}

// Schema is the JSON Schema (draft 2020-12) of a scenario file, for editors.
func Schema() []byte { return bytes.Clone(schema) }
