# METADATA
# description: |
#   When a rule, an exception or a row of a table applies: every condition holds, each of
#   which is a choice of tests of one fact. What is not known stays "unknown".
package sillwright.conditions

hold(conditions, facts) := "false" if {
	some condition in conditions
	truth(condition, facts) == "false"
} else := "unknown" if {
	some condition in conditions
	truth(condition, facts) == "unknown"
} else := "true"

unclear(conditions, facts) := [{"fact": name} |
	some condition in conditions
	truth(condition, facts) == "unknown"
	some name in condition.facts
	not settles(condition, name, facts)
]

# A fact that is known and leaves none of the condition's tests open needs no asking.
settles(condition, name, facts) if {
	facts[name]
	every alternative in condition.any {
		decided(alternative, name, facts)
	}
}

decided(alternative, name, _) if alternative.fact != name

decided(alternative, name, facts) if {
	alternative.fact == name
	single(alternative, facts) != "unknown"
}

# Three-valued: an undefined reference must never read as "does not apply".
truth(condition, facts) := "true" if {
	some alternative in condition.any
	single(alternative, facts) == "true"
} else := "unknown" if {
	some alternative in condition.any
	single(alternative, facts) == "unknown"
} else := "false"

single(test, facts) := "unknown" if {
	not facts[test.fact]
	not test.given
} else := "false" if {
	not facts[test.fact]
} else := "true" if {
	test.given
} else := "true" if {
	facts[test.fact].value in test["in"]
} else := "unknown" if {
	rounded(test, facts[test.fact].value)
} else := "unknown" if {
	unread(test, facts[test.fact])
} else := "true" if {
	facts[test.fact].value <= test.at_most
} else := "true" if {
	facts[test.fact].value >= test.at_least
} else := "true" if {
	facts[test.fact].value > test.over
} else := "false"

# On the side of the bound that a value may still leave where nobody has read.
unread(test, fact) if {
	fact.or_more
	some name in ["over", "at_most"]
	fact.value <= test[name]
}

unread(test, fact) if {
	fact.or_more
	fact.value < test.at_least
}

unread(test, fact) if {
	fact.or_less
	some name in ["over", "at_most"]
	fact.value > test[name]
}

unread(test, fact) if {
	fact.or_less
	fact.value >= test.at_least
}

# Between the bound and the text's own looser rounding of it, whichever of the two is larger.
rounded(test, value) if {
	some name in ["over", "at_most"]
	value > min([test[name], test.printed])
	value <= max([test[name], test.printed])
}

rounded(test, value) if {
	value >= min([test.at_least, test.printed])
	value < max([test.at_least, test.printed])
}
