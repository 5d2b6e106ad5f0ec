package door

import (
	"errors"
	"fmt"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// cursor walks a document and collects what is wrong. A node that is missing or of
// the wrong shape reads as not known: the JSON Schema has already reported it.
type cursor struct {
	node *schema.Node
	at   *spot
	d    *reader
}

type reader struct {
	doc      schema.Document
	problems []schema.Problem
	atlas    *atlas
}

// child is the value of a key that doors have.
func (c cursor) child(name string) cursor {
	k := c.d.atlas.key(c.at, name)
	if k == nil {
		return c.other(name)
	}
	out := cursor{at: k.at, d: c.d}
	if c.node != nil && c.node.Kind == schema.Object {
		out.node = k.member(c.node)
	}
	return out
}

// other is the value of any key.
func (c cursor) other(name string) cursor {
	n, _ := c.node.Member(name)
	return cursor{n, &spot{pointer: c.at.pointer + schema.Pointer(name)}, c.d}
}

func (c cursor) items() []cursor {
	if c.node == nil || c.node.Kind != schema.Array {
		return nil
	}
	out := make([]cursor, len(c.node.Items))
	for i, n := range c.node.Items {
		out[i] = cursor{n, c.d.atlas.item(c.at, i), c.d}
	}
	return out
}

func (c cursor) has() bool { return c.node != nil && !c.unknown() }

func (c cursor) unknown() bool {
	return c.node != nil && c.node.Kind == schema.String && c.node.Text == "unknown"
}

// problem reports what is wrong with the value here.
func (c cursor) problem(found, allowed, do string) {
	c.d.problems = append(c.d.problems, c.d.doc.Problem(c.at.pointer, found, allowed, do))
}

func (c cursor) text() string {
	if c.node == nil || c.node.Kind != schema.String {
		return ""
	}
	return c.node.Text
}

func (c cursor) word() Maybe[string] {
	out := Maybe[string]{Pointer: c.at.pointer}
	if c.has() && c.node.Kind == schema.String {
		out.Value, out.Known = c.node.Text, true
	}
	return out
}

func (c cursor) truth() Maybe[bool] {
	out := Maybe[bool]{Pointer: c.at.pointer}
	if c.has() && c.node.Kind == schema.Bool {
		out.Value, out.Known = c.node.Text == "true", true
	}
	return out
}

// sign is what a quantity may not be.
type sign int

const (
	anySign sign = iota
	notNegative
	positive
)

// read parses the quantity here with parse; bad values become problems.
func read[T int64 | float64 | quantity.Length | quantity.Force | quantity.Angle | quantity.Area | quantity.Time | quantity.Date](c cursor, kind quantity.Kind, s sign, parse func(string) (T, error)) Maybe[T] {
	out := Maybe[T]{Pointer: c.at.pointer}
	if !c.has() || (c.node.Kind != schema.String && c.node.Kind != schema.Number) {
		return out
	}
	value, err := parse(c.node.Text)
	if c.refused(err, kind) {
		return out
	}
	switch {
	case s == notNegative && value < 0:
		c.problem(fmt.Sprintf("%q, below zero", c.node.Text), "zero or more", "check the sign")
		return out
	case s == positive && value <= 0:
		c.problem(fmt.Sprintf("%q", c.node.Text), "more than zero", "measure it, or write unknown")
		return out
	}
	out.Value, out.Known = value, true
	return out
}

// refused reports what is wrong with the quantity here.
func (c cursor) refused(err error, kind quantity.Kind) bool {
	if err == nil {
		return false
	}
	var bad *quantity.Error
	if !errors.As(err, &bad) {
		return false
	}
	c.problem(bad.Found, kind.Allowed(), bad.Do)
	return true
}

// most is more than any part of a door measures; it catches metres written as millimetres.
const most = 100 * quantity.Metre

func (c cursor) length(s sign) Maybe[quantity.Length] {
	out := c.height(s)
	if out.Known && (out.Value > most || out.Value < -most) {
		c.problem(fmt.Sprintf("%q", c.node.Text), "at most "+most.MM()+" mm", "check the number and its unit")
		out.Known = false
	}
	return out
}

// height is a length without the bounds of a door: that of a site above the sea.
func (c cursor) height(s sign) Maybe[quantity.Length] {
	return read(c, quantity.KindLength, s, quantity.ParseLength)
}

func (c cursor) force() Maybe[quantity.Force] {
	return read(c, quantity.KindForce, notNegative, quantity.ParseForce)
}

// mostArea is more than any grille measures.
const mostArea = 5 * quantity.SquareMetre

func (c cursor) area() Maybe[quantity.Area] {
	out := read(c, quantity.KindArea, notNegative, quantity.ParseArea)
	if out.Known && out.Value > mostArea {
		c.problem(fmt.Sprintf("%q", c.node.Text), "at most "+mostArea.CM2()+" cm2", "check the number and its unit")
		out.Known = false
	}
	return out
}

func (c cursor) angle() Maybe[quantity.Angle] {
	return read(c, quantity.KindAngle, notNegative, quantity.ParseAngle)
}

func (c cursor) time() Maybe[quantity.Time] {
	return read(c, quantity.KindTime, notNegative, quantity.ParseTime)
}

func (c cursor) date() Maybe[quantity.Date] {
	return read(c, quantity.KindDate, anySign, quantity.ParseDate)
}

func (c cursor) slope() Maybe[quantity.Slope] {
	out := Maybe[quantity.Slope]{Pointer: c.at.pointer}
	if !c.has() || c.node.Kind != schema.String {
		return out
	}
	value, err := quantity.ParseSlope(c.node.Text)
	if c.refused(err, quantity.KindSlope) {
		return out
	}
	out.Value, out.Known = value, err == nil
	return out
}

// count is a small whole number; the JSON Schema bounds it.
func (c cursor) count() Maybe[int] {
	n := c.si(quantity.KindNumber, anySign)
	return Maybe[int]{Value: int(n.Value), Known: n.Known, Pointer: n.Pointer}
}

func (c cursor) si(kind quantity.Kind, s sign) Maybe[float64] {
	return read(c, kind, s, func(text string) (float64, error) { return quantity.ParseSI(kind, text) })
}

// perHour is a flow through each square metre, m3/(h m2).
func (c cursor) perHour() Maybe[float64] {
	return read(c, quantity.KindFlowPerArea, notNegative, func(text string) (float64, error) {
		v, err := quantity.ParseFlowPerArea(text)
		return v.PerHour(), err
	})
}

// share is a part of a whole, more than none of it and no more than all.
func (c cursor) share() Maybe[float64] {
	out := c.si(quantity.KindShare, positive)
	if out.Known && out.Value > 1 {
		c.problem(fmt.Sprintf("%q, more than all of it", c.node.Text), "more than 0 %, up to 100 %", "say which part of what the whole house may lose this door may take")
		out.Known = false
	}
	return out
}
