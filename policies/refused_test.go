package policies

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"sillwright/schema"
)

var declared = sync.OnceValues(func() (map[string]question, error) {
	modules, err := Modules()
	if err != nil {
		return nil, err
	}
	compiler, err := compile(modules)
	if err != nil {
		return nil, err
	}
	return questions(compiler)
})

// faultsOf gives all that is wrong with a text as a rulebook.
func faultsOf(t *testing.T, src string) []schema.Problem {
	t.Helper()
	asked, err := declared()
	if err != nil {
		t.Fatal(err)
	}
	p := &Policies{rules: map[string]*Rule{}, questions: asked}
	return p.add("trial.yaml", []byte(src))
}

// edited changes a text: each second text takes the place of the one before it.
func edited(t *testing.T, src string, changes ...string) string {
	t.Helper()
	for i := 0; i+1 < len(changes); i += 2 {
		if strings.Count(src, changes[i]) != 1 {
			t.Fatalf("%q stands %d times in the trial rulebook", changes[i], strings.Count(src, changes[i]))
		}
		src = strings.Replace(src, changes[i], changes[i+1], 1)
	}
	return src
}

// placeOf gives the line and the column of a mark in a text: of its first character, or of the one after a ^ in it.
func placeOf(t *testing.T, src, mark string) string {
	t.Helper()
	before, after, _ := strings.Cut(mark, "^")
	if strings.Count(src, before+after) != 1 {
		t.Fatalf("%q stands %d times in:\n%s", mark, strings.Count(src, before+after), src)
	}
	i := strings.Index(src, before+after)
	if after != "" {
		i += len(before)
	}
	return "trial.yaml:" + strconv.Itoa(1+strings.Count(src[:i], "\n")) + ":" + strconv.Itoa(i-strings.LastIndex(src[:i], "\n")) + ":"
}

// Trial rulebooks for questions that read more than one limit; each must be taken as it is.
var (
	profileBook = edit(trialBook, "at-least", "change-in-level", "fact: clear_width", "fact: profile", "provenance: practice", "provenance: read",
		"{value: {at_least: 800 mm}}", `{height: {at_most: 13 mm}, upright: {at_most: 6 mm}, slope: {ratio: "1:2"}}`,
		"messages: {value: Too narrow}", `messages: {height: "High on the {side} side", upright: Upright, slope: Steep, climb: Deep}`,
		"remedies: {value: widen it}", `remedies: {height: "lower it by {excess}", upright: bevel it, slope: ease it, climb: fill it}
    clauses: {height: "1", upright: "2", slope: "3", climb: "4"}`)
	sillBook = edit(trialBook, "at-least", "sill-slope", "fact: clear_width", "fact: profile", "{value: {at_least: 800 mm}}", "{slope: {angle: 15 deg}}",
		"messages: {value: Too narrow}", "messages: {slope: Steep}", "remedies: {value: widen it}", "remedies: {slope: ease it}")
	tableBook = edit(trialBook, "at-least", "clear-space", "    fact: clear_width\n", "", "subject: door", "subject: side",
		"limits: {value: {at_least: 800 mm}}", "rows: [{when: [{fact: use, in: [pull]}], any: [{floor_depth: {at_least: 60 in}}]}]",
		"messages: {value: Too narrow}", "messages: {floor_depth: Too little}", "remedies: {value: widen it}", `remedies: {floor_depth: "clear {lack} more"}`)
	timeBook = edit(trialBook, "at-least", "closing-time", "fact: clear_width", "fact: closing_times",
		"{value: {at_least: 800 mm}}", "{value: {at_least: 5 s}, angles: {from: 90 deg, to: 12 deg}}")
	wordBook  = edit(trialBook, "at-least", "one-of", "fact: clear_width", "fact: duty_use", "subject: door", "subject: option", "{at_least: 800 mm}", "{one_of: [heavy, severe]}")
	truthBook = edit(trialBook, "at-least", "is-true", "fact: clear_width", "fact: closer", "    limits: {value: {at_least: 800 mm}}\n", "")
	forceBook = edit(trialBook, "at-least", "force-by-angle", "fact: clear_width", "fact: opening_force",
		"{value: {at_least: 800 mm}}", "{value: {at_most: 5 lbf}, angles: {from: 0 deg, to: 90 deg}}",
		"{value: Too narrow}", "{value: Heavy, angles: Not read}", "{value: widen it}", "{value: ease it, angles: 'read it from {from} on'}")
	shareBook = edit(trialBook, "at-least", "part-within", "fact: clear_width", "fact: embedded_blades", "subject: door", "subject: option",
		"{value: {at_least: 800 mm}}", "{least: {part: 2/5}, most: {part: 3/5}}", "messages: {value: Too narrow}", "messages: {least: Short, most: Long}",
		"remedies: {value: widen it}", "remedies: {least: longer, most: shorter}")
	openBook = edit(trialBook, "exceptions: []", "exceptions: [{id: old, title: old, when: [{fact: work, in: [existing]}], limits: {value: {at_least: 700 mm}}, open: true}]",
		"{value: Too narrow}", "{value: Too narrow, old: Narrow and old}", "{value: widen it}", "{value: widen it, old: ask}", "provenance: practice", "provenance: quoted",
		"    messages:", "    clauses: {value: \"1\", old: \"2\"}\n    messages:")
)

func edit(src string, changes ...string) string {
	return strings.NewReplacer(changes...).Replace(src)
}

func TestTrialBooksAreTaken(t *testing.T) {
	for name, src := range map[string]string{"trial": trialBook, "profile": profileBook, "sill": sillBook, "table": tableBook, "time": timeBook, "force": forceBook, "word": wordBook, "truth": truthBook, "share": shareBook, "open": openBook} {
		if problems := faultsOf(t, src); len(problems) > 0 {
			t.Errorf("%s: %v", name, Problems(problems))
		}
	}
	for _, rounded := range []string{"760 mm", "840 mm"} { // 5 per cent of 800 mm, by hand
		if problems := faultsOf(t, edited(t, trialBook, "800 mm", "800 mm, printed: "+rounded)); len(problems) > 0 {
			t.Errorf("printed %s: %v", rounded, Problems(problems))
		}
	}
	memory := edited(t, trialBook, "level: must", "level: caution\n    ask: {whom: somebody, what: something}", "provenance: practice", "provenance: memory", "    moves: [widen-opening]\n", "")
	if problems := faultsOf(t, memory); len(problems) > 0 {
		t.Errorf("a caution from memory: %v", Problems(problems))
	}
}

// refusal is a change to a trial rulebook, the place at which it is told, and what is said there. A ^ in the place stands
// before the character that is pointed at; without one it is the first. It is told alike each time.
type refusal struct {
	book    string
	changes []string
	at      string
	says    string
}

func (r refusal) hold(t *testing.T) {
	t.Helper()
	src := edited(t, r.book, r.changes...)
	want := placeOf(t, src, r.at)
	problems := faultsOf(t, src)
	if !slices.ContainsFunc(problems, func(p schema.Problem) bool {
		return strings.HasPrefix(p.Error(), want+" ") && strings.Contains(p.Error(), r.says) && p.Found != "" && (p.Do != "" || p.Allowed != "")
	}) {
		t.Errorf("%v\nwant one that begins %s, says %q and what is allowed or what to do", Problems(problems), want, r.says)
	}
	for range 5 {
		if again := faultsOf(t, src); !slices.Equal(problems, again) {
			t.Fatalf("not the same twice:\n%v\n%v", Problems(problems), Problems(again))
		}
	}
}

// All that is wrong is told at once, in the order of the file: of the shape of one rule, and of what another says.
func TestEveryFaultOfARulebookIsTold(t *testing.T) {
	rule := trialBook[strings.Index(trialBook, "  width:"):]
	src := edit(trialBook, "clear_width", "clear_with", "800 mm", "thirty", "    remedies: {value: widen it}\n", "") +
		edit(rule, "  width:", "  depth:", "level: must", "level: shall") + edit(rule, "  width:", "  height:", "at-least", "at-leest")
	var got []string
	for _, p := range faultsOf(t, src) {
		got = append(got, p.Field)
	}
	want := []string{"rules.width", "rules.width.fact", "rules.width.limits.value.at_least", "rules.depth.level", "rules.height.question"}
	if !slices.Equal(got, want) {
		t.Errorf("told of %v, want %v", got, want)
	}
}

// Load tells the faults of the rulebooks that it reads; those that are built in have none.
func TestLoadHasNoFaults(t *testing.T) {
	if _, err := Load(context.Background()); err != nil {
		t.Error(err)
	}
}
