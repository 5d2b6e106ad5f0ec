package main

import (
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/quantity"
)

// book walks one rule as its rulebook writes it, and makes mutants of the data that the questions read of it.
type book struct {
	file, rule string
	out        []mutant
}

// rulebookMutants changes every rule of every rulebook under dir, each use of an anchor by itself.
func rulebookMutants(dir string) ([]mutant, error) {
	names, err := filepath.Glob(filepath.Join(dir, "rulebooks", "*.yaml"))
	if err != nil {
		return nil, err
	}
	var out []mutant
	for _, name := range names {
		if strings.HasSuffix(name, ".cases.yaml") {
			continue
		}
		src, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		docs, problems := schema.Read(name, src)
		if len(problems) > 0 {
			return nil, problems[0]
		}
		id, _ := docs[0].Root.Member("id")
		rules, _ := docs[0].Root.Member("rules")
		for _, m := range rules.Members {
			b := &book{file: "policies/rulebooks/" + filepath.Base(name), rule: id.Text + "/" + m.Key}
			b.whole(m.Value)
			out = append(out, b.out...)
		}
	}
	return out, nil
}

// add makes a mutant; n is what it changes and place the way there from the rule.
func (b *book) add(kind string, n *schema.Node, place []any, now string, change func(rule map[string]any)) {
	was := n.Text
	if n.Kind == schema.Object || n.Kind == schema.Array {
		was = fmt.Sprint(n.Plain())
	}
	where := b.rule + schema.Pointer(place...)
	b.out = append(b.out, mutant{kind: kind, file: b.file, line: n.Span.Start.Line, where: where, was: was, now: now, rule: b.rule, change: change})
}

func (b *book) whole(n *schema.Node) {
	var shared [][]any // where the limits of the rule stand in its data: its own, and in exceptions that keep them
	exceptions, _ := n.Member("exceptions")
	limits, _ := n.Member("limits")
	for _, m := range members(limits) {
		shared = [][]any{{"limits", m.Key}}
		for i, e := range items(exceptions) {
			own, _ := e.Member("limits")
			if _, ok := own.Member(m.Key); !ok {
				shared = append(shared, []any{"exceptions", i, "limits", m.Key})
			}
		}
		b.limit(m.Value, []any{"limits", m.Key}, shared)
	}
	applies, _ := n.Member("applies")
	b.conditions(applies, []any{"applies"})
	for i, e := range items(exceptions) {
		place := []any{"exceptions", i}
		b.drop("exception", e, place, "left out")
		when, _ := e.Member("when")
		b.conditions(when, with(place, "when"))
		own, _ := e.Member("limits")
		for _, m := range members(own) {
			at := with(place, "limits", m.Key)
			b.limit(m.Value, at, [][]any{at})
		}
		b.flag(e, place, "open")
	}
	b.flag(n, nil, "on_evidence")
	variants, _ := n.Member("variants")
	b.words(variants, []any{"variants"}, [][]any{{"variants"}})
	rows, _ := n.Member("rows")
	b.rows(rows)
}

func (b *book) rows(rows *schema.Node) {
	for i, row := range items(rows) {
		place := []any{"rows", i}
		b.drop("row", row, place, "left out")
		when, _ := row.Member("when")
		b.conditions(when, with(place, "when"))
		choice, _ := row.Member("any")
		for j, one := range items(choice) {
			if len(choice.Items) > 1 {
				b.drop("row", one, with(place, "any", j), "left out")
			}
			for _, m := range members(one) {
				at := with(place, "any", j, m.Key)
				b.limit(m.Value, at, [][]any{at})
				if len(one.Members) > 1 {
					b.add("row", m.Value, at, "left out", func(rule map[string]any) { delete(find(rule, at[:len(at)-1]).(map[string]any), m.Key) })
				}
			}
		}
	}
}

// conditions leaves out each condition and each of its alternatives, and changes its bounds and words.
func (b *book) conditions(list *schema.Node, place []any) {
	for i, c := range items(list) {
		b.drop("guard", c, with(place, i), "left out")
		choice, ok := c.Member("any")
		if !ok {
			b.test(c, with(place, i), with(place, i, "any", 0))
		}
		for j, t := range items(choice) {
			at := with(place, i, "any", j)
			if len(choice.Items) > 1 {
				b.add("guard", t, at, "left out", func(rule map[string]any) {
					cut(rule, at)
					cut(rule, with(place, i, "facts", j))
				})
			}
			b.test(t, at, at)
		}
	}
}

// test changes the bounds and the words of a test. at is where it stands in the data.
func (b *book) test(t *schema.Node, place, at []any) {
	for _, m := range t.Members {
		switch m.Key {
		case "at_most", "at_least", "over", "printed":
			b.number(m.Value, with(place, m.Key), [][]any{with(at, m.Key)})
		case "in":
			b.words(m.Value, with(place, "in"), [][]any{with(at, "in")})
		}
	}
}

// limit changes a limit wherever it stands in the data.
func (b *book) limit(l *schema.Node, place []any, at [][]any) {
	if l.Kind == schema.Bool {
		b.add("flag", l, place, "left out", func(rule map[string]any) {
			for _, a := range at {
				delete(find(rule, a[:len(a)-1]).(map[string]any), a[len(a)-1].(string))
			}
		})
	}
	for _, m := range l.Members {
		var own [][]any
		for _, a := range at {
			own = append(own, with(a, m.Key))
		}
		switch m.Key {
		case "ratio", "least_ratio":
			b.pair(m.Value, with(place, m.Key), at, ":", func(rise, run int64) map[string]any { return map[string]any{"rise": rise, "run": run} })
		case "part":
			b.pair(m.Value, with(place, m.Key), at, "/", func(x, y int64) map[string]any { return map[string]any{"part": []any{x, y}} })
		case "angle":
			b.angle(m.Value, with(place, m.Key), at)
		case "one_of":
			b.words(m.Value, with(place, m.Key), own)
		default:
			from := len(b.out)
			b.number(m.Value, with(place, m.Key), own)
			if m.Key == "printed" && stricter(l) {
				for i := range b.out[from:] {
					b.out[from+i].same = "a rounding that is stricter than its bound leaves nothing between the two"
				}
			}
		}
	}
}

// stricter is true of a limit whose text rounds it to the strict side: whatever meets the rounding meets the bound.
func stricter(l *schema.Node) bool {
	exact := func(key string) (int64, bool) {
		n, ok := l.Member(key)
		if !ok {
			return 0, false
		}
		v, err := policies.Exact(n.Text)
		return v, err == nil
	}
	printed, _ := exact("printed")
	most, isMost := exact("at_most")
	least, isLeast := exact("at_least")
	return isMost && printed < most || isLeast && printed > least
}

// number moves a value by one exact unit and by one step of its own last place, both ways.
func (b *book) number(n *schema.Node, place []any, at [][]any) {
	b.steps(n, place, func(rule map[string]any, to int64) {
		for _, a := range at {
			put(rule, a, to)
		}
	})
}

// angle moves the angle of a slope with its tangent, which is what the questions read.
func (b *book) angle(n *schema.Node, place []any, at [][]any) {
	b.steps(n, place, func(rule map[string]any, to int64) {
		rise, run, _, err := policies.Incline(quantity.Angle(to).Deg() + " deg")
		if err != nil {
			panic(fmt.Sprintf("%v: %v", place, err))
		}
		for _, a := range at {
			put(rule, with(a, "angle"), to)
			put(rule, with(a, "rise"), rise)
			put(rule, with(a, "run"), run)
		}
	})
}

// steps makes the mutants of a value that is moved.
func (b *book) steps(n *schema.Node, place []any, move func(rule map[string]any, to int64)) {
	value, err := policies.Exact(n.Text)
	if err != nil {
		return // the product refuses such a rulebook
	}
	add := func(now string, to int64) {
		b.add("limit", n, place, now, func(rule map[string]any) { move(rule, to) })
	}
	for _, step := range []int64{1, -1} {
		add(fmt.Sprintf("%s%+d exact unit", n.Text, step), value+step)
		if text := stepped(n.Text, step); text != "" {
			if to, err := policies.Exact(text); err == nil && to != value+step {
				add(text, to)
			}
		}
	}
}

// A number begins a value or stands after a space; figures within a unit, as in mm2, do neither.
var numbers = regexp.MustCompile(`(?:^|\s)([0-9]+(?:\.[0-9]+)?)`)

// stepped moves a written value by one step of its own last place: 12.7 mm to 12.8 mm, 1/2 in to 2/2 in. "": it has
// no such neighbour.
func stepped(text string, step int64) string {
	all := numbers.FindAllStringSubmatchIndex(text, -1)
	if len(all) == 0 {
		return ""
	}
	from, to := all[len(all)-1][2], all[len(all)-1][3]
	value, ok := new(big.Rat).SetString(text[from:to])
	if !ok {
		return ""
	}
	_, decimals, _ := strings.Cut(text[from:to], ".")
	one := new(big.Rat).SetFrac(big.NewInt(step), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(decimals))), nil))
	if value.Add(value, one).Sign() < 0 {
		return ""
	}
	return text[:from] + value.FloatString(len(decimals)) + text[to:]
}

const scale = 1_000_000

// pair moves the second number of a slope or a share by one, and by one in a million.
func (b *book) pair(n *schema.Node, place []any, at [][]any, sign string, keys func(x, y int64) map[string]any) {
	first, second, _ := strings.Cut(n.Text, sign)
	x, errX := strconv.ParseInt(first, 10, 64)
	y, errY := strconv.ParseInt(second, 10, 64)
	if errX != nil || errY != nil {
		return
	}
	move := func(x, y int64) {
		b.add("limit", n, place, fmt.Sprintf("%d%s%d", x, sign, y), func(rule map[string]any) {
			for _, a := range at {
				for key, v := range keys(x, y) {
					put(rule, with(a, key), v)
				}
			}
		})
	}
	for _, step := range []int64{1, -1} {
		move(scale*x, scale*y+step)
		if y+step > 0 {
			move(x, y+step)
		}
	}
}

// words leaves out each word of a list.
func (b *book) words(list *schema.Node, place []any, at [][]any) {
	for i, w := range items(list) {
		b.add("word", w, place, "left out", func(rule map[string]any) {
			for _, a := range at {
				cut(rule, with(a, i))
			}
		})
	}
}

func (b *book) flag(n *schema.Node, place []any, key string) {
	if f, ok := n.Member(key); ok {
		b.add("open", f, with(place, key), "left out", func(rule map[string]any) { delete(find(rule, place).(map[string]any), key) })
	}
}

func (b *book) drop(kind string, n *schema.Node, place []any, now string) {
	b.add(kind, n, place, now, func(rule map[string]any) { cut(rule, place) })
}

func members(n *schema.Node) []schema.Member {
	if n == nil {
		return nil
	}
	return n.Members
}

func items(n *schema.Node) []*schema.Node {
	if n == nil {
		return nil
	}
	return n.Items
}

func with(place []any, parts ...any) []any { return slices.Concat(place, parts) }

// find gives what stands at a place in the data of a rule.
func find(v any, place []any) any {
	for _, part := range place {
		switch part := part.(type) {
		case string:
			v = v.(map[string]any)[part]
		case int:
			v = v.([]any)[part]
		}
	}
	return v
}

// put writes a value that is there already: a place that is not in the data is a fault of this program.
func put(rule map[string]any, place []any, value any) {
	key := place[len(place)-1].(string)
	in := find(rule, place[:len(place)-1]).(map[string]any)
	if _, ok := in[key]; !ok {
		panic(fmt.Sprintf("nothing at %v", place))
	}
	in[key] = value
}

// cut takes an item out of a list.
func cut(rule map[string]any, place []any) {
	end := len(place) - 1
	list := find(rule, place[:end]).([]any)
	i := place[end].(int)
	left := slices.Concat(list[:i], list[i+1:])
	in := find(rule, place[:end-1])
	switch key := place[end-1].(type) {
	case string:
		in.(map[string]any)[key] = left
	case int:
		in.([]any)[key] = left
	}
}

// clone copies a document, so that what a mutant changes is its own.
func clone(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for key, own := range v {
			out[key] = clone(own)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, own := range v {
			out[i] = clone(own)
		}
		return out
	case []string:
		out := make([]any, len(v))
		for i, own := range v {
			out[i] = own
		}
		return out
	}
	return v
}
