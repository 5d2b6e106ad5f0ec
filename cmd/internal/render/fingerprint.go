package render

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"

	"sillwright/cmd/internal/spool"
)

// fingerprint tells an entry from all others of a report, and is the same in every run: it is made of the file, the rule
// and the entry's identity, which names the door by its mark, and so neither of the place nor of what was found there. Only
// where the mark of a document is not known, what is wrong with it is told from the rest by what was found and what is allowed.
type fingerprint [16]byte

// print is the fingerprint of an entry.
func (e entry) print() fingerprint {
	h := sha256.New()
	for _, part := range append([]string{placeName(e.file), e.rule}, e.identity...) {
		h.Write(binary.BigEndian.AppendUint64(nil, uint64(len(part))))
		io.WriteString(h, part)
	}
	return fingerprint(h.Sum(nil)[:16])
}

// again is the fingerprint of what is there for the nth time: nothing else tells apart what a file says twice, as of two doors
// with one mark, or of two documents with no mark and the same fault. These change with what stands before them.
func (p fingerprint) again(nth uint32) fingerprint {
	sum := sha256.Sum256(binary.BigEndian.AppendUint32(p[:], nth))
	return fingerprint(sum[:16])
}

func (p fingerprint) String() string { return hex.EncodeToString(p[:]) }

// placeName is the file of an entry as it is told.
func placeName(file string) string {
	if file == "" {
		return file
	}
	return fromHere(file)
}

// entryList is a list in JSON, an object an entry, that waits until all is known. Which entries are there twice is known at the
// end only, and is found out without holding them all.
type entryList struct {
	items spool.Spool
	kept  spool.Spool // the fingerprint of each, and the place in items where it stands in hex
	count int
}

// keptSize is a fingerprint and its place; mostKept is about how many of them are held in memory at a time.
const (
	keptSize = len(fingerprint{}) + 8
	mostKept = 1 << 18
)

// add adds an entry as an object, in which its fingerprint is the value of a key.
func (l *entryList) add(object any, key string, p fingerprint) error {
	var b bytes.Buffer
	if l.count > 0 {
		b.WriteString(",\n")
	}
	if err := line(&b, object); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the comma comes before the line ends
	lead := fmt.Sprintf("%q:%q", key, p.String())
	at := bytes.Index(b.Bytes(), []byte(lead)) // quotes in a text are escaped: it cannot stand in one
	if at < 0 {
		return fmt.Errorf("writing a result: no %s in it", key)
	}
	place := l.items.Size() + int64(at+len(lead)-1-2*len(p))
	if _, err := l.kept.Write(binary.BigEndian.AppendUint64(p[:], uint64(place))); err != nil {
		return err
	}
	l.count++
	_, err := l.items.Write(b.Bytes())
	return err
}

// copyTo writes the list.
func (l *entryList) copyTo(w io.Writer) error {
	if err := l.tellApart(mostKept); err != nil {
		return err
	}
	if _, err := io.WriteString(w, "["); err != nil {
		return err
	}
	if err := l.items.CopyTo(w); err != nil {
		return err
	}
	_, err := io.WriteString(w, "]")
	return err
}

// tellApart gives what is there for the second time, or a later one, a fingerprint of its own. It goes through the
// fingerprints as often as it takes to hold no more than about so many of them.
func (l *entryList) tellApart(most int) error {
	passes := uint64(l.count/most + 1)
	for pass := range passes {
		all, err := l.kept.Reader()
		if err != nil {
			return err
		}
		if err := l.renumber(all, pass, passes); err != nil {
			return err
		}
	}
	return nil
}

// renumber tells apart the fingerprints that are of one pass.
func (l *entryList) renumber(kept io.Reader, pass, passes uint64) error {
	times := map[fingerprint]uint32{}
	var record [keptSize]byte
	for {
		if _, err := io.ReadFull(kept, record[:]); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
		p := fingerprint(record[:len(fingerprint{})])
		if binary.BigEndian.Uint64(p[:])%passes != pass {
			continue
		}
		times[p]++
		if times[p] == 1 {
			continue
		}
		place := int64(binary.BigEndian.Uint64(record[len(p):]))
		if err := l.items.Overwrite([]byte(p.again(times[p]).String()), place); err != nil {
			return err
		}
	}
}

func (l *entryList) Drop() {
	l.items.Drop()
	l.kept.Drop()
}
