package quantity

import "testing"

// Days from 1970-01-01 by the leap years between, by hand: 2025-07-29 is 55 years of 365 days, 14 leap days and 209 days later.
func TestParseDate_Identity(t *testing.T) {
	for text, want := range map[string]Date{"1970-01-01": 0, "1970-01-02": 1, "1969-12-31": -1, "2025-07-29": 55*365 + 14 + 209, "2024-02-29": 54*365 + 13 + 59} {
		got, err := ParseDate(text)
		if err != nil || got != want || got.Day() != text {
			t.Errorf("%s: %d (%s), %v; want %d", text, got, got.Day(), err, want)
		}
	}
	for _, text := range []string{"", "2025-7-29", "29.07.2025", "2025-02-29", "2025-07-29T00:00:00Z", "13 mm"} {
		if got, err := ParseDate(text); err == nil {
			t.Errorf("%q read as %s", text, got.Day())
		}
	}
}
