package assess

import (
	"context"
	"encoding/binary"
	"hash/maphash"
	"slices"
	"sync"

	"sillwright/schema"
	"sillwright/schema/door"
)

// Doors of a job come in kinds: but for mark and title they are alike, and what there is to say of one is said of all. What
// a project accepts is of one mark, and is looked at for each door.

// alike holds what is known of kinds of door, no more than two generations of them. As long as doors are found alike, each is
// kept as it comes; where few are, only when one like it came before. Any number of goroutines may use it.
type alike struct {
	mu         sync.Mutex
	young, old map[string]*kind
	seen       [2]map[uint64]bool // hashes of kinds that came at all, the younger first
	seed       maphash.Seed
	kept, hits int // kinds that were kept as they came, and doors that were like one
}

// How many kinds are kept in a generation, of some tens of kilobytes each, and how many are known to have come. So many are kept as they
// come, and so many more for each door that is like one.
const (
	keptKinds = 1 << 9
	seenKinds = 1 << 14
	onTrial   = 64
	perHit    = 4
)

// kind is a door with all that does not depend on its mark, its title or its place in a file.
type kind struct {
	door   *door.Door
	judged *judged // nil where there is a result
	result *Result // nil where it depends on the mark
}

// Batch assesses many doors, of which some are alike. What its assessor holds does not change any more.
type Batch struct {
	*Assessor
	alike alike
}

// Check reads a door and, where it is asked to, assesses it. With problems there is neither.
func (a *Batch) Check(ctx context.Context, doc schema.Document, judge bool) (*door.Door, *Result, []schema.Problem, error) {
	key := likeness(doc.Root)
	known, keep := a.alike.get(key)
	if known != nil && valid(doc) {
		d := of(known.door, doc)
		if !judge {
			return d, nil, nil, nil
		}
		r, err := a.again(known, doc)
		return d, r, nil, err
	}
	d, problems := a.Decode(doc)
	if d == nil || !judge {
		return d, nil, problems, nil
	}
	j, err := a.settle(ctx, d)
	if err != nil {
		return d, nil, nil, err
	}
	if !keep {
		r, err := a.conclude(d, j)
		return d, r, nil, err
	}
	fresh := kind{door: without(d)}
	if a.Project.Accepts() {
		fresh.judged = j.apart()
		fresh.judged.door = without(j.door)
	}
	r, err := a.conclude(d, j)
	if err != nil {
		return d, nil, nil, err
	}
	if !a.Project.Accepts() {
		result := *r
		result.Door = without(r.Door)
		for _, o := range result.Options {
			o.Worn() // once found, it holds its door and the document no more
		}
		fresh.result = &result
	}
	a.alike.put(key, &fresh)
	return d, r, nil, nil
}

// again is what there is to say of another door of a kind.
func (a *Batch) again(k *kind, doc schema.Document) (*Result, error) {
	if k.result != nil {
		out := *k.result
		out.Door = of(out.Door, doc)
		return &out, nil
	}
	j := k.judged.apart()
	j.door = of(j.door, doc)
	return a.conclude(j.door, j)
}

// apart is the same with findings that can be written to.
func (j *judged) apart() *judged {
	out := *j
	out.findings = slices.Clone(j.findings)
	return &out
}

// without is a door without its document, which would be kept with it.
func without(d *door.Door) *door.Door {
	out := *d
	out.Document = schema.Document{}
	return &out
}

// of is the door that a document gives, of which it is known that it is like another.
func of(d *door.Door, doc schema.Document) *door.Door {
	out := *d
	out.Document = doc
	mark, _ := doc.Root.Member("mark")
	out.Mark, out.Title = mark.Text, ""
	if title, ok := doc.Root.Member("title"); ok {
		out.Title = title.Text
	}
	return &out
}

// valid says whether the schema takes a document.
func valid(doc schema.Document) bool {
	s, err := schema.Named("door")
	return err == nil && len(schema.Validate(doc, s)) == 0
}

// likeness writes a document but for its mark and its title; "" where there is no mark to leave out.
func likeness(root *schema.Node) string {
	if mark, ok := root.Member("mark"); !ok || mark.Kind != schema.String {
		return ""
	}
	to := make([]byte, 0, 1<<11)
	for _, m := range root.Members {
		to = text(to, m.Key)
		switch {
		case m.Key == "mark" || m.Key == "title" && m.Value.Kind == schema.String:
		default:
			to = like(to, m.Value)
		}
	}
	return string(to)
}

func like(to []byte, n *schema.Node) []byte {
	to = append(to, '0'+byte(n.Kind))
	switch n.Kind {
	case schema.Object:
		for _, m := range n.Members {
			to = like(text(to, m.Key), m.Value)
		}
	case schema.Array:
		for _, item := range n.Items {
			to = like(to, item)
		}
	default:
		return text(to, n.Text)
	}
	return append(to, ';')
}

// text writes a text with its length, so that no two lists of texts are written alike.
func text(to []byte, s string) []byte {
	return append(binary.AppendUvarint(to, uint64(len(s))), s...)
}

// get gives what is known of a kind, or says whether it is to be kept.
func (a *alike) get(key string) (known *kind, keep bool) {
	if key == "" {
		return nil, false
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if known = a.young[key]; known != nil {
		a.hits++
		return known, false
	}
	if known = a.old[key]; known != nil {
		a.hits++
		a.add(key, known)
		return known, false
	}
	if len(a.young) < keptKinds && a.kept < onTrial+perHit*a.hits {
		a.kept++
		return nil, true
	}
	if a.seen[0] == nil {
		a.seed, a.seen[0] = maphash.MakeSeed(), map[uint64]bool{}
	}
	hash := maphash.String(a.seed, key)
	if a.seen[0][hash] || a.seen[1][hash] {
		return nil, true
	}
	if len(a.seen[0]) >= seenKinds {
		a.seen = [2]map[uint64]bool{{}, a.seen[0]}
	}
	a.seen[0][hash] = true
	return nil, false
}

func (a *alike) put(key string, k *kind) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.young[key] == nil {
		a.add(key, k)
	}
}

func (a *alike) add(key string, k *kind) {
	if len(a.young) >= keptKinds {
		a.old, a.young = a.young, nil
	}
	if a.young == nil {
		a.young = map[string]*kind{}
	}
	a.young[key] = k
}
