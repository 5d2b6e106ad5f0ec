# METADATA
# description: |
#   Comparisons with a limit. Every number is a whole number of nanometres or
#   femtonewtons, or a pair of them, so nothing is rounded. A value beyond the limit but
#   within the text's own looser rounding is open: the text prints both and ranks neither.
package sillwright.compare

at_most(value, limit) := "pass" if {
	value <= limit.at_most
} else := "open" if {
	value <= limit.printed
} else := "fail"

at_least(value, limit) := "pass" if {
	value >= limit.at_least
} else := "open" if {
	value >= limit.printed
} else := "fail"

# The same of a fact that may be more, or less, where nobody has read: what it cannot decide so is missing.
at_most_of(fact, limit) := "missing" if {
	fact.or_more
	at_most(fact.value, limit) != "fail"
} else := "missing" if {
	fact.or_less
	at_most(fact.value, limit) != "pass"
} else := at_most(fact.value, limit)

at_least_of(fact, limit) := "missing" if {
	fact.or_less
	at_least(fact.value, limit) != "fail"
} else := "missing" if {
	fact.or_more
	at_least(fact.value, limit) != "pass"
} else := at_least(fact.value, limit)

# rise over run no steeper than limit.rise over limit.run, by cross-multiplication.
gentle(rise, run, limit) if rise * limit.run <= run * limit.rise

missing(part, name) := {"part": part, "state": "missing", "at": [], "needs": [{"fact": name}]}

given(item, names) if {
	every name in names {
		item[name] != null
	}
}

# What is left out is not known; but Rego orders null below and text above every number,
# so neither may stand where a number is due.
numbers(item, names) if {
	every name in names {
		is_number(object.get(item, name, 0))
	}
}
