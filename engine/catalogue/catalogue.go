// Package catalogue reads seal catalogues (format sillwright/seals/1) into the seal
// models of package seal. The built-in one holds generic kinds only.
package catalogue

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"math"
	"slices"

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
	Model  seal.Model      // nil: this kind has no leakage model
	From   map[string]string

	Embedded *Embedded // nil: no blade is embedded
}

// Embedded is an airtight blade within the bristles of a brush.
type Embedded struct {
	Height quantity.Length
	Reach  quantity.Length // from the root of the bristles to the tip of the blade; 0 where it is not said
}

// Catalogue is seals by name.
type Catalogue struct {
	seals  map[string]Seal
	nodes  map[string]*schema.Node // what each seal says, for those that are like it
	Digest string                  // of every file that it was read from
}

// Generic is the built-in catalogue.
func Generic() (*Catalogue, error) {
	c := &Catalogue{seals: map[string]Seal{}, nodes: map[string]*schema.Node{}}
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
				r.computable(entry.Model)
			}
			if _, taken := c.seals[m.Key]; taken {
				r.problem(m.KeySpan, "", fmt.Sprintf("seal %q a second time", m.Key), "a name that no catalogue has yet", "rename it, for example "+m.Key+"-own")
			}
			if len(r.problems)+len(found) == 0 {
				c.seals[m.Key], c.nodes[m.Key] = entry, r.node
			}
			problems = append(problems, r.problems...)
		}
	}
	slices.SortStableFunc(problems, schema.ComparePlaces)
	problems = slices.CompactFunc(problems, func(a, b schema.Problem) bool { return a.Field == b.Field && a.Span == b.Span })
	sum := sha256.Sum256(append([]byte(c.Digest), src...))
	c.Digest = hex.EncodeToString(sum[:])[:12]
	return problems
}

// complete adds to a seal what it leaves to the one that it is like.
func (c *Catalogue) complete(n *schema.Node) *schema.Node {
	like, ok := n.Member("like")
	if !ok || c.nodes[like.Text] == nil {
		return n
	}
	whole := *n
	whole.Members = slices.Clone(n.Members)
	for _, m := range c.nodes[like.Text].Members {
		if _, own := n.Member(m.Key); !own {
			whole.Members = append(whole.Members, m)
		}
	}
	return &whole
}

// Seal gives a seal by its name.
func (c *Catalogue) Seal(name string) (Seal, bool) {
	s, ok := c.seals[name]
	return s, ok
}

// Names lists the seals, sorted.
func (c *Catalogue) Names() []string {
	out := make([]string, 0, len(c.seals))
	for name := range c.seals {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// reader reads one entry and collects what is wrong with it.
type reader struct {
	doc      schema.Document
	pointer  string
	node     *schema.Node // complete
	own      *schema.Node // as written
	from     map[string]string
	problems []schema.Problem
}

func (r *reader) problem(span schema.Span, key, found, allowed, do string) {
	pointer := r.pointer + key
	r.problems = append(r.problems, schema.Problem{File: r.doc.File, Document: r.doc.Index, Pointer: pointer, Field: schema.Field(pointer), Span: span, Found: found, Allowed: allowed, Do: do})
}

func (r *reader) text(key string) string {
	if n, ok := r.node.Member(key); ok {
		return n.Text
	}
	return ""
}

func (r *reader) seal(name string) Seal {
	s := Seal{Name: name, Title: r.text("title"), Kind: r.text("kind"), From: r.from}
	length := r.lengths("length")
	s.Length = exactly(length.Base)
	s.Least, s.Most = r.working()
	s.Embedded = r.embedded(s.Kind, s.Length)
	switch s.Kind {
	case "none":
		s.Model = seal.Bare{}
	case "brush":
		s.Model = seal.Brush{
			Length: length.Base, Diameter: r.lengths("diameter"), Thickness: r.lengths("thickness"), Solid: r.numbers("solid_fraction"),
			Permeability: r.numbers("permeability_factor"), Inertia: r.numbers("inertia_factor"), Trim: r.lengths("tip_scatter"),
			Lean: r.lengths("lean"), Spread: r.numbers("spread"),
		}
	case "blade":
		lips := r.number("lips")
		s.Model = seal.Blade{Lips: int(lips), Residual: r.lengths("residual_gap"), Contact: r.lengths("contact")}
	case "gasket":
		s.Model = seal.Gasket{Residual: r.lengths("residual_gap"), Contact: r.lengths("contact")}
	}
	return s
}

// computable reports a seal whose values no model can carry.
func (r *reader) computable(m seal.Model) {
	if m == nil {
		return
	}
	if err := m.Check(); err != nil {
		r.problem(r.own.Span, "", err.Error(), "a seal that can be computed", "check the values and their units")
	}
}

// exactly turns metres, as the models take them, back into the exact length they came from.
func exactly(metres float64) quantity.Length {
	return quantity.Length(math.Round(metres * float64(quantity.Metre)))
}

// lengths reads a range of lengths, in metres.
func (r *reader) lengths(key string) seal.Parameter {
	return r.parameter(key, func(at string, n *schema.Node) float64 { return r.length(at, n).Metres() })
}

func (r *reader) numbers(key string) seal.Parameter {
	return r.parameter(key, func(at string, n *schema.Node) float64 {
		v, err := quantity.ParseSI(quantity.KindNumber, n.Text)
		r.wrong(err, at, n, quantity.KindNumber)
		return v
	})
}

func (r *reader) parameter(key string, read func(at string, n *schema.Node) float64) seal.Parameter {
	group, ok := r.node.Member(key)
	if !ok {
		return seal.Parameter{}
	}
	if from, ok := group.Member("from"); ok {
		r.from[key] = from.Text
	}
	at := func(name string, otherwise float64) float64 {
		if n, ok := group.Member(name); ok {
			return read("/"+key+"/"+name, n)
		}
		return otherwise
	}
	likely := at("likely", 0)
	return seal.Parameter{Low: at("low", likely), Base: likely, High: at("high", likely)}
}

func (r *reader) length(at string, n *schema.Node) quantity.Length {
	v, err := quantity.ParseLength(n.Text)
	r.wrong(err, at, n, quantity.KindLength)
	return v
}

func (r *reader) number(key string) float64 {
	n, ok := r.node.Member(key)
	if !ok {
		return 0
	}
	v, err := quantity.ParseSI(quantity.KindNumber, n.Text)
	r.wrong(err, "/"+key, n, quantity.KindNumber)
	return v
}

// working reads the overlap that the seal is made for.
func (r *reader) working() (least, most quantity.Length) {
	group, ok := r.node.Member("working")
	if !ok {
		return 0, 0
	}
	if from, ok := group.Member("from"); ok {
		r.from["working"] = from.Text
	}
	if n, ok := group.Member("least"); ok {
		least = r.length("/working/least", n)
	}
	if n, ok := group.Member("most"); ok {
		most = r.length("/working/most", n)
		if most <= least {
			r.problem(n.Span, "/working/most", most.MM()+" mm", "more than least, "+least.MM()+" mm", "write the smaller overlap first")
		}
	}
	return least, most
}

// embedded reads the blade within a brush.
func (r *reader) embedded(kind string, brush quantity.Length) *Embedded {
	group, ok := r.node.Member("embedded_blade")
	if !ok {
		return nil
	}
	if from, ok := group.Member("from"); ok {
		r.from["embedded_blade"] = from.Text
	}
	out := &Embedded{}
	for key, into := range map[string]*quantity.Length{"height": &out.Height, "reach": &out.Reach} {
		if n, ok := group.Member(key); ok {
			if *into = r.length("/embedded_blade/"+key, n); *into <= 0 {
				r.problem(n.Span, "/embedded_blade/"+key, n.Text, "more than 0 mm", "measure it, or leave the reach out")
			}
		}
	}
	reach, _ := group.Member("reach")
	switch {
	case kind != "brush" && kind != "tufted-brush" && kind != "":
		r.problem(group.Span, "/embedded_blade", "a "+kind+" with an embedded blade", "kind: brush or tufted-brush", "take it out, or say what kind of brush it is")
	case out.Reach > 0 && (out.Reach < out.Height || (brush > 0 && out.Reach > brush)):
		r.problem(reach.Span, "/embedded_blade/reach", out.Reach.MM()+" mm", "from the blade's own height, "+out.Height.MM()+" mm, to the length of the brush, "+brush.MM()+" mm", "measure from the root of the bristles to the tip of the blade")
	}
	return out
}

func (r *reader) wrong(err error, at string, n *schema.Node, kind quantity.Kind) {
	var bad *quantity.Error
	if errors.As(err, &bad) {
		r.problem(n.Span, at, bad.Found, kind.Allowed(), bad.Do)
	}
}
