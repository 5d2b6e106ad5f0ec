package quantity

import (
	"fmt"
	"strings"
	"time"
)

// Date is a day of the Gregorian calendar, in whole days from 1970-01-01.
type Date int64

// KindDate is the kind of a day, which has no unit.
const KindDate Kind = "date"

const hoursADay = 24

// ParseDate reads a day as ISO 8601-1:2019, 5.2.2.1 writes it in full: 2025-07-29.
func ParseDate(text string) (Date, error) {
	t, err := time.Parse(time.DateOnly, strings.TrimSpace(text))
	if err != nil {
		return 0, &Error{fmt.Sprintf("%q", text), "write year, month and day, such as 2025-07-29"}
	}
	return Date(t.Unix() / int64(time.Hour/time.Second*hoursADay)), nil
}

// Day writes the day as ParseDate reads it.
func (d Date) Day() string {
	return time.Unix(0, 0).UTC().AddDate(0, 0, int(d)).Format(time.DateOnly)
}
