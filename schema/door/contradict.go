package door

import (
	"fmt"
	"slices"

	"sillwright/schema/quantity"
)

// contradictions reports values that are possible each by itself but not together.
func (r *reader) contradictions(d *Door, root cursor) {
	leaves := root.child("leaves")
	switch op := d.Leaf.Operation; {
	case op.Value == "pair" && len(d.Leaves) == 1:
		leaves.problem("1 leaf", "two leaves for a pair", "add the other leaf, or write operation: hinged")
	case (op.Value == "hinged" || op.Value == "pivot") && len(d.Leaves) > 1:
		leaves.problem(fmt.Sprintf("%d leaves", len(d.Leaves)), "one leaf for a "+op.Value+" door", "write operation: pair, or take a leaf out")
	}
	if width, ok := wholeWidth(d); ok && d.Leaf.FaceToStop.Known && d.Leaf.FaceToStop.Value > width && slices.Contains([]string{"hinged", "pivot", "pair"}, d.Leaf.Operation.Value) {
		root.child("door").child("clear_width").child("face_to_stop").problem(d.Leaf.FaceToStop.Value.MM()+" mm, wider than the door itself", "less than "+width.MM()+" mm", "measure from the face of the open door to the stop")
	}
	r.lighter(d)
	r.widths(d, root.child("door").child("clear_width"))
	if run, ok := wholeRun(d); ok && d.Threshold.LeafAt.Known && (d.Threshold.LeafAt.Value < 0 || d.Threshold.LeafAt.Value > run) && len(d.Threshold.Segments) > 0 {
		root.child("threshold").child("leaf_at").problem(d.Threshold.LeafAt.Value.MM()+" mm, beside the threshold", "0 mm to "+run.MM()+" mm", "measure from the outer end of the profile to the outer face of the closed leaf")
	}
	for _, list := range []string{"paths", "evidence"} {
		for _, c := range root.child(list).items() {
			if name := c.child("leaf"); name.has() && !slices.ContainsFunc(d.Leaves, func(l Leaf) bool { return l.ID == name.text() }) {
				name.problem(fmt.Sprintf("%q", name.text()), "the id of a leaf of this door", "name a leaf, or leave it out")
			}
		}
	}
}

// widths holds the widths of the opening against the leaves, and against what stands into it.
func (r *reader) widths(d *Door, width cursor) {
	if widest, ok := widestLeaf(d); ok && d.Leaf.Operation.Value == "pair" && d.Leaf.Powered.Value == "none" && d.Leaf.FaceToStop.Known && d.Leaf.FaceToStop.Value > widest {
		width.child("face_to_stop").problem(d.Leaf.FaceToStop.Value.MM()+" mm, wider than either leaf", "at most the wider leaf, "+widest.MM()+" mm", "open one active leaf alone and measure from its face to the stop, or to the edge of the other leaf")
	}
	least := d.Leaf.LeastWidth
	if !d.Leaf.ProjectionsGiven || !least.Known || !d.Leaf.FaceToStop.Known {
		return
	}
	left := d.Leaf.FaceToStop.Value
	for _, p := range d.Leaf.Projections {
		if !p.Leaves.Known {
			return
		}
		left = min(left, p.Leaves.Value)
	}
	if least.Value < left {
		width.child("least").problem(least.Value.MM()+" mm, less than any listed projection leaves", "what the projections leave, "+left.MM()+" mm", "list what takes the width under projections")
	}
}

func widestLeaf(d *Door) (quantity.Length, bool) {
	var widest quantity.Length
	for _, l := range d.Leaves {
		if !l.Width.Known {
			return 0, false
		}
		widest = max(widest, l.Width.Value)
	}
	return widest, len(d.Leaves) > 0
}

func wholeWidth(d *Door) (quantity.Length, bool) {
	var sum quantity.Length
	for _, l := range d.Leaves {
		if !l.Width.Known {
			return 0, false
		}
		sum += l.Width.Value
	}
	return sum, len(d.Leaves) > 0
}

func wholeRun(d *Door) (quantity.Length, bool) {
	var sum quantity.Length
	for _, s := range d.Threshold.Segments {
		if !s.Run.Known {
			return 0, false
		}
		sum += s.Run.Value
	}
	return sum, d.Threshold.Given
}
