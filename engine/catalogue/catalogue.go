// Package catalogue reads seal catalogues (format sillwright/seals/1) into the seal
// models of package seal. The built-in one holds generic kinds only.
package catalogue

import (
	"cmp"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"slices"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/engine/seal"
	"sillwright/schema"
	"sillwright/schema/quantity"
)

//go:embed generic.yaml
var generic []byte

// Seal is one entry.
type Seal struct {
	Name   string
	Title  string
	Kind   string
	Length quantity.Length // free length or height; 0 where the kind has none
	Least  quantity.Length // overlap that it is made for, from
	Most   quantity.Length // and to; 0 where the kind has none
	Model  seal.Model      // nil: its leakage cannot be predicted
	From   map[string]string

	Embedded *Embedded   // nil: no blade is embedded
	Foot     doubt.Range // clearance between each end and the jamb, m
	Tests    []seal.Test // flow tests that calibrate Model, in order of their overlaps
	Drag     drag.Seal   // nil: how hard it drags on the floor is not predicted
	Pulls    []drag.Pull // pull tests that stand before Drag, as written: see DragOn
	Life     float64     // cycles that it was tested for; 0: not said
	Wear     Wear        // what it says of set and wear
}

// genericFoot is taken for a seal of which nothing is said: engineering judgement, not measured.
var genericFoot = doubt.Range{Low: 0.0005, Likely: 0.002, High: 0.004}

// Material is what rubs on the floor.
func (s *Seal) Material() drag.Material {
	if s.Kind == "brush" || s.Kind == "tufted-brush" {
		return drag.Bristle
	}
	return drag.Rubber
}

// Embedded is an airtight blade within the bristles of a brush.
type Embedded struct {
	Height quantity.Length
	Reach  quantity.Length // from the root of the bristles to the tip of the blade; 0 where it is not said
}

// Catalogue is seals by name.
type Catalogue struct {
	seals  map[string]*Seal
	nodes  map[string]*schema.Node // what each seal says, for those that are like it
	Digest string                  // of every file that it was read from

	byLength []*Seal
}

// Generic is the built-in catalogue.
func Generic() (*Catalogue, error) {
	c := &Catalogue{seals: map[string]*Seal{}, nodes: map[string]*schema.Node{}}
	if problems := c.Add("generic.yaml", generic); len(problems) > 0 {
		return nil, problems[0]
	}
	return c, nil
}

// Add reads a catalogue file into this one. A name that is taken is a problem: nothing
// may change what a known seal means.
func (c *Catalogue) Add(file string, src []byte) []schema.Problem {
	docs, problems := schema.Read(file, src)
	if len(problems) > 0 {
		return problems
	}
	s, err := schema.Named("seals")
	if err != nil {
		return []schema.Problem{{File: file, Found: err.Error()}}
	}
	for _, doc := range docs {
		found := schema.Validate(doc, s)
		problems = append(problems, found...)
		seals, ok := doc.Root.Member("seals")
		if !ok {
			continue
		}
		for _, m := range seals.Members {
			r := &reader{doc: doc, pointer: schema.Pointer("seals", m.Key), node: c.complete(m.Value), own: m.Value, from: map[string]string{}}
			if like, ok := m.Value.Member("like"); ok {
				if _, known := c.nodes[like.Text]; !known {
					r.problem(like.Span, "/like", fmt.Sprintf("%q", like.Text), schema.Choices(like.Text, c.Names()), "name a seal that stands above, or in the built-in catalogue")
				}
			}
			entry := r.seal(m.Key)
			if len(r.problems)+len(found) == 0 {
				r.computable(entry)
			}
			if _, taken := c.seals[m.Key]; taken {
				r.problem(m.KeySpan, "", fmt.Sprintf("seal %q a second time", m.Key), "a name that no catalogue has yet", "rename it, for example "+m.Key+"-own")
			}
			if len(r.problems)+len(found) == 0 {
				c.seals[m.Key], c.nodes[m.Key] = &entry, r.node
			}
			problems = append(problems, r.problems...)
		}
	}
	slices.SortStableFunc(problems, schema.ComparePlaces)
	problems = slices.CompactFunc(problems, func(a, b schema.Problem) bool { return a.Field == b.Field && a.Span == b.Span })
	c.sort()
	sum := sha256.Sum256(append([]byte(c.Digest), src...))
	c.Digest = hex.EncodeToString(sum[:])[:12]
	return problems
}

// ofThePiece is what is true of the piece that was tested, and of none that is like it.
var ofThePiece = []string{"tests", "pulls", "life", "worn"}

// complete adds to a seal what it leaves to the one that it is like.
func (c *Catalogue) complete(n *schema.Node) *schema.Node {
	like, ok := n.Member("like")
	if !ok || c.nodes[like.Text] == nil {
		return n
	}
	whole := *n
	whole.Members = slices.Clone(n.Members)
	for _, m := range c.nodes[like.Text].Members {
		if _, own := n.Member(m.Key); !own && !slices.Contains(ofThePiece, m.Key) {
			whole.Members = append(whole.Members, m)
		}
	}
	return &whole
}

// Seal gives a seal by its name, an empty one where the catalogue has none. It is the catalogue's own, to be read only.
func (c *Catalogue) Seal(name string) (*Seal, bool) {
	if s, ok := c.seals[name]; ok {
		return s, true
	}
	return &empty, false
}

// ByLength lists the seals, the shortest first, of one length by name. They are the catalogue's own, to be read only.
func (c *Catalogue) ByLength() []*Seal { return c.byLength }

func (c *Catalogue) sort() {
	c.byLength = c.byLength[:0:0]
	for _, name := range c.Names() {
		c.byLength = append(c.byLength, c.seals[name])
	}
	slices.SortStableFunc(c.byLength, func(a, b *Seal) int { return cmp.Compare(a.Length, b.Length) })
}

var empty Seal

// Names lists the seals, sorted.
func (c *Catalogue) Names() []string {
	out := make([]string, 0, len(c.seals))
	for name := range c.seals {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
