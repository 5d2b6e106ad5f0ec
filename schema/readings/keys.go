package readings

import (
	"errors"
	"slices"
	"strings"
	"unicode/utf8"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// key is what a `# key: value` line may say.
type key struct {
	name string
	put  func(r *reader, at place, text string)
}

// place is where a value stands: line and byte, from 0.
type place struct {
	line, start int
	key         string
}

// Floors are what a seal may have closed on, as a seal catalogue has them.
var Floors = []string{"smooth", "tile", "jointed-tile", "timber", "vinyl", "concrete", "stone", "carpet", "metal"}

var keys []key

func init() {
	keys = []key{
		{"title", text(func(f *File) *string { return &f.Title }, 200)},
		{"seal", text(func(f *File) *string { return &f.Seal }, 100)},
		{"like", text(func(f *File) *string { return &f.Like }, 100)},
		{"from", text(func(f *File) *string { return &f.From }, 400)},
		{"blank", text(func(f *File) *string { return &f.Blank }, 200)},
		{"method", text(func(f *File) *string { return &f.Method }, 40)},
		{"floor", word(func(f *File) *string { return &f.Floor }, Floors)},
		{"direction", word(func(f *File) *string { return &f.Direction }, []string{Pressurise, Depressurise})},
		{"length", func(r *reader, at place, s string) { r.file.Length = r.length(at, s) }},
		{"overlap", func(r *reader, at place, s string) { r.file.Overlap, r.file.HasOverlap = r.length(at, s), true }},
		{"temperature", value(quantity.KindTemperature, func(f *File) *Given { return &f.Temperature })},
		{"temperature inside", value(quantity.KindTemperature, func(f *File) *Given { return &f.Inside })},
		{"temperature outside", value(quantity.KindTemperature, func(f *File) *Given { return &f.Outside })},
		{"altitude", func(r *reader, at place, s string) {
			r.file.Altitude = Given{r.length(at, s).Metres(), true}
		}},
		{"barometric pressure", barometric},
		{"zero pressure before", value(quantity.KindPressure, func(f *File) *Given { return &f.Zero[0] })},
		{"zero pressure after", value(quantity.KindPressure, func(f *File) *Given { return &f.Zero[1] })},
		{"flow error", func(r *reader, at place, s string) { r.file.FlowError = r.percent(at, s) }},
		{"pressure error", func(r *reader, at place, s string) {
			if strings.HasSuffix(s, "%") {
				r.file.PressurePart = r.percent(at, s)
				return
			}
			if r.file.PressureError = r.value(quantity.KindPressure, at, s); r.file.PressureError.Value < 0 {
				r.problem(at.line, at.start, len(s), at.key, shown(s), "0 Pa or more", "write by how much the gauge may be off either way")
			}
		}},
		{"note", func(*reader, place, string) {}},
	}
}

// Keys lists what a file may say about its test.
func Keys() []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = k.name
	}
	return out
}

// comments reads the lines that begin with #, and blanks them, so that the table keeps its line numbers.
func (r *reader) comments() {
	for i, line := range r.lines {
		body, start, is := comment(line)
		if !is {
			continue
		}
		name, value, ok := strings.Cut(body, ":")
		if ok {
			r.key(i, start, name, value)
		}
	}
}

// comment is what stands behind #, and where. A spreadsheet puts quotes around it, or empty cells behind.
func comment(line string) (body string, start int, is bool) {
	trimmed := strings.TrimLeft(line, " \t")
	start = len(line) - len(trimmed)
	if strings.HasPrefix(trimmed, `"#`) {
		body = strings.TrimRight(trimmed[2:], `",; `+"\t")
		return strings.ReplaceAll(body, `""`, `"`), start + 2, true
	}
	if !strings.HasPrefix(trimmed, "#") {
		return "", 0, false
	}
	return strings.TrimRight(trimmed[1:], ",; \t"), start + 1, true
}

func (r *reader) key(line, start int, name, value string) {
	plain := strings.Join(strings.Fields(strings.NewReplacer("_", " ", "-", " ").Replace(strings.ToLower(name))), " ")
	nameAt := start + len(name) - len(strings.TrimLeft(name, " \t"))
	i := slices.IndexFunc(keys, func(k key) bool { return k.name == plain })
	if i < 0 {
		r.problem(line, nameAt, len(strings.TrimSpace(name)), "", "key "+shown(strings.TrimSpace(name)), schema.Choices(plain, Keys()), "a remark is written without a colon, or as `# note: ...`")
		return
	}
	at := place{line, start + len(name) + 1 + len(value) - len(strings.TrimLeft(value, " \t")), plain}
	value = strings.TrimSpace(value)
	if _, twice := r.file.keys[plain]; twice && plain != "note" {
		r.problem(line, nameAt, len(strings.TrimSpace(name)), plain, "key "+shown(plain)+" a second time", "each key once", "keep the one that is right; each test has a file of its own")
		return
	}
	r.file.keys[plain] = r.span(line, at.start, len(value))
	if value == "" {
		r.problem(line, nameAt, len(strings.TrimSpace(name)), plain, "no value", "a value behind the colon", "give it, or take the line out: what is left out is not known")
		return
	}
	keys[i].put(r, at, value)
}

func text(into func(*File) *string, most int) func(*reader, place, string) {
	return func(r *reader, at place, s string) {
		if utf8.RuneCountInString(s) > most {
			r.problem(at.line, at.start, len(s), at.key, "a text of more than the usual length, "+shown(s), "a shorter one", "say it in fewer words; `# note:` lines may be as long as you like")
			return
		}
		*into(r.file) = s
	}
}

func word(into func(*File) *string, words []string) func(*reader, place, string) {
	return func(r *reader, at place, s string) {
		plain := strings.ToLower(s)
		for _, w := range words {
			if plain == w || strings.TrimSuffix(strings.Replace(plain, "ize", "ise", 1), "d") == w {
				*into(r.file) = w
				return
			}
		}
		r.problem(at.line, at.start, len(s), at.key, shown(s), schema.Choices(plain, words), "write one of these words")
	}
}

func value(kind quantity.Kind, into func(*File) *Given) func(*reader, place, string) {
	return func(r *reader, at place, s string) { *into(r.file) = r.value(kind, at, s) }
}

func (r *reader) value(kind quantity.Kind, at place, s string) Given {
	v, err := quantity.ParseSI(kind, s)
	return Given{v, r.right(err, kind, at, s)}
}

// barometric also takes the units that barometers have.
func barometric(r *reader, at place, s string) {
	for _, unit := range []string{"hPa", "mbar"} {
		if number, ok := strings.CutSuffix(s, unit); ok {
			g := r.value(quantity.KindPressure, at, strings.TrimSpace(number)+" Pa")
			r.file.Barometric = Given{100 * g.Value, g.Known}
			return
		}
	}
	r.file.Barometric = r.value(quantity.KindPressure, at, s)
}

func (r *reader) length(at place, s string) quantity.Length {
	v, err := quantity.ParseLength(s)
	r.right(err, quantity.KindLength, at, s)
	return v
}

// percent is a part, from 0 to a half.
func (r *reader) percent(at place, s string) Given {
	number, ok := strings.CutSuffix(s, "%")
	v, err := parse(strings.TrimSpace(number), false)
	if !ok || err != "" || v < 0 || v > 50 {
		r.problem(at.line, at.start, len(s), at.key, shown(s), "0 % to 50 %", "write by how much the meter may be off either way: 3 %")
		return Given{}
	}
	return Given{v / 100, true}
}

func (r *reader) right(err error, kind quantity.Kind, at place, s string) bool {
	var bad *quantity.Error
	switch {
	case errors.As(err, &bad):
		r.problem(at.line, at.start, len(s), at.key, bad.Found, kind.Allowed(), bad.Do)
	case err != nil:
		r.problem(at.line, at.start, len(s), at.key, shown(s), kind.Allowed(), err.Error())
	}
	return err == nil
}

// together holds keys against each other.
func (r *reader) together() {
	f := r.file
	both := func(one, other, do string) {
		if span, ok := f.keys[one]; ok {
			if _, ok := f.keys[other]; ok {
				r.problems = append(r.problems, schema.Problem{File: f.Name, Span: span, Field: one, Found: one + " beside " + other, Allowed: "one of the two", Do: do})
			}
		}
	}
	both("temperature", "temperature inside", "give temperature where the air is the same on both sides, else the two sides")
	both("temperature", "temperature outside", "give temperature where the air is the same on both sides, else the two sides")
	both("altitude", "barometric pressure", "the barometer knows better: keep it")
	if span, ok := f.keys["length"]; ok && f.Length <= 0 && !r.wrong("length") {
		r.problems = append(r.problems, schema.Problem{File: f.Name, Span: span, Field: "length", Found: f.Length.MM() + " mm", Allowed: "more than 0 mm", Do: "give the length of seal that was in the test"})
	}
	if span, ok := f.keys["blank"]; ok && (strings.ContainsAny(f.Blank, `/\:`) || strings.HasPrefix(f.Blank, "..")) {
		r.problems = append(r.problems, schema.Problem{File: f.Name, Span: span, Field: "blank", Found: shown(f.Blank), Allowed: "the name of a file in the same folder", Do: "put the blank test beside this one, or name it on the command line: --blank FILE"})
	}
	if span, ok := f.keys["blank"]; ok && f.Blanks != nil {
		r.problems = append(r.problems, schema.Problem{File: f.Name, Span: span, Field: "blank", Found: "a blank test beside a column of blank flows", Allowed: "one of the two", Do: "take one out"})
	}
	for one, other := range map[string]string{"temperature inside": "temperature outside", "temperature outside": "temperature inside"} {
		if span, ok := f.keys[one]; ok {
			if _, ok := f.keys[other]; !ok {
				r.problems = append(r.problems, schema.Problem{File: f.Name, Span: span, Field: one, Found: one + " without " + other, Allowed: "both, or temperature alone", Do: "give the other side too"})
			}
		}
	}
}

// wrong says whether a key has a problem already.
func (r *reader) wrong(key string) bool {
	return slices.ContainsFunc(r.problems, func(p schema.Problem) bool { return p.Field == key })
}
