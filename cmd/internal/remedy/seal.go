package remedy

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
)

// toSet is what a seal is set to until the program has found its setting.
var toSet = map[string]any{"auto": true}

// underside is where a seal is fixed of which nobody says otherwise: below the leaf, where it stands off no face.
var underside = map[string]any{"on": "underside"}

// isToSet says whether an operation leaves a setting to be found.
func (o Operation) isToSet() bool {
	return strings.HasSuffix(o.Path, "/set") && string(o.Value) == `{"auto":true}`
}

// bottoms are the places of the bottom seals of an option.
func bottoms(o door.Option) []int {
	var out []int
	for i, f := range o.Fits {
		if f.Edge == "bottom" {
			out = append(out, i)
		}
	}
	return out
}

// option is the place of the option that an aim is about, or of the one there is; -1: there is none.
func (s *spec) option(a aim) int {
	id, ok := strings.CutPrefix(a.finding.Subject, "option:")
	return slices.IndexFunc(s.door.Options, func(o door.Option) bool { return ok && o.ID == id || !ok && len(s.door.Options) == 1 })
}

// bottoms are the places of the bottom seals of an option; none where there is none.
func (s *spec) bottoms(option int) []int {
	if option < 0 {
		return nil
	}
	return bottoms(s.door.Options[option])
}

// place says which seal of an option one is, in words; "" where it has one only.
func place(o door.Option, fit int) string {
	if len(bottoms(o)) < 2 {
		return ""
	}
	f := o.Fits[fit]
	out := ""
	if f.Leaf != "" {
		out += " under leaf " + f.Leaf
	}
	if f.Order > 0 {
		out += fmt.Sprintf(", number %d from outside", f.Order)
	}
	return out
}

// setSeal has the program find how a bottom seal is set.
func setSeal(s *spec, a aim, c *catalogue.Catalogue) ([]proposal, string) {
	var out []proposal
	i := s.option(a)
	for _, fit := range s.bottoms(i) {
		f := s.door.Options[i].Fits[fit]
		entry, known := c.Seal(f.Seal.Value)
		if !known || !f.Seal.Known || !isSet(entry) || f.Auto {
			continue
		}
		out = append(out, proposal{object: "setting of " + f.Pointer, at: func(s *spec, _ int) (change, string) {
			o := s.door.Options[i]
			return change{ops: []Operation{s.put(f.Pointer+"/set", toSet)}, do: fmt.Sprintf("Set the bottom seal of option %s%s, %s, {overlap}.", o.ID, place(o, fit), f.Seal.Value)}, ""
		}})
	}
	if len(out) == 0 {
		return nil, "there is no bottom seal that is set, or the program sets it already"
	}
	return out, ""
}

// isSet says whether a seal is set by its overlap; a drop seal and a bare gap are not.
func isSet(entry *catalogue.Seal) bool {
	switch entry.Kind {
	case "brush", "tufted-brush", "blade", "gasket":
		return true
	}
	return false
}

// atBottom says whether a seal can close the gap at the floor of a door; a gasket does under a leaf that comes down on it.
func atBottom(d *door.Door, entry *catalogue.Seal) bool {
	if entry.Kind == "gasket" {
		return d.Leaf.Operation.Value == "roller" || d.Leaf.Operation.Value == "sectional"
	}
	return entry.Kind != "none"
}

// changeSeal takes another seal of the catalogue in the place of one.
func changeSeal(s *spec, a aim, c *catalogue.Catalogue) ([]proposal, string) {
	var out []proposal
	i := s.option(a)
	for _, fit := range s.bottoms(i) {
		f := s.door.Options[i].Fits[fit]
		for _, name := range c.Names() {
			entry, _ := c.Seal(name)
			if name == f.Seal.Value || !atBottom(s.door, entry) {
				continue
			}
			out = append(out, proposal{object: "seal of " + f.Pointer + " " + name, at: func(s *spec, _ int) (change, string) {
				o := s.door.Options[i]
				now := o.Fits[fit]
				ops := []Operation{s.put(now.Pointer+"/seal", name)}
				do := fmt.Sprintf("Take %s in place of %s in option %s%s", name, now.Seal.Value, o.ID, place(o, fit))
				switch {
				case isSet(entry):
					ops, do = append(ops, s.put(now.Pointer+"/set", toSet)), do+", set {overlap}"
				case s.node(now.Pointer+"/set") != nil:
					ops = append(ops, drop(now.Pointer+"/set"))
				}
				if !now.Mount.On.Known {
					ops, do = append(ops, s.put(now.Pointer+"/mount", underside)), do+", fixed below the leaf"
				}
				return change{ops: ops, do: do + "."}, ""
			}})
		}
	}
	if len(out) == 0 {
		return nil, "there is no bottom seal, or the catalogue has no other one"
	}
	return out, ""
}

// listOption lists an option where none is.
func listOption(s *spec, _ aim, c *catalogue.Catalogue) ([]proposal, string) {
	if len(s.door.Options) > 0 {
		return nil, "options are listed"
	}
	var out []proposal
	for _, name := range c.Names() {
		entry, _ := c.Seal(name)
		if !atBottom(s.door, entry) {
			continue
		}
		out = append(out, proposal{object: "option " + name, at: func(s *spec, _ int) (change, string) {
			option := map[string]any{"id": name, "seal": name, "mount": underside}
			do := fmt.Sprintf("List an option with %s below the leaf", name)
			if isSet(entry) {
				option["set"] = toSet
				do += ", set {overlap}"
			}
			return change{ops: []Operation{s.put("/options", []any{option})}, do: do + "."}, ""
		}})
	}
	return out, ""
}

// moveSeal fixes a seal where it does not stand off the face that people push.
func moveSeal(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	i := s.option(a)
	if i < 0 {
		return nil, "no option is listed"
	}
	var out []proposal
	for j, f := range s.door.Options[i].Fits {
		for _, to := range []struct{ on, words string }{{"underside", "below the leaf, flush with its faces"}, {"pull-face", "on the face that people pull"}} {
			if !f.Mount.On.Known || f.Mount.On.Value == to.on {
				continue
			}
			out = append(out, proposal{object: f.Mount.Pointer + " " + to.on, at: func(s *spec, _ int) (change, string) {
				o := s.door.Options[i]
				mount := map[string]any{"on": to.on}
				if n := s.node(f.Mount.Pointer + "/step"); n != nil && to.on == "pull-face" {
					mount["step"] = n.Plain()
				}
				return change{ops: []Operation{s.put(f.Mount.Pointer, mount)}, do: fmt.Sprintf("Fix the seal of option %s%s %s.", o.ID, place(o, j), to.words), after: []string{"See that it still meets the floor, or the threshold, along its whole length."}}, ""
			}})
		}
	}
	if len(out) == 0 {
		return nil, "where the seal is fixed is not said, or it stands off no face"
	}
	return out, ""
}
