package catalogue

import (
	"strings"
	"testing"
)

// An embedded blade stands within its brush, and only a brush has one.
func TestEmbeddedBladeIsRefused(t *testing.T) {
	for blade, says := range map[string]string{
		"like: tufted-50, embedded_blade: {height: 10 mm, reach: 50 mm, from: x}":        "",
		"like: tufted-50, embedded_blade: {height: 10 mm, reach: 10 mm, from: x}":        "",
		"like: brush-fine-15, embedded_blade: {height: 5 mm, from: x}":                   "",
		"like: tufted-50, embedded_blade: {height: 10 mm, reach: 50.000001 mm, from: x}": "embedded_blade.reach",
		"like: tufted-50, embedded_blade: {height: 10 mm, reach: 9.999999 mm, from: x}":  "embedded_blade.reach",
		"like: tufted-50, embedded_blade: {height: 0 mm, reach: 25 mm, from: x}":         "embedded_blade.height",
		"like: tufted-50, embedded_blade: {height: 10 kg, from: x}":                      "which is a mass",
		"like: tufted-50, embedded_blade: {reach: 25 mm, from: x}":                       "height",
		"like: gasket-bulb-8, embedded_blade: {height: 5 mm, from: x}":                   "a gasket with an embedded blade",
	} {
		c, err := Generic()
		if err != nil {
			t.Fatal(err)
		}
		problems := c.Add("own.yaml", []byte("format: sillwright/seals/1\nseals:\n  mine: {title: mine, "+blade+"}\n"))
		if says == "" && len(problems) > 0 {
			t.Errorf("%s: %v", blade, problems)
		}
		if says != "" && (len(problems) != 1 || !strings.Contains(problems[0].Error(), says) || !strings.HasPrefix(problems[0].Error(), "own.yaml:3:")) {
			t.Errorf("%s: %v, want one problem that names %q", blade, problems, says)
		}
	}
}
