package policies

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// inquiry is all that is asked of one door, with room to write what the answers rest on.
type inquiry struct {
	text     []byte // of facts and keys
	numerals []numeral
	amounts  []amount // those that count by their place
	groups   []int    // of those, which are compared with one another
	pairs    [][2]int // of those, a rise and its run, counted from the first one of a key
	prints   []footprint
	subjects []subject
	asked    []single
}

// inquiries are those that are done, for their room.
var inquiries = sync.Pool{New: func() any { return &inquiry{} }}

func (q *inquiry) done() {
	clear(q.subjects) // facts and answers are the door's
	clear(q.asked)
	q.text, q.numerals, q.amounts, q.groups, q.pairs = q.text[:0], q.numerals[:0], q.amounts[:0], q.groups[:0], q.pairs[:0]
	q.subjects, q.asked = q.subjects[:0], q.asked[:0]
	inquiries.Put(q)
}

// subject is one subject with the footprints of its facts, each made once.
type subject struct {
	fact.Subject
	prints []footprint
	place  string // where the spec has it, of an option: to a rule, one option is like another
}

// anyOption stands for the place of an option in what is kept. No option has this number.
const anyOption = "/options/*"

// optionPlace finds where the spec has a subject by what its facts came from.
func optionPlace(s fact.Subject) string {
	const options = "/options/"
	if s.Kind != "option" {
		return ""
	}
	for _, f := range s.Facts {
		for _, at := range f.At {
			if rest, ok := strings.CutPrefix(at, options); ok {
				number, _, _ := strings.Cut(rest, "/")
				return options + number
			}
		}
	}
	return ""
}

// away writes a pointer as that of any option, where it is one of this option.
func (s *subject) away(pointer string) string {
	if rest, ok := strings.CutPrefix(pointer, s.place); ok && s.place != "" && (rest == "" || rest[0] == '/') {
		return anyOption + rest
	}
	return pointer
}

// back writes a pointer of any option as one of this option.
func (s *subject) back(pointer string) string {
	if rest, ok := strings.CutPrefix(pointer, anyOption); ok && s.place != "" {
		return s.place + rest
	}
	return pointer
}

func (q *inquiry) footprint(s *subject, f planned) footprint {
	p := &s.prints[f.index]
	if !p.made {
		p.made = true
		if one, known := s.Facts[f.name]; known {
			*p = q.print(s, one)
		}
	}
	return *p
}

// single is one rule that is asked of one subject.
type single struct {
	plan    *plan
	ref     Ref
	subject *subject
	answer  *Answer
	system  quantity.System

	key   stretch // of the inquiry's text: what its answer rests on
	slots stretch // of the numbers that count by their place
	pairs stretch // of those that are a rise and its run
	apart bool    // the answer is kept by the exact numbers

	got *answered
}

// slots are the numbers of a key that count by their place, which of them are compared with one another, and those that are a
// rise and its run.
type slots struct {
	amounts []amount
	groups  []int
	pairs   [][2]int
}

// alone is the group of a number that is compared with no other.
const alone = -1

// has says whether a number is in a group before an index.
func (s slots) has(a amount, group, before int) bool {
	for i, b := range s.amounts[:before] {
		if b == a && s.groups[i] == group {
			return true
		}
	}
	return false
}

func (q *inquiry) slots(one *single) slots {
	return slots{q.amounts[one.slots.from:one.slots.to], q.groups[one.slots.from:one.slots.to], q.pairs[one.pairs.from:one.pairs.to]}
}

func (q *inquiry) keyOf(one *single) []byte { return q.text[one.key.from:one.key.to] }

// singles lists the rules and subjects that are asked, in the order of the findings. It is false where a rulebook or a
// subject is named twice, which is a fault that only counting shows.
func (q *inquiry) singles(p *Policies, in Input) (bool, error) {
	q.subjects = slices.Grow(q.subjects, len(in.Subjects))
	if _, err := p.planOf(nil); err != nil { // now it is known how many facts there are
		return false, err
	}
	for _, s := range in.Subjects {
		if slices.ContainsFunc(q.subjects, func(other subject) bool { return other.ID == s.ID }) {
			return false, nil
		}
		q.subjects = append(q.subjects, subject{Subject: s, place: optionPlace(s)})
	}
	q.prints = slices.Grow(q.prints[:0], len(q.subjects)*p.plans.facts)[:len(q.subjects)*p.plans.facts]
	clear(q.prints)
	for i := range q.subjects {
		q.subjects[i].prints = q.prints[i*p.plans.facts : (i+1)*p.plans.facts]
	}
	for i, ref := range in.Rulebooks {
		if slices.ContainsFunc(in.Rulebooks[:i], func(other Ref) bool { return other.ID == ref.ID }) {
			return false, nil
		}
		book, ok := p.Rulebook(ref.ID)
		if !ok {
			return false, fmt.Errorf("no rulebook %q", ref.ID)
		}
		for _, r := range book.Rules {
			plan, err := p.planOf(r)
			if err != nil {
				return false, err
			}
			for i := range q.subjects {
				s := &q.subjects[i]
				if s.Kind != r.Subject {
					continue
				}
				one := single{plan: plan, ref: ref, subject: s, system: in.System}
				if a, ok := in.Answers[r.ID]; ok {
					one.answer = &a
				}
				q.key(&one, false)
				q.asked = append(q.asked, one)
			}
		}
	}
	return true, nil
}

// key writes what the rule's answer for a subject rests on, and lists the numbers that count by their place. With exact it
// writes every number as it is.
func (q *inquiry) key(one *single, exact bool) {
	p := one.plan
	for _, f := range p.facts { // so that the key is in one piece
		q.footprint(one.subject, f)
	}
	one.key.from, one.slots.from, one.pairs.from = len(q.text), len(q.amounts), len(q.pairs)
	if exact {
		q.text = append(q.text, '=')
	}
	q.text = binary.BigEndian.AppendUint32(q.text, p.same)
	q.text = strconv.AppendQuote(q.text, one.ref.Variant)
	if one.answer != nil {
		q.text = strconv.AppendBool(append(q.text, '?'), one.answer.Value)
		q.text = strconv.AppendQuote(q.text, one.answer.Evidence)
	}
	for _, f := range p.facts {
		q.text = append(q.text, 0)
		print := q.footprint(one.subject, f)
		switch {
		case !print.known:
			continue
		case f.given:
			q.text = append(q.text, 1)
			continue
		}
		q.text = append(q.text, 2)
		if exact {
			q.text = append(q.text, q.text[print.text.from:print.text.to]...)
		} else {
			q.placed(one, print, f.byPlace)
		}
		if f.asked {
			q.text = append(append(q.text, 3), q.text[print.at.from:print.at.to]...)
		}
	}
	one.slots.to, one.pairs.to = len(q.amounts), len(q.pairs)
	by := q.slots(one)
	if p.among != "" && !exact {
		q.text = order(append(q.text, 4), by)
	}
	q.text = p.leans(q.text, by)
	one.key.to = len(q.text)
}

// placed writes a fact with places for numbers.
func (q *inquiry) placed(one *single, print footprint, byPlace []string) {
	p := one.plan
	from, item, rise, run := print.text.from, -1, -1, -1
	for _, n := range q.numerals[print.numbers.from:print.numbers.to] {
		if n.item != item {
			item, rise, run = n.item, -1, -1
		}
		if !slices.Contains(byPlace, n.member) || !p.places(n.amount) {
			continue
		}
		q.text = append(append(q.text, q.text[from:n.from]...), '#')
		group := alone
		switch {
		case len(p.slopes) > 0 && slices.Contains(pair, n.member):
			q.text = append(q.text, sign(float64(n.whole)))
		case n.fraction:
			group = p.group(print, n)
		default:
			q.text = binary.BigEndian.AppendUint16(q.text, p.placeOf(n.whole))
			group = p.group(print, n)
		}
		switch n.member {
		case "rise":
			rise = len(q.amounts) - one.slots.from
		case "run":
			run = len(q.amounts) - one.slots.from
		}
		q.amounts, q.groups, from = append(q.amounts, n.amount), append(q.groups, group), n.to
		if len(p.slopes) > 0 && rise >= 0 && run >= 0 {
			q.pairs = append(q.pairs, [2]int{rise, run})
			rise, run = -1, -1
		}
	}
	q.text = append(q.text, q.text[from:print.text.to]...)
}

// group tells which numbers are compared with one another.
func (p *plan) group(print footprint, n numeral) int {
	switch p.among {
	case amongAll:
		return 0
	case amongItem:
		return print.numbers.from + n.item // no two items of a door have the same
	}
	return alone
}

// leans writes how every rise over its run compares with each slope of the rule.
func (p *plan) leans(to []byte, by slots) []byte {
	for _, pair := range by.pairs {
		rise, run := by.amounts[pair[0]].whole, by.amounts[pair[1]].whole
		for _, s := range p.slopes {
			to = append(to, byte('1'+cmp.Compare(rise*s.run, run*s.rise)))
		}
	}
	return to
}
