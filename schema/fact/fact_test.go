package fact

import (
	"slices"
	"testing"
)

func TestFactsSayHowToFindThemOut(t *testing.T) {
	kinds := []Kind{Word, Truth, Length, Force, Angle, Area, Date, Structure}
	for _, name := range Names() {
		d, _ := Describe(name)
		if d.Title == "" || d.Pointer == "" || d.Measure == "" || !slices.Contains(kinds, d.Kind) {
			t.Errorf("%s: every fact needs kind, title, pointer and measure: %+v", name, d)
		}
		if (d.Kind == Word) != (len(d.Words) > 0) {
			t.Errorf("%s: words go with kind word", name)
		}
		for i, subject := range append([]string{d.Subject}, d.Also...) {
			if !slices.Contains([]string{"door", "side", "leaf", "option"}, subject) || (i > 0 && subject == d.Subject) || !d.Of(subject) {
				t.Errorf("%s: subject %q, also %q", name, d.Subject, d.Also)
			}
		}
	}
	if len(Names()) < 20 {
		t.Errorf("only %d facts read", len(Names()))
	}
}
