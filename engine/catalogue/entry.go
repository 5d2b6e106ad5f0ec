package catalogue

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/engine/seal"
	"sillwright/schema"
	"sillwright/schema/quantity"
)

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
	if group, ok := r.node.Member("length"); ok && length.Low != length.High {
		r.problem(group.Span, "/length", "a range", "one length, likely: 30 mm", "give each length of a seal an entry of its own, with like:")
	}
	s.Length = quantity.OfMetres(length.Likely)
	s.Least, s.Most = r.working()
	s.Embedded = r.embedded(s.Kind, s.Length)
	s.Foot = genericFoot
	if _, ok := r.node.Member("foot"); ok {
		s.Foot = r.lengths("foot")
	}
	r.wear(&s)
	r.model(&s, length.Likely)
	r.tests(&s)
	r.pulls(&s)
	return s
}

// model builds what predicts the leakage and the drag of a seal, where the entry says enough.
func (r *reader) model(s *Seal, length float64) {
	switch s.Kind {
	case "none":
		s.Model = seal.Bare{}
	case "brush", "tufted-brush":
		if r.whole(bodyKeys...) && (s.Kind == "brush" || r.whole(channelKeys...)) {
			s.Model = r.brush(s, length)
		}
		if r.has("modulus", "diameter", "thickness", "solid_fraction", "lean") {
			s.Drag = r.bristles(s, length)
		}
	case "blade":
		lips := int(r.number("lips"))
		if r.whole("lips", "residual_gap", "contact") {
			s.Model = seal.Blade{Lips: lips, Residual: r.lengths("residual_gap"), Contact: r.lengths("contact")}
		}
		if r.has("modulus", "blade_thickness", "lips", "length") {
			s.Drag = drag.Blade{Length: length, Thickness: likely(r.lengths("blade_thickness")), Modulus: likely(r.moduli()), Lips: lips}
		}
	case "gasket":
		if r.whole("residual_gap", "contact") {
			s.Model = seal.Gasket{Residual: r.lengths("residual_gap"), Contact: r.lengths("contact"), Least: s.Least.Metres()}
		}
	case "drop-seal":
		if r.whole("residual_gap", "contact", "follow") {
			s.Model = seal.DropSeal{Fall: length, Follow: r.lengths("follow"), Residual: r.lengths("residual_gap"), Contact: r.lengths("contact")}
		}
	}
}

// What a brush must say to be predicted.
var (
	bodyKeys    = []string{"diameter", "thickness", "solid_fraction", "permeability_factor", "inertia_factor", "tip_scatter", "lean", "spread"}
	channelKeys = []string{"tuft_pitch", "channel_width", "channel_widening"}
)

// has is true where an entry says all of some keys.
func (r *reader) has(keys ...string) bool {
	return !slices.ContainsFunc(keys, func(k string) bool { _, ok := r.node.Member(k); return !ok })
}

// whole is has; where an entry says a part of the keys only, what is missing is a problem.
func (r *reader) whole(keys ...string) bool {
	var missing []string
	for _, k := range keys {
		if !r.has(k) {
			missing = append(missing, k)
		}
	}
	if len(missing) > 0 && len(missing) < len(keys) {
		r.problem(r.own.Span, "", "a "+r.text("kind")+" without "+strings.Join(missing, ", "), "all or none of "+strings.Join(keys, ", "), "add them, or write like: and the name of a seal that has them")
	}
	return len(missing) == 0
}

func (r *reader) brush(s *Seal, length float64) seal.Brush {
	b := seal.Brush{
		Length: length, Diameter: r.lengths("diameter"), Thickness: r.lengths("thickness"), Solid: r.numbers("solid_fraction"),
		Permeability: r.numbers("permeability_factor"), Inertia: r.numbers("inertia_factor"), Trim: r.lengths("tip_scatter"),
		Lean: r.lengths("lean"), Spread: r.numbers("spread"), Modulus: r.moduli(),
	}
	if s.Kind == "tufted-brush" {
		b.Tufts = &seal.Tufts{Pitch: r.lengths("tuft_pitch"), RootGap: r.lengths("channel_width"), Widening: r.numbers("channel_widening")}
	}
	if e := s.Embedded; e != nil {
		height, reach := e.Height.Metres(), e.Reach.Metres()
		b.Embedded = &seal.Embedded{Height: height, Reach: doubt.Exactly(reach)}
		if reach == 0 { // anywhere in the brush
			b.Embedded.Reach = doubt.Range{Low: height, Likely: (height + length) / 2, High: length}
		}
	}
	return b
}

// bristles is a brush as it drags. Tufts count with the bundles' own solid fraction, less the share of the channels.
func (r *reader) bristles(s *Seal, length float64) drag.Brush {
	solid := r.numbers("solid_fraction")
	if s.Kind == "tufted-brush" && r.has(channelKeys...) {
		width, widening, pitch := r.lengths("channel_width").Likely, r.numbers("channel_widening").Likely, r.lengths("tuft_pitch").Likely
		share := 1 - (width+widening*length/2)/pitch
		solid = doubt.Range{Low: solid.Low * share, Likely: solid.Likely * share, High: solid.High * share}
	}
	return drag.Brush{
		Length: length, Diameter: likely(r.lengths("diameter")), Thickness: likely(r.lengths("thickness")), Solid: likely(solid),
		Lean: likely(r.lengths("lean")), Modulus: likely(r.moduli()),
	}
}

func likely(p doubt.Range) doubt.Range {
	return doubt.Range{Low: p.Low, Likely: p.Likely, High: p.High}
}

// computable reports a seal whose values no model can carry.
func (r *reader) computable(s Seal) {
	var err error
	if s.Model != nil {
		err = seal.Fitted{Model: s.Model, Foot: s.Foot, Tests: s.Tests}.Check()
	}
	if err == nil && s.Drag != nil {
		err = s.Drag.Check()
	}
	if err == nil {
		err = s.pullable()
	}
	if err != nil {
		r.problem(r.own.Span, "", err.Error(), "a seal that can be computed", "check the values and their units")
	}
}

// lengths reads a range of lengths, in metres.
func (r *reader) lengths(key string) doubt.Range {
	return r.parameter(key, func(at string, n *schema.Node) float64 { return r.length(at, n).Metres() })
}

func (r *reader) numbers(key string) doubt.Range { return r.parameter(key, r.value) }

// moduli reads the range of the modulus, in Pa.
func (r *reader) moduli() doubt.Range {
	return r.parameter("modulus", func(at string, n *schema.Node) float64 { return r.measure(quantity.KindModulus, at, n) })
}

func (r *reader) value(at string, n *schema.Node) float64 {
	return r.measure(quantity.KindNumber, at, n)
}

// measure reads a value of a kind, in SI units.
func (r *reader) measure(kind quantity.Kind, at string, n *schema.Node) float64 {
	if kind == quantity.KindNumber { // 1.2e4, as programs write it
		if v, err := strconv.ParseFloat(n.Text, 64); err == nil && !math.IsInf(v, 0) {
			return v
		}
	}
	v, err := quantity.ParseSI(kind, n.Text)
	r.wrong(err, at, n, kind)
	return v
}

func (r *reader) parameter(key string, read func(at string, n *schema.Node) float64) doubt.Range {
	group, ok := r.node.Member(key)
	if !ok {
		return doubt.Range{}
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
	return doubt.Range{Low: at("low", likely), Likely: likely, High: at("high", likely)}
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
	return r.value("/"+key, n)
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
