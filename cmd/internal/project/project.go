// Package project reads the project file of a job, sillwright.yaml: the rulebooks, levels and seal catalogues that hold for every door of
// it, and the deviations that an authority has accepted. It says which findings a deviation covers, and what became of each.
package project

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"sillwright/policies"
	"sillwright/schema"
)

// FileName is what a project file is called.
const FileName = "sillwright.yaml"

// Project is a project file that nothing is wrong with. Nothing in it changes after it was read, so that many doors can be judged by it
// at once. A nil one asks for nothing and accepts nothing.
type Project struct {
	File       string // as it is shown
	Digest     string // of its text
	Day        string // on which it is asked, as 2027-06-30
	Rulebooks  []policies.Ref
	Levels     map[string]string // by rule
	Catalogues []Catalogue
	Deviations []Deviation

	doc      schema.Document
	byMark   map[string][]int // deviations by their place in the file
	patterns []int
}

// Catalogue is a seal catalogue that a project file names.
type Catalogue struct {
	Path    string // with the folder of the project file before it
	pointer string
}

// Deviation is a rule that is not met, or not shown to be, and that an authority accepts of some doors.
type Deviation struct {
	Mark, Pattern string // one of the two
	Rule          string
	Option        string   // of this option only; empty: of all, and of the door
	Outcome       string   // what is accepted: fail or unknown
	Found         []string // only these, if any are named
	Acceptance    *policies.Acceptance

	pointer string
}

// Read reads a project file and holds it against the rules, as of a day. With problems there is no project.
func Read(file string, src []byte, rules *policies.Policies, day string) (*Project, []schema.Problem) {
	docs, problems := schema.Read(file, src)
	if len(problems) > 0 {
		for i := range problems {
			problems[i].Do = strings.ReplaceAll(problems[i].Do, "sillwright/door/1", "sillwright/project/1") // of a file with nothing in it
		}
		return nil, problems
	}
	if len(docs) != 1 {
		return nil, []schema.Problem{docs[1].Problem("", fmt.Sprintf("%d documents", len(docs)), "one project a file", "take the others out")}
	}
	s, err := schema.Named("project")
	if err != nil {
		return nil, []schema.Problem{{File: file, Found: err.Error()}}
	}
	problems = schema.Validate(docs[0], s)
	sum := sha256.Sum256(src)
	r := &reader{rules: rules, out: &Project{File: file, Digest: hex.EncodeToString(sum[:])[:12], Day: day, Levels: map[string]string{}, byMark: map[string][]int{}, doc: docs[0]}}
	r.rulebooks()
	r.rulebooksDir()
	r.levels()
	r.catalogues()
	r.accepted()
	// What is said here knows the rules, and says more than the schema does of the same value.
	problems = slices.DeleteFunc(problems, func(p schema.Problem) bool {
		return slices.ContainsFunc(r.problems, func(own schema.Problem) bool { return own.Pointer == p.Pointer })
	})
	problems = append(problems, r.problems...)
	slices.SortStableFunc(problems, schema.ComparePlaces)
	if len(problems) > 0 {
		return nil, problems
	}
	return r.out, nil
}

// RulebooksDir gives the folder of own rulebooks that a project file names, "" where it names none, and where that is written. What is wrong with
// the file is told by Read.
func RulebooksDir(file string, src []byte) (dir string, at schema.Problem) {
	docs, problems := schema.Read(file, src)
	if len(problems) > 0 || len(docs) != 1 {
		return "", at
	}
	n, ok := docs[0].Root.Member("rulebooks_dir")
	if !ok || n.Kind != schema.String || n.Text == "" || fromRoot(n.Text) {
		return "", at
	}
	return beside(file, n.Text), docs[0].Problem("/rulebooks_dir", fmt.Sprintf("the folder %q, which cannot be taken", n.Text), "a path from the folder of this file to a folder of rulebooks", "see what is told of it, or take it out")
}

func fromRoot(name string) bool { return path.IsAbs(name) || filepath.IsAbs(name) }

// Unreadable is the problem of a catalogue that could not be read.
func (p *Project) Unreadable(c Catalogue, why error) schema.Problem {
	return p.doc.Problem(c.pointer, fmt.Sprintf("catalogue %s, which cannot be read: %v", c.Path, why), "a path from the folder of this file", "look for a slip in it")
}

// Wrong is the problem of a catalogue with which something is wrong.
func (p *Project) Wrong(c Catalogue) schema.Problem {
	return p.doc.Problem(c.pointer, "catalogue "+c.Path+", with which something is wrong", "a seal catalogue, sillwright/seals/1", "see what is told of it, or take it out")
}

// Asked adds to the rulebooks that a spec names those that the project asks of every door.
func (p *Project) Asked(refs []policies.Ref) []policies.Ref {
	if p == nil {
		return refs
	}
	for _, own := range p.Rulebooks {
		if !slices.ContainsFunc(refs, func(r policies.Ref) bool { return r.ID == own.ID }) {
			refs = append(refs, own)
		}
	}
	return refs
}

// Level puts the levels that the project sets on findings.
func (p *Project) Level(findings []policies.Finding) {
	if p == nil {
		return
	}
	for i := range findings {
		if level := p.Levels[findings[i].Rule]; level != "" && level != findings[i].Level {
			findings[i].LevelWas, findings[i].Level = findings[i].Level, level
		}
	}
}

// AskedOfAll words the rulebooks that are asked of every door.
func (p *Project) AskedOfAll() []string {
	var out []string
	for _, ref := range p.Rulebooks {
		out = append(out, strings.TrimSpace(ref.ID+" "+ref.Variant))
	}
	return out
}

// LevelsSet words the levels that the project sets.
func (p *Project) LevelsSet() []string {
	var out []string
	for _, rule := range slices.Sorted(maps.Keys(p.Levels)) {
		out = append(out, rule+" "+p.Levels[rule])
	}
	return out
}

// LevelsOf words the levels that the project sets on rules that are among findings.
func (p *Project) LevelsOf(findings []policies.Finding) []string {
	var out []string
	for _, rule := range slices.Sorted(maps.Keys(p.Levels)) {
		if slices.ContainsFunc(findings, func(f policies.Finding) bool { return f.Rule == rule }) {
			out = append(out, rule+" "+p.Levels[rule])
		}
	}
	return out
}

// beside is a path that a project file names, from the folder of the file.
func beside(file, path string) string {
	return filepath.ToSlash(filepath.Join(filepath.Dir(filepath.FromSlash(file)), filepath.FromSlash(path)))
}
