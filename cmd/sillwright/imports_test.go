package main

import (
	"encoding/json"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// What each part of the house may import beside the standard library; a trailing slash
// means everything below. Tests may import more.
var mayImport = map[string][]string{
	"sillwright/schema":   {"sillwright/schema", "github.com/agnivade/levenshtein", "github.com/santhosh-tekuri/jsonschema/v5", "go.yaml.in/yaml/v3"},
	"sillwright/engine":   {"sillwright/engine", "sillwright/schema", "gonum.org/v1/gonum"},
	"sillwright/policies": {"sillwright/policies", "sillwright/schema", "github.com/open-policy-agent/opa"},
}

func TestImportDirections(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "sillwright/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(strings.NewReader(string(out)))
	seen := 0
	for {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		for part, allowed := range mayImport {
			if !within(p.ImportPath, part) {
				continue
			}
			seen++
			for _, i := range p.Imports {
				first, _, _ := strings.Cut(i, "/")
				standard := !strings.Contains(first, ".") && first != "sillwright"
				if !standard && !slices.ContainsFunc(allowed, func(a string) bool { return within(i, a) }) {
					t.Errorf("%s imports %s", p.ImportPath, i)
				}
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d packages looked at", seen)
	}
}

func within(path, part string) bool { return path == part || strings.HasPrefix(path, part+"/") }
