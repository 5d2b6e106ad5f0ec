package remedy

import (
	"fmt"
	"strings"

	"sillwright/engine/catalogue"
	"sillwright/schema"
)

// field is a value of the spec that a move makes larger or smaller, with the words for it.
type field struct {
	end   string // of its pointer; an item of a list that a finding names ends before it
	scale scale
	does  string // {to}, {from}, {by}, {side} stand for the values
	more  bool   // it is made larger
	after string // what to look at afterwards; ""
}

var (
	slowCloser = []field{
		{"/closing_times/*/time", times, "Set the closer or the spring hinges so that the door takes {to} from {angles}; it takes {from}.", true, "Time it again with the bottom seal fitted, and see that the door still latches."},
	}
	changeCarpet = []field{
		{"/floor/carpet/pile", lengths, "Choose a carpet with pile of at most {to}; it is {from}.", false, "Read the gaps again over the new carpet."},
	}
	fitGrille = []field{
		{"/door/transfer_area", areas, "Fit a grille, or widen the one there is, so that {to} is free for ventilation air beside the gap; {from} is now.", true, ""},
	}
	makeRoom = []field{
		{"/recess/depth", lengths, "Set the door nearer to the face of the wall on the {side}: the recess {to} deep in place of {from}.", false, "Measure the clear floor again on both sides."},
		{"/depth", lengths, "Make room on the {side} of the door: clear floor {to} deep, {by} more than the {from} there is.", true, ""},
		{"/beside_latch", lengths, "Make room on the {side} of the door: {to} beside the latch side of the doorway, {by} more than the {from} there is (move the return wall, or the door along its wall).", true, ""},
		{"/beside_hinge", lengths, "Make room on the {side} of the door: {to} beside the hinge side of the doorway, {by} more than the {from} there is.", true, ""},
		{"/recess/beside", lengths, "Make room on the {side} of the door: what stands out beside the latch side {to} from it, {by} more than the {from} there is.", true, ""},
	}
)

// scalar moves one value that a finding names to its limit.
func scalar(fields []field) mover {
	return func(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
		for _, pointer := range a.at() {
			for _, f := range fields {
				if at, ok := f.of(pointer); ok {
					return s.setting(a, f, at)
				}
			}
		}
		return nil, ""
	}
}

// of completes a pointer that a finding names to that of the field.
func (f field) of(pointer string) (string, bool) {
	end, item := f.end, strings.Index(f.end, "/*/")
	if item < 0 {
		return pointer, strings.HasSuffix(pointer, end)
	}
	list, key := end[:item], end[item+2:]
	i := strings.LastIndex(pointer, "/")
	if i < 0 || !strings.HasSuffix(pointer[:i], list) {
		return "", false
	}
	return pointer + key, true
}

// setting proposes to move a value, in the steps of its unit.
func (s *spec) setting(a aim, f field, pointer string) ([]proposal, string) {
	n := s.node(pointer)
	now := int64(0)
	if n != nil {
		var err error
		if now, err = f.scale.Parse(n.Text); err != nil || n.Kind != schema.String && n.Kind != schema.Number {
			return nil, fmt.Sprintf("`%s` is not known", schema.Field(pointer))
		}
	} else if pointer != "/door/transfer_area" {
		return nil, fmt.Sprintf("`%s` is not known", schema.Field(pointer))
	}
	step := f.scale.step(s.system(pointer))
	value := func(size int) int64 {
		if f.more {
			return below(now, step) + int64(size)*step
		}
		return above(now, step) - int64(size)*step
	}
	p := proposal{object: pointer, most: 100_000, first: int((a.misses() + step - 1) / step)}
	if !f.more {
		p.most = int(above(now, step) / step)
	}
	p.at = func(s *spec, size int) (change, string) {
		system, to := s.system(pointer), value(size)
		if to < 0 {
			return change{}, "it would be less than nothing"
		}
		text := f.scale.In(to, system)
		c := change{ops: []Operation{s.put(pointer, text)}, do: s.worded(f, pointer, now, to)}
		if f.after != "" {
			c.after = []string{f.after}
		}
		return c, ""
	}
	return []proposal{p}, ""
}

// worded fills the words of a field.
func (s *spec) worded(f field, pointer string, from, to int64) string {
	system := s.system(pointer)
	by := to - from
	if by < 0 {
		by = -by
	}
	side := "outside"
	if strings.Contains(pointer, "/inside/") {
		side = "inside"
	}
	angles := ""
	for _, t := range s.door.Leaf.ClosingTimes {
		if within(pointer, t.Pointer) {
			angles = t.From.Deg() + " deg to "
			if t.To.Known {
				angles += t.To.Value.Deg() + " deg"
			} else {
				angles += lengths.In(int64(t.ToEdge.Value), system) + " from closed"
			}
		}
	}
	return strings.NewReplacer("{to}", f.scale.In(to, system), "{from}", f.scale.In(from, system), "{by}", f.scale.In(by, system), "{side}", side, "{angles}", angles).Replace(f.does)
}

// fixSurface are the truths about surfaces, with what makes each true.
var fixSurface = map[string]string{
	"/threshold/firm":        "Fix the threshold down, with a surface that its maker tested for slip resistance, so that it is stable, firm and slip resistant.",
	"/floor/carpet/attached": "Fix the carpet, and trim its exposed edges over their whole length.",
	"/approach/outside/firm": "Change or fix the floor outside so that it is stable, firm and slip resistant; let a mat in flush and fix it.",
	"/approach/inside/firm":  "Change or fix the floor inside so that it is stable, firm and slip resistant; let a mat in flush and fix it.",
}

// truth makes true what a finding found not to be.
func truth(does map[string]string) mover {
	return func(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
		for _, pointer := range a.at() {
			if do, ok := does[pointer]; ok {
				return []proposal{{object: pointer, at: func(s *spec, _ int) (change, string) {
					return change{ops: []Operation{s.put(pointer, true)}, do: do}, ""
				}}}, ""
			}
		}
		return nil, ""
	}
}
