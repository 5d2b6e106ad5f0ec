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
	var room [maxShape]byte
	var shape []byte
	if !p.whole {
		shape = p.shape(room[:0], n)
	}
	if shape == nil || !p.passed.has(shape) {
		if p.schema.Validate(n.Plain()) != nil {
			return false
		}
		if shape == nil {
			return true
		}
		p.passed.add(shape)
	}
	switch n.Kind {
	case Object:
		for i := range n.Members {
			m := &n.Members[i]
			at, listed := p.keys[m.Key]
			if !listed {
				at = p.rest
			}
			if at != nil && !at.passes(m.Value) {
				return false
			}
		}
	case Array:
		if p.items == nil {
			break
		}
		for _, item := range n.Items {
			if !p.items.passes(item) {
				return false
			}
		}
	}
	return true
}

const (
	maxShape  = 128  // bytes
	maxPassed = 1024 // shapes at a place
)

// shape is what a place looks at in a value, apart from what the value holds: the kind; which of the keys that matter are there,
// whether there is one that is refused, and where it matters how many there are; of a text what each character counts for; of
// a number all or nothing. It is nil where there is no telling: for a long text, and for a mapping that may have fewer keys than it seems.
func (p *place) shape(b []byte, n *Node) []byte {
	b = append(b, byte(n.Kind))
	switch n.Kind {
	case Object:
		var flags uint64
		refused := byte(0)
		for i := range n.Members {
			key := n.Members[i].Key
			flags |= p.flags[key]
			if _, listed := p.keys[key]; !listed && p.closed {
				refused = 1
			}
		}
		b = append(binary.LittleEndian.AppendUint64(b, flags), refused)
		if p.counted {
			if len(n.Members) > 32 || twice(n) {
				return nil
			}
			b = binary.LittleEndian.AppendUint32(b, uint32(len(n.Members)))
		}
	case Array:
		if p.counted {
			b = binary.LittleEndian.AppendUint32(b, uint32(len(n.Items)))
		}
	case String:
		if len(n.Text) >= maxShape {
			return nil
		}
		b = append(b, n.Text...)
		if p.text != nil {
			for i, c := range b[1:] {
				b[1+i] = p.text[c]
			}
		}
	case Number:
		if len(n.Text) >= maxShape {
			return nil
		}
		if p.number {
			b = append(b, n.Text...)
		}
	case Bool:
		b = append(b, n.Text...)
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
