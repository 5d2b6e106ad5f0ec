package schema

import (
	"encoding/binary"
	"maps"
	"sync"
	"sync/atomic"
)

// passes says whether a value surely passes at a place: the validator has passed it, or values of its shape, and it passes all
// that it holds. False says nothing: let the validator judge the whole document.
//
// This is what makes many doors quick. The validator alone says what is right, and it is asked about every shape that was not
// seen before; a door has few that are new, for all that its figures are.
func (p *place) passes(n *Node) bool {
	if p.whole {
		return p.schema.Validate(n.Plain()) == nil
	}
	switch n.Kind {
	case Object:
		return p.mapping(n)
	case Array:
		if p.items != nil {
			for _, item := range n.Items {
				if !p.items.passes(item) {
					return false
				}
			}
		}
		var room [8]byte
		return p.seen(n, p.count(append(room[:0], byte(Array)), len(n.Items)))
	}
	var room [maxShape]byte
	return p.seen(n, p.shape(append(room[:0], byte(n.Kind)), n))
}

// maxShape is how many bytes a shape may have.
const maxShape = 128

// seen says whether a shape was seen to pass, and if not, what the validator says of the value itself. There may be no shape,
// where it would be too long.
func (p *place) seen(n *Node, shape []byte) bool {
	if shape != nil && p.passed.has(shape) {
		return true
	}
	if p.schema.Validate(n.Plain()) != nil {
		return false
	}
	if shape != nil {
		p.passed.add(shape)
	}
	return true
}

// The shape of a value is what a place looks at, apart from what the value holds: the kind; of a mapping which of the keys that
// matter are there, and how many there are where that matters; of a list the same number; of a text what each character counts
// for; of a number all or nothing.

func (p *place) mapping(n *Node) bool {
	var flags uint64
	last := &p.first
	for i := range n.Members {
		m := &n.Members[i]
		k := p.key(last, m.Key)
		at := p.rest
		switch {
		case k != nil:
			flags |= k.flag
			last, at = &k.next, k.at
			if k.refused {
				return false
			}
		case p.closed:
			return false
		}
		if at != nil && !at.passes(m.Value) {
			return false
		}
	}
	var room [16]byte
	shape := p.count(binary.LittleEndian.AppendUint64(append(room[:0], byte(Object)), flags), len(n.Members))
	if p.counted && (len(n.Members) > 32 || twice(n)) {
		shape = nil // it may have fewer keys than it seems
	}
	return p.seen(n, shape)
}

// key finds what is known of a key by the one that came after the last one before, else by its name.
func (p *place) key(last *atomic.Pointer[key], name string) *key {
	if k := last.Load(); k != nil && k.name == name {
		return k
	}
	k := p.keys[name]
	if k != nil {
		last.Store(k)
	}
	return k
}

func (p *place) count(b []byte, n int) []byte {
	if p.counted {
		return binary.LittleEndian.AppendUint32(b, uint32(n))
	}
	return b
}

// shape adds the shape of a value that holds no others.
func (p *place) shape(b []byte, n *Node) []byte {
	switch {
	case n.Kind == Number && !p.number:
		return b
	case len(n.Text) >= maxShape:
		return nil
	}
	b = append(b, n.Text...)
	if n.Kind == String && p.text != nil {
		for i, c := range b[1:] {
			b[1+i] = p.text[c]
		}
	}
	return b
}

// twice says whether a key of a mapping is given twice. None that was read has such a key.
func twice(n *Node) bool {
	for i := range n.Members {
		for j := range i {
			if n.Members[i].Key == n.Members[j].Key {
				return true
			}
		}
	}
	return false
}

// maxPassed is how many shapes are kept of a place.
const maxPassed = 1024

// passed is a set of shapes. It is safe for concurrent use.
type passed struct {
	set  atomic.Pointer[map[string]struct{}] // never written to
	lock sync.Mutex
}

func (p *passed) has(shape []byte) bool {
	set := p.set.Load()
	if set == nil {
		return false
	}
	_, ok := (*set)[string(shape)]
	return ok
}

// add takes in a shape, but no more than so many.
func (p *passed) add(shape []byte) {
	p.lock.Lock()
	defer p.lock.Unlock()
	next := map[string]struct{}{}
	if set := p.set.Load(); set != nil {
		if len(*set) >= maxPassed {
			return
		}
		next = maps.Clone(*set)
	}
	next[string(shape)] = struct{}{}
	p.set.Store(&next)
}
