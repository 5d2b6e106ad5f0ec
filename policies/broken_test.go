package policies

import (
	"strings"
	"testing"
)

// All that is wrong with a rulebook is told at once, each at its line: of its shape, of its
// rules, and of what a question asks of them.
func TestEveryFaultOfARulebookIsTold(t *testing.T) {
	two := strings.Replace(trialBook, "fact: clear_width", "fact: clear_with", 1) + strings.Replace(trialBook[strings.Index(trialBook, "  width:"):], "  width:", "  depth:", 1)
	two = strings.Replace(two, "at_least: 800 mm}}\n    exceptions: []\n    messages: {value: Too narrow}\n  depth:", "at_least: 800 kg}}\n    exceptions: []\n    messages: {value: Too narrow}\n  depth:", 1)
	_, problems := readRulebook("trial.yaml", []byte(two))
	said := Problems(problems).Error()
	for _, want := range []string{"trial.yaml:10:3: rules.width: found fact \"clear_with\"", "limit value"} {
		if !strings.Contains(said, want) {
			t.Errorf("not told: %s\nin:\n%s", want, said)
		}
	}
	p, err := trial(t, map[string]string{"    limits: {value: {at_least: 800 mm}}\n": ""}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.suitable(); err == nil || !strings.HasPrefix(err.Error(), "trial.yaml:10:3: rules.width: found rule trial/width, which does not suit its question") {
		t.Errorf("said: %v", err)
	}
}
