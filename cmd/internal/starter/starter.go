// Package starter holds the files that a rulebook of one's own begins with: small, whole and proven.
package starter

import (
	"bytes"
	"embed"
	"text/template"
)

//go:embed rulebook.yaml cases.yaml question.rego
var files embed.FS

// File is one file to write.
type File struct {
	Name string
	Text []byte
}

// Files gives the files of a rulebook by its id; with the name of a question, also one in Rego and a rule that asks it.
func Files(id, question, year string) ([]File, error) {
	var out []File
	for _, f := range []struct{ from, to string }{{"rulebook.yaml", id + ".yaml"}, {"cases.yaml", id + ".cases.yaml"}, {"question.rego", question + ".rego"}} {
		if f.from == "question.rego" && question == "" {
			continue
		}
		t, err := template.ParseFS(files, f.from)
		if err != nil {
			return nil, err
		}
		var b bytes.Buffer
		if err := t.Execute(&b, map[string]string{"ID": id, "Question": question, "Year": year}); err != nil {
			return nil, err
		}
		out = append(out, File{f.to, b.Bytes()})
	}
	return out, nil
}
