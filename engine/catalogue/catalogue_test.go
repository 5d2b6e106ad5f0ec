package catalogue

import (
	"strings"
	"testing"
)

func TestGenericSeals(t *testing.T) {
	c, err := Generic()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"none", "brush-fine-15", "brush-fine-20", "brush-fine-30", "tufted-50", "tufted-100", "tufted-50-blade-10",
		"blade-single-12", "blade-double-12", "blade-triple-12", "gasket-bulb-8", "gasket-v-8", "drop-seal-12"} {
		s, ok := c.Seal(name)
		if !ok || s.Title == "" {
			t.Errorf("no seal %s", name)
		}
		for key, from := range s.From {
			if from == "" {
				t.Errorf("%s: %s says not where it comes from", name, key)
			}
		}
		if s.Kind != "none" && len(s.From) == 0 {
			t.Errorf("%s has no provenance", name)
		}
	}
}

func TestAddReportsEverythingAtOnce(t *testing.T) {
	c, err := Generic()
	if err != nil {
		t.Fatal(err)
	}
	before := c.Names()
	problems := c.Add("own.yaml", []byte(`format: sillwright/seals/1
seals:
  none: {title: mine, like: blade-single-12}
  a: {title: a, like: nobody}
  b: {title: b, like: brush-fine-30, length: {likely: 5 kg, from: x}}
  c: {title: c, kind: blade, lips: 2}
  d: {title: d, like: brush-fine-30, solid_fraction: {likely: 0.95, from: x}}
  e: {title: e, like: blade-single-12, working: {least: 3 mm, most: 3 mm, from: x}}
`))
	var all []string
	for _, p := range problems {
		all = append(all, p.Error())
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{`own.yaml:3:3`, `seal "none" a second time`, `"nobody"`, "which is a mass", "residual_gap", "more than least"} {
		if !strings.Contains(text, want) {
			t.Errorf("no word of %q in:\n%s", want, text)
		}
	}
	if len(c.Names()) != len(before) {
		t.Errorf("a bad file changed the catalogue: %v", c.Names())
	}
	if problems := c.Add("own.yaml", []byte("format: sillwright/seals/1\nseals:\n  d: {title: d, like: brush-fine-30, solid_fraction: {likely: 0.95, from: x}}\n")); len(problems) != 1 || !strings.Contains(problems[0].Error(), "solid fraction") {
		t.Errorf("a brush that cannot be computed: %v", problems)
	}
}

// Every seal is listed by its length, those of one length by their names; those of a second catalogue too.
func TestByLength(t *testing.T) {
	c, err := Generic()
	if err != nil {
		t.Fatal(err)
	}
	if problems := c.Add("own.yaml", []byte("format: sillwright/seals/1\nseals: {a-brush: {title: mine, like: brush-fine-20}}\n")); len(problems) > 0 {
		t.Fatal(problems)
	}
	list := c.ByLength()
	if len(list) != len(c.Names()) {
		t.Fatalf("%d of %d", len(list), len(c.Names()))
	}
	for i, s := range list {
		if own, ok := c.Seal(s.Name); !ok || own != s {
			t.Errorf("%s is not that of the catalogue", s.Name)
		}
		if i > 0 && (list[i-1].Length > s.Length || list[i-1].Length == s.Length && list[i-1].Name > s.Name) {
			t.Errorf("%s before %s", list[i-1].Name, s.Name)
		}
	}
	if s, ok := c.Seal("nobody"); ok || s == nil || s.Kind != "" {
		t.Errorf("a seal that is not there: %+v", s)
	}
}
