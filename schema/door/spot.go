package door

import (
	"strconv"
	"sync"

	"sillwright/schema"
)

// spot is a place that doors have values at, kept from door to door with its pointer. The reader asks for the keys of one place
// in one order, and most doors write them in one.
type spot struct {
	pointer string
	keys    []key
	next    int // the key that was asked for after the last one the time before
	items   []*spot
}

// key is a key of a place.
type key struct {
	name  string
	at    *spot
	index int // among the members of the mapping that had it last
}

// atlas holds spots; it is used for one door at a time.
type atlas struct {
	root  *spot
	spots int
}

// mostSpots bounds an atlas; a door with more of them has the others by itself.
const mostSpots = 4096

var atlases = sync.Pool{New: func() any { return &atlas{root: &spot{}, spots: 1} }}

// key finds a key of a place, and takes it in; nil where there is no room.
func (a *atlas) key(s *spot, name string) *key {
	if s.next < len(s.keys) && s.keys[s.next].name == name {
		s.next++
		return &s.keys[s.next-1]
	}
	for i := range s.keys {
		if s.keys[i].name == name {
			s.next = i + 1
			return &s.keys[i]
		}
	}
	if a.spots >= mostSpots {
		return nil
	}
	a.spots++
	s.keys = append(s.keys, key{name: name, at: &spot{pointer: s.pointer + schema.Pointer(name)}})
	s.next = len(s.keys)
	return &s.keys[s.next-1]
}

// item finds an item of a place, and takes it in if there is room.
func (a *atlas) item(s *spot, i int) *spot {
	if i < len(s.items) {
		return s.items[i]
	}
	out := &spot{pointer: s.pointer + "/" + strconv.Itoa(i)}
	if i == len(s.items) && a.spots < mostSpots {
		a.spots++
		s.items = append(s.items, out)
	}
	return out
}

// member is the value of a key in a mapping.
func (k *key) member(n *schema.Node) *schema.Node {
	if k.index < len(n.Members) && n.Members[k.index].Key == k.name {
		return n.Members[k.index].Value
	}
	for i := range n.Members {
		if n.Members[i].Key == k.name {
			k.index = i
			return n.Members[i].Value
		}
	}
	return nil
}
