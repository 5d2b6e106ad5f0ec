// Package fact holds the names of the facts that rules read: what each is, its unit,
// where a spec gives it and how it is measured. The engine writes facts, the policies
// read them, and neither needs to know the other.
package fact

import (
	_ "embed"
	"fmt"
	"slices"
	"sync"

	"go.yaml.in/yaml/v3"
)

// Fact is a quantity or a word that rules read about a subject. A fact that is not in
// a Set is not known.
type Fact struct {
	Value   any      `json:"value"` // string, bool, int64 (nm, fN, microdegrees, nm2, days), or a structure of these
	At      []string `json:"at"`    // the JSON Pointers that it came from
	Formula string   `json:"formula,omitempty"`

	// What was not read, or is not set, may make a length more than it is known to be, never less; or less, never more.
	// Such a fact decides one way only.
	OrMore bool `json:"or_more,omitempty"`
	OrLess bool `json:"or_less,omitempty"`
}

// Set is the facts of one subject, by name.
type Set map[string]Fact

// Subject is what rules judge: the door, a leaf, or an option.
type Subject struct {
	ID    string `json:"id"`   // door, side:outside, leaf:A, option:x
	Kind  string `json:"kind"` // door, side, leaf, option
	Facts Set    `json:"facts"`
}

// Kind of a fact's value.
type Kind string

// The kinds of value that rules can compare.
const (
	Word      Kind = "word"
	Truth     Kind = "truth"
	Length    Kind = "length" // whole nanometres
	Force     Kind = "force"  // whole femtonewtons
	Angle     Kind = "angle"  // whole microdegrees
	Area      Kind = "area"   // whole square nanometres
	Date      Kind = "date"   // whole days from 1970-01-01
	Structure Kind = "structure"
)

// IsKind tells the name of a kind.
func IsKind(name string) bool {
	return slices.Contains([]Kind{Word, Truth, Length, Force, Angle, Area, Date, Structure}, Kind(name))
}

// Description says what a fact is, to a person.
type Description struct {
	Name    string   `yaml:"-"`
	Kind    Kind     `yaml:"kind"`
	Title   string   `yaml:"title"`
	Subject string   `yaml:"subject"` // what has it
	Also    []string `yaml:"also"`    // the kinds of subject that the engine gives it too
	Pointer string   `yaml:"pointer"` // where the spec gives it; {side} stands for the side that is judged
	Measure string   `yaml:"measure"` // how to find it out
	Words   []string `yaml:"words"`   // what a word fact may be
}

// Of says whether a kind of subject can have the fact.
func (d Description) Of(subject string) bool {
	return d.Subject == subject || slices.Contains(d.Also, subject)
}

//go:embed facts.yaml
var source []byte

var load = sync.OnceValue(func() map[string]Description {
	var out map[string]Description
	if err := yaml.Unmarshal(source, &out); err != nil {
		panic(fmt.Sprintf("facts.yaml: %v", err)) // the file is ours; a test reads it
	}
	for name, d := range out {
		d.Name = name
		out[name] = d
	}
	return out
})

// Describe gives the description of a fact.
func Describe(name string) (Description, bool) {
	d, ok := load()[name]
	return d, ok
}

// Names lists every fact, sorted.
func Names() []string {
	var out []string
	for name := range load() {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
