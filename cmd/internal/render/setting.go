package render

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// settings tells of each seal that the program set how far it is pressed, what else would do, and what to do on site; or why no
// setting serves.
func (p *page) settings(r *assess.Result) {
	first := true
	for _, o := range r.Options {
		var lines []string
		for _, s := range o.Settings {
			lines = append(lines, found(o, s, r.System)...)
		}
		for _, do := range onSite(r, o) {
			lines = append(lines, "Do: "+do)
		}
		lines = append(lines, short(o, r.System)...)
		if len(lines) == 0 {
			continue
		}
		if first {
			p.heading("SETTING THE SEALS", "on site, with the door closed")
			first = false
		}
		mark := "    " + left(clean(o.ID), nameWidth-1) + " "
		for _, l := range lines {
			p.text(mark, l)
			mark = strings.Repeat(" ", columns(mark))
		}
	}
}

// found words a setting: what it is, what else is about as good, and between which rules it lies; or the clash.
func found(o assess.Option, s assess.Setting, system quantity.System) []string {
	seal := ""
	if len(o.Settings) > 1 {
		f := o.Spec.Fits[s.Fit]
		seal = clean(f.Seal.Value)
		if f.Leaf != "" {
			seal += " of leaf " + clean(f.Leaf)
		}
		seal += ": "
	}
	if s.Clash != nil {
		return []string{seal + clashed(o, s, system)}
	}
	text := seal + upper(pressed(s.Overlap, system)) + " at the widest place"
	chosen := s.Offered[s.Chosen]
	switch low, high := s.Offered[s.Flat[0]].Overlap, s.Offered[s.Flat[1]].Overlap; {
	case chosen.Leakage == nil:
		text += "; what it leaks is not known, so this is the middle of what the rules allow"
	case low == high:
		text += ", where the high end of what leaks is least; no other setting comes within 5 % of it"
	default:
		text += fmt.Sprintf(", where the high end of what leaks is least; from %s to %s it is within 5 %%", overlapped(low, system), overlapped(high, system))
	}
	return []string{text + ".", allowedSettings(s, system)}
}

// allowedSettings says how far the setting may go, and what stops it.
func allowedSettings(s assess.Setting, system quantity.System) string {
	low, high := s.Allowed[0], s.Allowed[1]
	text := fmt.Sprintf("Rules allow %s to %s", overlapped(s.Offered[low].Overlap, system), overlapped(s.Offered[high].Overlap, system))
	if low == high {
		text = "Rules allow no other"
	}
	var ends []string
	if low > 0 {
		ends = append(ends, "less: "+stops(s, low-1))
	}
	if high < len(s.Offered)-1 {
		ends = append(ends, "more: "+stops(s, high+1))
	}
	if len(ends) > 0 {
		text += " (" + strings.Join(ends, "; ") + ")"
	}
	return text + "."
}

// stops names what speaks against a setting and not against the chosen one.
func stops(s assess.Setting, i int) string {
	var names []string
	for _, f := range s.Offered[i].Findings {
		if f.Level != policies.Caution && (f.Outcome == policies.Fail || f.Outcome == policies.Unknown) && !stands(s.Offered[s.Chosen].Findings, f) {
			names = append(names, f.Title)
		}
	}
	return strings.Join(names, ", ")
}

// stands is true where the same rule has the same outcome.
func stands(findings []policies.Finding, f policies.Finding) bool {
	return slices.ContainsFunc(findings, func(o policies.Finding) bool { return o.Rule == f.Rule && o.Outcome == f.Outcome })
}

// clashed names the two rules that leave no setting, and by how much.
func clashed(o assess.Option, s assess.Setting, system quantity.System) string {
	c := s.Clash
	word := "No setting serves"
	if !c.Counts {
		word = "No setting meets all that should be met"
	}
	if c.Low == nil {
		return fmt.Sprintf("%s. %s: %s at every one that was tried, %s to %s. At %s: %s.", word, c.High.Title, c.High.Other.Outcome+"s",
			overlapped(s.Offered[0].Overlap, system), overlapped(s.Offered[len(s.Offered)-1].Overlap, system), overlapped(c.High.From, system), against(c.High.Other))
	}
	text := fmt.Sprintf("%s. %s: from %s on. %s: up to %s. They lie %s apart. At %s: %s.", word, c.Low.Title, overlapped(c.Low.From, system),
		c.High.Title, overlapped(c.High.From, system), c.Apart.In(system), overlapped(c.Low.From, system), against(c.Low.Other))
	if varies := variation(o.Contact); varies > 0 {
		text += " The gap varies " + varies.In(system) + " along the leaf."
	}
	return text
}

// variation is how far the gap of the closed door varies, along the leaf on which it does most.
func variation(contacts []engine.Contact) quantity.Length {
	var most quantity.Length
	for _, c := range contacts {
		tightest := slices.MinFunc(c.Places, func(a, b engine.Touch) int { return cmp.Compare(a.Gap, b.Gap) })
		most = max(most, c.Widest().Gap-tightest.Gap)
	}
	return most
}

// against is what a rule found and what it allows.
func against(f policies.Finding) string {
	if f.Found == "" || f.Allowed == "" {
		return strings.TrimSuffix(lower(f.Message), ".")
	}
	return lower(f.Message) + ", found " + f.Found + ", allowed " + allowed(f.Point)
}

func lower(text string) string { return strings.ToLower(text[:1]) + text[1:] }

// pressed words an overlap.
func pressed(l quantity.Length, s quantity.System) string {
	switch {
	case l == 0:
		return "just touching"
	case l > 0:
		return l.In(s) + " pressed"
	}
	return (-l).In(s) + " of daylight"
}

// overlapped is an overlap within a range of them.
func overlapped(l quantity.Length, s quantity.System) string {
	if l == 0 {
		return "0 (just touching)"
	}
	return pressed(l, s)
}

// onSite says in a line for each leaf what to do with the carrier, of the seals that the program set, or of which the spec says where they
// stand today; and how far drop seals are to fall. Nothing where no setting serves.
func onSite(r *assess.Result, o assess.Option) []string {
	out := []string{}
	if slices.ContainsFunc(o.Settings, func(s assess.Setting) bool { return s.Clash != nil && s.Clash.Counts }) {
		return out
	}
	for _, f := range o.Spec.Fits {
		if f.Edge != "bottom" || !(f.Auto || f.Now.Known) || !f.Overlap.Known {
			continue
		}
		for _, c := range o.Contact {
			if c.Seal == f.Seal.Value && (f.Leaf == "" || f.Leaf == c.Leaf) {
				out = append(out, which(r, o, c.Leaf, c.Seal)+instruction(f, c, r))
			}
		}
	}
	for _, f := range o.Falls {
		if f.Most == 0 || f.Widest.Gap <= f.Most {
			out = append(out, fmt.Sprintf("%sadjust the fall to at least %s, the gap %s; shut the door and check that a sheet of paper is held along the whole width.",
				which(r, o, f.Leaf, f.Seal), f.Widest.Gap.In(r.System), widestAt(f.Widest, r)))
		}
	}
	return out
}

// short tells of drop seals that cannot be adjusted to reach the floor.
func short(o assess.Option, s quantity.System) []string {
	var out []string
	for _, f := range o.Falls {
		if f.Most > 0 && f.Widest.Gap > f.Most {
			out = append(out, fmt.Sprintf("No setting serves. %s falls %s, and the gap of leaf %s is %s wide: %s too little.", clean(f.Seal), f.Most.In(s), clean(f.Leaf), f.Widest.Gap.In(s), (f.Widest.Gap-f.Most).In(s)))
		}
	}
	return out
}

// which names leaf and seal where there are several.
func which(r *assess.Result, o assess.Option, leaf, seal string) string {
	text := ""
	if len(r.Door.Leaves) > 1 {
		text = "leaf " + clean(leaf) + ", "
	}
	if n := slices.IndexFunc(o.Spec.Fits, func(f door.Fit) bool { return f.Edge == "bottom" && f.Seal.Value != seal }); n >= 0 {
		text += clean(seal) + ", "
	}
	if text == "" {
		return ""
	}
	return strings.TrimSuffix(text, ", ") + ": "
}

// instruction is what to do with the carrier of a seal, and how to check it. Paper: common practice, no published source.
func instruction(f door.Fit, c engine.Contact, r *assess.Result) string {
	move := f.Overlap.Value - f.Now.Value
	carrier := "the carrier"
	if c.Kind == "gasket" {
		carrier = "the limit stop of the door"
	}
	var do string
	switch {
	case f.Now.Known && move > 0:
		do = "lower " + carrier + " " + move.In(r.System)
	case f.Now.Known && move < 0:
		do = "raise " + carrier + " " + (-move).In(r.System)
	case f.Now.Known:
		do = "leave " + carrier + " where it is"
	case c.Hangs > 0:
		do = fmt.Sprintf("hang %s %s below the leaf", carrier, c.Hangs.In(r.System))
	default:
		do = fmt.Sprintf("fix %s so that the free end of the seal stands %s below the leaf", carrier, (c.Widest().Gap + f.Overlap.Value).In(r.System))
	}
	if move == 0 && f.Now.Known && f.Overlap.Value < 0 {
		return do + "."
	}
	return do + "; " + paper(f.Overlap.Value, c.Widest(), r) + "."
}

// paper is the check of a setting with a sheet of paper under the closed door.
func paper(overlap quantity.Length, widest engine.Touch, r *assess.Result) string {
	switch {
	case overlap > 0:
		return "check that a sheet of paper drags " + widestAt(widest, r)
	case overlap == 0:
		return "check that a sheet of paper just drags " + widestAt(widest, r)
	}
	return fmt.Sprintf("%s of daylight stay %s", (-overlap).In(r.System), widestAt(widest, r))
}

// widestAt says where the gap is widest.
func widestAt(t engine.Touch, r *assess.Result) string {
	from := "the hinge edge"
	if !swings(r) {
		from = "the left, seen from outside"
	}
	return fmt.Sprintf("at the widest place, %s from %s", t.At.In(r.System), from)
}
