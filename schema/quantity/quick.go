package quantity

import (
	"math/bits"
	"strings"
)

// quick is a unit as a fraction of its kind's base unit, for values that can be read in whole numbers of 64 bits. What
// is not read so, parse reads, and says what is wrong with it; what is read so, parse reads to the same value.
type quick struct {
	name     string
	num, den uint64
}

// quickUnits are the units of each kind under all their names, that of a bare number too. Rates of change of air are left
// out, for their unit begins with a figure, and what has an offset.
var quickUnits = func() map[Kind][]quick {
	out := map[Kind][]quick{KindNumber: {{"", 1, 1}}}
	for kind, info := range kinds {
		if kind == KindAirChange {
			continue
		}
		for i, name := range info.units {
			u := units[name]
			if u.kind != kind || u.offset != nil || !u.scale.Num().IsUint64() || !u.scale.Denom().IsUint64() {
				continue
			}
			q := quick{name, u.scale.Num().Uint64(), u.scale.Denom().Uint64()}
			out[kind] = append(out[kind], q)
			if i == 0 {
				q.name = ""
				out[kind] = append(out[kind], q)
			}
			for alias, full := range aliases {
				if q.name = alias; full == name {
					out[kind] = append(out[kind], q)
				}
			}
		}
	}
	return out
}()

var quickLength, quickForce, quickAngle, quickTime = quickUnits[KindLength], quickUnits[KindForce], quickUnits[KindAngle], quickUnits[KindTime]

// written is a written value in parts: its number as a fraction, and what stands after it.
type written struct {
	negative bool
	num, den uint64
	unit     string
}

// read reads a value such as "12.7 mm" or "1 1/2 in", of few figures.
func (w *written) read(text string) bool {
	i := 0
	if text != "" && (text[0] == '-' || text[0] == '+') {
		w.negative, i = text[0] == '-', 1
	}
	n, end := figures(text, i, 0)
	if end == i || end-i > 9 {
		return false
	}
	w.num, w.den = n, 1
	switch c := next(text, end); {
	case c == '.':
		first := end + 1
		if n, end = figures(text, first, n); end == first || end-first > 9 {
			return false
		}
		w.num, w.den = n, powers[end-first]
	case c == '/':
		d, after := figures(text, end+1, 0)
		if after == end+1 {
			break
		}
		if d == 0 || after-end > 9 {
			return false
		}
		w.den, end = d, after
	case c == ' ':
		a, after := figures(text, end+1, 0)
		if after == end+1 || next(text, after) != '/' {
			break
		}
		d, last := figures(text, after+1, 0)
		if last == after+1 {
			break
		}
		if d == 0 || after-end > 9 || last-after > 9 {
			return false
		}
		w.num, w.den, end = n*d+a, d, last
	}
	for next(text, end) == ' ' {
		end++
	}
	w.unit = strings.TrimRight(text[end:], " ")
	return true
}

// powers of ten.
var powers = [10]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// figures reads figures from an offset on, after others that make n; it may wrap where there are more than 19.
func figures(text string, i int, n uint64) (uint64, int) {
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		n = n*10 + uint64(text[i]-'0')
		i++
	}
	return n, i
}

func next(text string, i int) byte {
	if i < len(text) {
		return text[i]
	}
	return 0
}

func (w *written) in(list []quick) (quick, bool) {
	for _, q := range list {
		if q.name == w.unit {
			return q, true
		}
	}
	return quick{}, false
}

// exact is the value in whole base units, where it is whole and within a bound.
func (w *written) exact(list []quick, most int64) (int64, bool) {
	q, ok := w.in(list)
	if !ok || q.den != 1 {
		return 0, false
	}
	hi, lo := bits.Mul64(w.num, q.num)
	if hi >= w.den {
		return 0, false
	}
	n, rest := bits.Div64(hi, lo, w.den)
	if rest != 0 || n > uint64(most) {
		return 0, false
	}
	if w.negative {
		return -int64(n), true
	}
	return int64(n), true
}

// float is the number nearest to the value in base units: the quotient of two whole numbers that a float64 holds.
func (w *written) float(list []quick) (float64, bool) {
	q, ok := w.in(list)
	if !ok {
		return 0, false
	}
	above, num := bits.Mul64(w.num, q.num)
	over, den := bits.Mul64(w.den, q.den)
	if above|over != 0 || num > 1<<53 || den > 1<<53 {
		return 0, false
	}
	out := float64(num) / float64(den)
	if out > 1e12 {
		return 0, false
	}
	if w.negative && num != 0 {
		return -out, true
	}
	return out, true
}

func quickExact(text string, list []quick, most int64) (int64, bool) {
	var w written
	if !w.read(text) {
		return 0, false
	}
	return w.exact(list, most)
}

// IsLength says whether ParseLength reads a text.
func IsLength(text string) bool {
	if text == "" || text[0] >= 'A' && text[0] <= 'Z' || text[0] >= 'a' && text[0] <= 'z' {
		return false // no figure begins it
	}
	_, err := ParseLength(text)
	return err == nil
}

// quickSlope is the slope of two numbers, the rise and the run, or of one that is per cent.
func quickSlope(rise, run string) (Slope, bool) {
	var a, b written
	if !a.read(rise) || !b.read(run) || a.unit != "" || b.unit != "" || b.negative || b.num == 0 {
		return Slope{}, false
	}
	above, num := bits.Mul64(a.num, b.den)
	over, den := bits.Mul64(a.den, b.num)
	if above|over != 0 {
		return Slope{}, false
	}
	x, y := num, den
	for y != 0 {
		x, y = y, x%y
	}
	num, den = num/x, den/x
	if num > maxSlope || den > maxSlope {
		return Slope{}, false
	}
	if a.negative {
		return Slope{-int64(num), int64(den)}, true
	}
	return Slope{int64(num), int64(den)}, true
}
