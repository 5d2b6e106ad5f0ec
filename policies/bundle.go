package policies

import (
	"io"
	"maps"
	"path"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/bundle"
)

// Query is what a bundle is asked, with an input of InputFormat: one outcome for every rule and subject.
const Query = "data.sillwright.outcomes"

// InputFormat is the format that an input names, and the only one that the questions of a bundle read.
const InputFormat = "sillwright/input/1"

// WriteBundle writes the rulebooks and questions, without tests and cases, as a bundle for stock OPA. Its roots
// are what Data gives and the package of the modules, its revision is the digest, and its metadata names the version of
// the program, the input and the query. The same program writes the same bytes: modules go in order, and the library
// writes keys in order and no times.
func (p *Policies) WriteBundle(w io.Writer, version string) error {
	data, err := p.Data()
	if err != nil {
		return err
	}
	modules, err := Modules()
	if err != nil {
		return err
	}
	manifest := bundle.Manifest{Revision: p.Digest, Roots: &[]string{"rulebooks", "sillwright"}, Metadata: map[string]any{
		"program": "sillwright", "version": version, "input": InputFormat, "query": Query,
	}}
	manifest.SetRegoVersion(ast.RegoV1)
	b := bundle.Bundle{Manifest: manifest, Data: data}
	for _, name := range slices.Sorted(maps.Keys(modules)) {
		b.Modules = append(b.Modules, bundle.ModuleFile{Path: path.Join("sillwright", name), Raw: []byte(modules[name])})
	}
	for _, f := range p.own.questions() {
		b.Modules = append(b.Modules, bundle.ModuleFile{Path: path.Join("sillwright", "own", f.name), Raw: f.src})
	}
	return bundle.NewWriter(w).UseModulePath(true).Write(b)
}
