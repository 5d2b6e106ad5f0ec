package render

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"sillwright/cmd/internal/explain"
	"sillwright/schema"
)

// mostSource is how much a page tells of what the spec writes in one place.
const mostSource = 120

// factLines words the facts that a rule read, each value once, with the options that have it where it differs from option to option.
func factLines(s explain.Section, most int) []string {
	var lines []string
	merged := merge(s)
	for _, m := range merged {
		who := ""
		if slices.ContainsFunc(merged, func(o ofSubjects) bool { return o.Name == m.Name && !slices.Equal(o.subjects, m.subjects) }) {
			who = ", " + strings.Join(m.subjects, ", ")
		}
		lines = append(lines, factText(m.Fact, who, most))
	}
	return lines
}

// ofSubjects is a fact with the subjects that have it in the same words.
type ofSubjects struct {
	explain.Fact
	subjects []string
}

// merge puts together what is the same of several subjects, wherever each has it from.
func merge(s explain.Section) []ofSubjects {
	var out []ofSubjects
	for _, f := range s.Findings {
		name := clean(strings.TrimPrefix(strings.TrimPrefix(f.Subject, "option:"), "side:"))
		for _, own := range f.Facts {
			i := slices.IndexFunc(out, func(o ofSubjects) bool {
				return o.Name == own.Name && o.Words == own.Words && o.Known == own.Known && o.Formula == own.Formula
			})
			if i < 0 {
				own.From, own.Seals = slices.Clone(own.From), slices.Clone(own.Seals)
				out = append(out, ofSubjects{own, []string{name}})
				continue
			}
			m := &out[i]
			m.subjects = append(m.subjects, name)
			m.From = distinct(m.From, own.From)
			m.Seals = distinct(m.Seals, own.Seals)
		}
	}
	return out
}

func distinct[T comparable](out, more []T) []T {
	for _, x := range more {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// factText words a fact with where it came from.
func factText(f explain.Fact, who string, most int) string {
	text := upper(f.Title) + who + ": " + f.Words
	if !f.Known {
		text = upper(f.Title) + who + ": not known"
	}
	for i, s := range f.From {
		if i == mostFrom {
			text += fmt.Sprintf("; and %d more places", len(f.From)-i)
			break
		}
		text += "; " + sourceText(s, f.Words, most)
	}
	if f.Formula != "" {
		text += "; worked out: " + f.Formula
	}
	for _, s := range f.Seals {
		text += "; catalogue: " + s.Name + ", " + s.Title
		if s.From != "" {
			text += " (" + s.From + ")"
		}
	}
	return text + "."
}

// mostFrom is how many places a fact is told to be from.
const mostFrom = 4

// wholeOption is a place of which the text would say nothing that is read.
var wholeOption = regexp.MustCompile(`^/options/[0-9]+$`)

func sourceText(s explain.Source, words string, most int) string {
	if s.Text == "" {
		return s.Field + ", which is not written"
	}
	text := fmt.Sprintf("%s, line %d", s.Field, s.Span.Start.Line)
	if !wholeOption.MatchString(s.Pointer) && s.Text != words && s.Text != "true" && s.Text != "false" {
		text += ": " + cut(schema.Printable(s.Text), most)
	}
	return text
}
