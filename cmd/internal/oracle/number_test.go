package oracle

import "math/big"

// Lengths are exact millimetres, forces exact newtons, angles exact degrees; nil is not known.

func mm(decimal string) *big.Rat {
	v, ok := new(big.Rat).SetString(decimal)
	if !ok {
		panic("not a number: " + decimal)
	}
	return v
}

// inch gives millimetres: 1 in is 25.4 mm exactly.
func inch(n, d int64) *big.Rat { return times(big.NewRat(n, d), mm("25.4")) }

// lbf gives newtons: 1 lbf is 0.45359237 kg at 9.80665 m/s2, 4.4482216152605 N exactly.
func lbf(decimal string) *big.Rat { return times(mm(decimal), mm("4.4482216152605")) }

func plus(a, b *big.Rat) *big.Rat  { return new(big.Rat).Add(a, b) }
func minus(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
func times(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }

func above(a, b *big.Rat) bool { return a.Cmp(b) > 0 }
func below(a, b *big.Rat) bool { return a.Cmp(b) < 0 }

func greater(a, b *big.Rat) *big.Rat {
	if above(a, b) {
		return a
	}
	return b
}

func lesser(a, b *big.Rat) *big.Rat {
	if below(a, b) {
		return a
	}
	return b
}

// verdict is one of the four outcomes of a rule.
type verdict string

const (
	pass          verdict = "pass"
	fail          verdict = "fail"
	unknown       verdict = "unknown"
	notApplicable verdict = "not-applicable" // the rule does not speak of this door
)

// truth is yes, no or not known.
type truth int

const (
	notKnown truth = iota
	yes
	no
)

func (t truth) not() truth {
	switch t {
	case yes:
		return no
	case no:
		return yes
	}
	return notKnown
}

// and is yes if all are, no if one is not.
func and(ts ...truth) truth {
	out := yes
	for _, t := range ts {
		if t == no {
			return no
		}
		if t == notKnown {
			out = notKnown
		}
	}
	return out
}

// or is yes if one is, no if none is.
func or(ts ...truth) truth {
	out := no
	for _, t := range ts {
		if t == yes {
			return yes
		}
		if t == notKnown {
			out = notKnown
		}
	}
	return out
}

// is asks whether a word is one of several.
func is(word string, any ...string) truth {
	if word == "" {
		return notKnown
	}
	for _, a := range any {
		if a == word {
			return yes
		}
	}
	return no
}

// all must pass: one failure fails.
func all(vs ...verdict) verdict {
	out := pass
	for _, v := range vs {
		if v == fail {
			return fail
		}
		if v == unknown {
			out = unknown
		}
	}
	return out
}

// either is enough: one pass passes.
func either(vs ...verdict) verdict {
	out := fail
	for _, v := range vs {
		if v == pass {
			return pass
		}
		if v == unknown {
			out = unknown
		}
	}
	return out
}

// where the rule speaks of the door, v; where it may speak of it, a pass stands and
// anything else is not known.
func where(applies truth, v verdict) verdict {
	switch {
	case applies == no:
		return notApplicable
	case applies == notKnown && v != pass:
		return unknown
	}
	return v
}

// excused is an exception: v where it holds, a failure where it does not.
func excused(holds truth, v verdict) verdict {
	switch {
	case holds == no:
		return fail
	case holds == notKnown && v != fail:
		return unknown
	}
	return v
}

// choose takes one of two limits by a fact; where that is not known, what both say.
func choose(t truth, a, b verdict) verdict {
	switch {
	case t == yes || a == b:
		return a
	case t == no:
		return b
	}
	return unknown
}

// atMost passes up to the limit. Where the text also prints a looser rounding, what lies
// between is left to the authority (the text prints both and ranks neither).
func atMost(v, limit, printed *big.Rat) verdict {
	switch {
	case v == nil:
		return unknown
	case !above(v, limit):
		return pass
	case printed != nil && !above(v, printed):
		return unknown
	}
	return fail
}

// atLeast is atMost the other way round.
func atLeast(v, limit, printed *big.Rat) verdict {
	switch {
	case v == nil:
		return unknown
	case !below(v, limit):
		return pass
	case printed != nil && !below(v, printed):
		return unknown
	}
	return fail
}

// open is what the text leaves to the authority: it passes nothing by itself.
func open(v verdict) verdict {
	if v == pass {
		return unknown
	}
	return v
}

// upToTruth asks whether a value is at most a limit; between it and a looser rounding nobody knows.
func upToTruth(v, limit, printed *big.Rat) truth {
	switch atMost(v, limit, printed) {
	case pass:
		return yes
	case fail:
		return no
	}
	return notKnown
}
