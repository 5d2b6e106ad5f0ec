package schema

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"sync"
)

//go:embed *.schema.json
var published embed.FS

// Names lists the published schemas: door, rulebook, seals, ...
func Names() []string {
	entries, err := published.ReadDir(".")
	if err != nil {
		panic(err) // embedded
	}
	var out []string
	for _, e := range entries {
		name, _, _ := strings.Cut(e.Name(), "-")
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// Source is the text of a published schema.
func Source(name string) ([]byte, error) {
	entries, err := published.ReadDir(".")
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if own, _, _ := strings.Cut(e.Name(), "-"); own == name {
			return published.ReadFile(e.Name())
		}
	}
	return nil, fmt.Errorf("schema %q is not known: %s", name, Choices(name, Names()))
}

var compiled sync.Map // name to *Schema

// Named is a published schema, compiled once.
func Named(name string) (*Schema, error) {
	if s, ok := compiled.Load(name); ok {
		return s.(*Schema), nil
	}
	src, err := Source(name)
	if err != nil {
		return nil, err
	}
	s, err := Compile(name, src)
	if err != nil {
		return nil, err
	}
	compiled.Store(name, s)
	return s, nil
}
