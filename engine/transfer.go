package engine

import (
	"math/big"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// putTransfer adds the ways for ventilation air past the closed door, no bottom seal fitted:
//
//	free_area = sum over the leaves of the gap under each, and transfer_area
//	undercut_now = smallest reading - out_of_square x at / width
//
// free_area is above the floor finish, one that is to come laid; undercut_now above the floor as it is now. The area is
// exact and rounded down once, to a square nanometre. Without a transfer_area there may be more. The area is left out
// where a leaf is not read from edge to edge; undercut_now may then be less.
func putTransfer(facts fact.Set, d *door.Door, leaves []*truth) {
	sum, at := new(big.Int), []string{}
	whole := len(leaves) > 0
	for _, l := range leaves {
		if l.under == nil {
			whole = false
			break
		}
		sum.Add(sum, l.under)
		at = append(at, l.GapPointer, l.Width.Pointer)
	}
	if whole {
		putArea(facts, "free_area", sum, d, at, false, "gap under each leaf, straight between readings, and transfer_area")
	}
	putUndercutNow(facts, leaves)
}

// putArea adds half of a sum in half square nanometres, and the transfer area to it. What is not known may make it more.
func putArea(facts fact.Set, name string, halves *big.Int, d *door.Door, at []string, more bool, formula string) {
	grille := d.Leaf.TransferArea
	sum := new(big.Int).Rsh(halves, 1)
	sum.Add(sum, big.NewInt(int64(grille.Value)))
	if !sum.IsInt64() {
		return // far beyond any door
	}
	at = append(at, grille.Pointer)
	facts[name] = fact.Fact{Value: sum.Int64(), At: at, Formula: formula, OrMore: more || !grille.Known}
}

// underLeaf is twice the area under a leaf, nm2: straight between the readings, held constant beyond the first and the last.
func underLeaf(l door.Leaf, read []door.Reading) *big.Int {
	var sum, a, b big.Int
	add := func(gaps, along quantity.Length) {
		a.SetInt64(int64(gaps))
		b.SetInt64(int64(along))
		sum.Add(&sum, a.Mul(&a, &b))
	}
	for i, r := range read[1:] {
		add(read[i].Gap+r.Gap, r.At-read[i].At)
	}
	first, last := read[0], read[len(read)-1]
	add(2*first.Gap, first.At)
	add(2*last.Gap, l.Width.Value-last.At)
	return &sum
}

// putUndercutNow adds the smallest gap above the floor as it is now: a finish that is to come is not laid.
func putUndercutNow(facts fact.Set, leaves []*truth) {
	all, whole := undercuts(leaves, func(l *truth) (correction, bool) { return l.square, !l.crooked })
	if len(all) > 0 {
		least := slices.MinFunc(all, byHeight)
		facts["undercut_now"] = fact.Fact{Value: int64(least.Gap), At: least.at(), Formula: "smallest of reading - out_of_square x at / width", OrLess: !whole}
	}
}

// putTransferLeft adds what an option leaves of the free area: of a leaf whose bottom it seals nothing, of one that it leaves
// bare all. A drop seal finds the floor by itself; a seal that touches it everywhere closes the gap; one that may leave
// daylight closes it as far as is known, and leaves perhaps more. It is left out where a seal is not known.
func putTransferLeft(facts fact.Set, shared *scoring, o door.Option) {
	d, c := shared.d, shared.c
	sum, at, more := new(big.Int), []string{o.Pointer}, false
	for _, l := range shared.truths {
		sealed, closes, known := bottomOf(fitsOf(o, "bottom", l.ID), c)
		if !known {
			return
		}
		more = more || (sealed && !closes)
		if sealed {
			continue
		}
		if l.under == nil {
			return
		}
		sum.Add(sum, l.under)
		at = append(at, l.GapPointer, l.Width.Pointer)
	}
	if len(d.Leaves) > 0 {
		putArea(facts, "free_area_left", sum, d, at, more, "gap under each leaf without a bottom seal, and transfer_area")
	}
}

// bottomOf says whether one of the seals at the bottom of a leaf is more than a bare gap, and whether one closes it from edge to edge.
func bottomOf(fits []door.Fit, c *catalogue.Catalogue) (sealed, closes, known bool) {
	for _, f := range fits {
		entry, ok := c.Seal(f.Seal.Value)
		if !f.Seal.Known || !ok {
			return false, false, false
		}
		if entry.Kind == "none" {
			continue
		}
		sealed = true
		closes = closes || isDrop(entry) || (f.Overlap.Known && f.Overlap.Value >= 0)
	}
	return sealed, closes, true
}
