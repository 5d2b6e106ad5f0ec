// Package marks finds the marks that a schedule gives to more than one door.
//
// A schedule may be a stream of any length, so what has been seen is kept on disk once it is much, and compared at the end, a part
// of all marks at a time: memory does not grow with the doors.
package marks

import (
	"cmp"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/fnv"
	"io"
	"slices"

	"sillwright/cmd/internal/spool"
	"sillwright/schema"
)

// Use is one place where a mark is given to a door.
type Use struct {
	Mark     string      `json:"-"`
	File     string      `json:"-"`
	Document int         `json:"d"`
	Span     schema.Span `json:"s"`
	Quiet    bool        `json:"q,omitempty"` // of a door that was not asked about: it is compared, and nothing is said at its place
}

// kept is a use as it is kept: names byte for byte, for that of a file need not be UTF-8.
type kept struct {
	Use
	Mark []byte `json:"m"`
	File []byte `json:"f"`
}

// atOnce is how many uses are compared at once, 16 bytes each.
const atOnce = 1 << 19

// Book keeps the uses of marks. The zero Book is empty.
type Book struct {
	keys   spool.Spool // a hash and a place in uses, 16 bytes each
	uses   spool.Spool
	count  int
	atOnce int // 0: as the constant; tests take less
}

// Add notes a use.
func (b *Book) Add(u Use) error {
	line, err := json.Marshal(kept{u, []byte(u.Mark), []byte(u.File)})
	if err != nil {
		return err
	}
	h := fnv.New64a()
	io.WriteString(h, u.Mark)
	var key [16]byte
	binary.LittleEndian.PutUint64(key[:], h.Sum64())
	binary.LittleEndian.PutUint64(key[8:], uint64(b.uses.Size()))
	b.count++
	_, err1 := b.keys.Write(key[:])
	_, err2 := b.uses.Write(append(line, '\n'))
	return errors.Join(err1, err2)
}

// Drop removes what is kept on disk.
func (b *Book) Drop() {
	b.keys.Drop()
	b.uses.Drop()
}

type key struct{ hash, at uint64 }

// Repeated gives each every use of a mark that was given before, with the first use of it: in the order of the input, or, where
// there are too many marks to compare at once, part by part.
func (b *Book) Repeated(each func(use, first Use) error) error {
	most := cmp.Or(b.atOnce, atOnce)
	parts := uint64((b.count + most - 1) / most)
	for part := range parts {
		keys, err := b.part(part, parts)
		if err != nil {
			return err
		}
		if err := b.compare(keys, each); err != nil {
			return err
		}
	}
	return nil
}

// part reads the keys of a part of all marks, and leaves those whose hash occurs once out, in the order of the input.
func (b *Book) part(part, parts uint64) ([]key, error) {
	in, err := b.keys.Reader()
	if err != nil {
		return nil, err
	}
	var keys []key
	var raw [16]byte
	for {
		if _, err := io.ReadFull(in, raw[:]); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		if k := (key{binary.LittleEndian.Uint64(raw[:]), binary.LittleEndian.Uint64(raw[8:])}); k.hash%parts == part {
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, func(a, b key) int { return cmp.Or(cmp.Compare(a.hash, b.hash), cmp.Compare(a.at, b.at)) })
	kept := keys[:0]
	for i, k := range keys {
		if i > 0 && keys[i-1].hash == k.hash || i+1 < len(keys) && keys[i+1].hash == k.hash {
			kept = append(kept, k)
		}
	}
	return kept, nil
}

// compare goes through uses whose hashes are not alone. Two marks with one hash are told apart.
func (b *Book) compare(keys []key, each func(use, first Use) error) error {
	type repeat struct{ at, first uint64 }
	var repeats []repeat
	firsts := map[string]uint64{} // of one hash, by mark
	for i, k := range keys {
		if i == 0 || keys[i-1].hash != k.hash {
			clear(firsts)
		}
		u, err := b.use(k.at)
		if err != nil {
			return err
		}
		first, before := firsts[u.Mark]
		if !before {
			firsts[u.Mark] = k.at
			continue
		}
		repeats = append(repeats, repeat{k.at, first})
	}
	slices.SortFunc(repeats, func(a, b repeat) int { return cmp.Compare(a.at, b.at) })
	for _, r := range repeats {
		use, err1 := b.use(r.at)
		first, err2 := b.use(r.first)
		if err := errors.Join(err1, err2); err != nil {
			return err
		}
		switch {
		case !use.Quiet:
		case !first.Quiet:
			use, first = first, use // told where somebody asked
		default:
			continue
		}
		if err := each(use, first); err != nil {
			return err
		}
	}
	return nil
}

// use reads the use at a place.
func (b *Book) use(at uint64) (u Use, err error) {
	line, err := b.uses.Line(int64(at))
	if err != nil {
		return u, err
	}
	var k kept
	err = json.Unmarshal(line, &k)
	k.Use.Mark, k.Use.File = string(k.Mark), string(k.File)
	return k.Use, err
}
