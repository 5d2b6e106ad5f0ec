package explain

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"sillwright/policies"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// mostItems is how many items of a structure are put in words.
const mostItems = 12

// structures word each fact that is a structure, or each item of one that is a list: {member:kind}.
var structures = map[string]string{
	"air_class_target":       "class {class:count}",
	"carpet_edge":            "{top:length} up onto the carpet",
	"climbs":                 "{top:length} up from the {side:word} side",
	"closing_times":          "{time:time} from {from:angle} to {to:angle}",
	"closing_to_edge":        "{time:time} from {from:angle} to {least:length} from closed",
	"cycles_asked":           "{cycles:count} ({class:word})",
	"cycles_tested":          "{cycles:count}, which are {years:word}",
	"edge_gaskets_pressed":   "{edge:word} {pressed:length}, made for {least:length} to {most:length}",
	"edge_rates":             rates,
	"embedded_blades":        "{part:length} of {whole:length}",
	"fitted_gaskets_pressed": "{edge:word} {pressed:length}, made for {least:length} to {most:length}",
	"floor_slope":            "{rise:count}:{run:count}",
	"house_target":           "{flow:flow} at {at:number} Pa",
	"latching_spare":         forces,
	"leaf_area":              "{width:length} wide, {height:length} high",
	"leakage":                "{likely:flow} ({low:low} to {high:high}) at {at:number} Pa",
	"leakage_50":             "{likely:flow} ({low:low} to {high:high}) at {at:number} Pa",
	"leakage_rates":          rates,
	"leakage_target":         "at most {flow:flow} at {at:number} Pa",
	"opening_force":          "{force:force} from {from:angle} to {to:angle}",
	"opening_force_sealed":   forces + " from {from:angle} to {to:angle}",
	"openings":               "{width:length} wide, running {runs:word}",
	"profile":                "height from the {side:word} side {height:length}",
	"projections":            "{part:word} from {from:length} up, {leaves:length} left beside it",
	"push_side_joints":       "step of {step:length} at {height:length}",
	"seal_joints":            "step of {step:length} at {height:length}",
	"shorter_brushes":        "{names:words}",
}

const (
	rates  = "{likely:flow} ({low:low} to {high:high}) at {at:pressure}"
	forces = "{likely:force} ({low:force} to {high:force})"
)

// unsaid stands for a member that is not known.
const unsaid = "not known"

// words is the value of a fact for a person.
func words(d fact.Description, f fact.Fact, system quantity.System) string {
	text := scalar(string(d.Kind), f.Value, system)
	if d.Kind == fact.Structure {
		text = structure(d.Name, f.Value, system)
	}
	switch {
	case f.OrMore:
		text = "at least " + text
	case f.OrLess:
		text = "at most " + text
	}
	return text
}

func structure(name string, value any, system quantity.System) string {
	src, err := json.Marshal(value)
	if err != nil {
		return ""
	}
	in := json.NewDecoder(bytes.NewReader(src))
	in.UseNumber()
	var plain any
	if err := in.Decode(&plain); err != nil {
		return ""
	}
	list, several := plain.([]any)
	if !several {
		return filled(structures[name], plain, system)
	}
	if len(list) == 0 {
		return "none"
	}
	var out []string
	for i, item := range list {
		if i == mostItems {
			out = append(out, fmt.Sprintf("and %d more", len(list)-i))
			break
		}
		out = append(out, filled(structures[name], item, system))
	}
	return strings.Join(out, "; ")
}

var member = regexp.MustCompile(`\{(\w+):(\w+)\}`)

// filled puts the members of a structure into its words.
func filled(text string, item any, system quantity.System) string {
	members, _ := item.(map[string]any)
	return member.ReplaceAllStringFunc(text, func(m string) string {
		parts := member.FindStringSubmatch(m)
		value, ok := members[parts[1]]
		if !ok || value == nil {
			return unsaid
		}
		return scalar(parts[2], value, system)
	})
}

// scalar words a value of a kind: those of facts, and those that structures hold.
func scalar(kind string, value any, system quantity.System) string {
	n, whole := wholeOf(value)
	if whole {
		switch kind {
		case string(fact.Length):
			return quantity.Length(n).In(system)
		case string(fact.Force):
			return quantity.Force(n).In(system)
		case string(fact.Angle):
			return quantity.Angle(n).Deg() + " deg"
		case string(fact.Area):
			return quantity.Area(n).In(system)
		case string(fact.Date):
			return quantity.Date(n).Day()
		case "time":
			return quantity.Time(n).S() + " s"
		case "pressure": // whole micropascals
			return strconv.FormatFloat(float64(n)/1e6, 'g', -1, 64) + " Pa"
		}
	}
	rounds := map[string]func(float64) float64{"flow": math.Round, "low": math.Floor, "high": math.Ceil}
	if round, ok := rounds[kind]; ok {
		text := policies.Figures(floatOf(value)*1000, 3, round)
		if kind == "flow" {
			text += " L/s"
		}
		return text
	}
	switch v := value.(type) {
	case bool:
		return map[bool]string{true: "yes", false: "no"}[v]
	case []any:
		var out []string
		for _, item := range v {
			out = append(out, fmt.Sprint(item))
		}
		if len(out) == 0 {
			return "none"
		}
		return strings.Join(out, ", ")
	}
	return fmt.Sprint(value)
}

func wholeOf(value any) (int64, bool) {
	switch v := value.(type) {
	case int64:
		return v, true
	case json.Number:
		n, err := v.Int64()
		return n, err == nil
	}
	return 0, false
}

func floatOf(value any) float64 {
	switch v := value.(type) {
	case float64:
		return v
	case json.Number:
		f, _ := v.Float64()
		return f
	}
	return 0
}
