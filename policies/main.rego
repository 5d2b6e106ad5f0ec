# METADATA
# description: |
#   One outcome for every rule and subject that is asked about. Facts come in as
#   input.subjects, rules as data.rulebooks; text is built outside. A rule that finds no
#   answer leaves its outcome out, and the caller, who counts them, refuses the result.
package sillwright

import data.sillwright.conditions
import data.sillwright.questions

outcomes := [outcome |
	some subject in input.subjects
	some ref in input.rulebooks
	some rule in data.rulebooks[ref.id].rules
	rule.subject == subject.kind
	outcome := object.union({"rule": rule.id, "subject": subject.id}, told(rule, ref, subject.facts))
]

# The same of single rules, each of the facts that it reads and of no others: who keeps answers asks only what is new.
singly := [outcome |
	some i, single in input.singly
	rule := data.rulebooks[single.rulebook.id].rules[single.place]
	outcome := object.union({"rule": rule.id, "single": i}, told(rule, single.rulebook, single.facts))
]

told(rule, ref, known) := settled(rule, ref, judge(rule, ref, facts), facts) if facts := asked_as(ref, known)

# The variant that a rulebook is asked in is a word that conditions may test, like a fact.
asked_as(ref, facts) := object.union(facts, {"variant": {"value": ref.variant, "at": []}}) if {
	ref.variant
} else := facts

# An answer that the spec brings settles what the text leaves open. Where the rulebook says
# so, an answer resting on evidence also stands for what was not measured. A failure stands.
settled(rule, ref, judged, facts) := object.union(judged, {"outcome": "pass", "answered": input.answers[rule.id].evidence, "needs": []}) if {
	input.answers[rule.id].value == true
	answerable(rule, judged)
} else := judged if {
	# No to a rule that may not apply at all is no failure yet.
	applies(rule, ref, facts) != "true"
} else := object.union(judged, {"outcome": "fail", "answered": input.answers[rule.id].evidence, "needs": []}) if {
	input.answers[rule.id].value == false
	answerable(rule, judged)
	judged.otherwise == []
} else := object.union(judged, judged.otherwise[0]) if {
	# No to the question that is open, but an exception may still hold.
	input.answers[rule.id].value == false
	answerable(rule, judged)
} else := judged

answerable(rule, judged) if {
	judged.outcome == "unknown"
	settleable(rule, judged)
	unsettled := [check | some check in judged.checks; check.state != "pass"]
	count(unsettled) > 0
	every check in unsettled {
		check.state in {"open", object.get(rule, "on_evidence", "open")}
	}
}

settleable(_, judged) if judged.needs == []

settleable(rule, _) if rule.on_evidence == "missing"

judge(rule, ref, facts) := {"outcome": "not-applicable", "by": "variant", "checks": [], "needs": []} if {
	varies(rule, ref) == "false"
} else := {"outcome": "not-applicable", "why": why[0], "checks": [], "needs": []} if {
	why := [condition.why | some condition in rule.applies; conditions.truth(condition, facts) == "false"]
	count(why) > 0
} else := weigh(rule, facts) if {
	applies(rule, ref, facts) == "true"
} else := weighed if {
	# It passes whether or not it applies.
	weighed := weigh(rule, facts)
	weighed.outcome == "pass"
} else := object.union(weighed, {"outcome": "unknown", "needs": needs}) if {
	weighed := weigh(rule, facts)
	needs := array.concat(unclear(rule, ref, facts), weighed.needs)
}

# Whether the rulebook is asked in a variant that has the rule.
varies(rule, _) := "true" if not rule.variants

varies(rule, ref) := "unknown" if {
	rule.variants
	not ref.variant
}

varies(rule, ref) := "true" if ref.variant in rule.variants

varies(rule, ref) := "false" if {
	rule.variants
	ref.variant
	not ref.variant in rule.variants
}

applies(rule, ref, facts) := conditions.hold(rule.applies, facts) if {
	varies(rule, ref) == "true"
} else := varies(rule, ref)

unclear(rule, ref, facts) := array.concat([{"fact": "variant"} | varies(rule, ref) == "unknown"], conditions.unclear(rule.applies, facts))

# An exception is an alternative, the same question with limits of its own: any that passes passes; one whose condition is not
# known, or that is itself open, leaves the rule unknown.
weigh(rule, facts) := decide(ways(rule, facts))

decide(all) := {"outcome": "pass", "by": passing[0].id, "checks": passing[0].checks, "needs": []} if {
	passing := [way | some way in all; way.when == "true"; way.outcome == "pass"]
	count(passing) > 0
} else := {"outcome": "unknown", "by": left[0].id, "checks": left[0].checks, "needs": left[0].needs, "otherwise": otherwise} if {
	left := [way | some way in all; undecided(way)]
	count(left) > 0
	otherwise := [{"by": way.id, "checks": way.checks, "needs": way.needs} | some way in array.slice(left, 1, count(left))]
} else := {"outcome": "fail", "by": best.id, "checks": best.checks, "needs": []} if {
	closed := [way | some way in all; way.when == "true"]
	best := nearest(closed)
}

undecided(way) if {
	way.when == "true"
	way.outcome == "unknown"
}

undecided(way) if {
	way.when == "unknown"
	way.outcome in {"pass", "unknown"}
}

# The failure to report: that of an exception which holds and whose own, wider limit is
# the one that is broken; otherwise that of the rule itself.
nearest(closed) := wider[0] if {
	base := closed[0]
	wider := [way |
		some way in array.slice(closed, 1, count(closed))
		some check in base.checks
		check.state == "fail"
		check.part in way.widens
	]
	count(wider) > 0
} else := closed[0]

# Where the rule itself passes, or an exception is known not to hold, nothing rests on what else could be answered.
ways(rule, facts) := [base] if {
	base := itself(rule, facts)
	base.outcome == "pass"
} else := array.concat([base], exceptions) if {
	base := itself(rule, facts)
	possible := [item | some item in rule.exceptions; conditions.hold(item.when, facts) != "false"]
	exceptions := [exception(rule, item, base.checks, facts) | some item in possible]
	count(exceptions) == count(possible)
}

itself(rule, facts) := {"id": "rule", "when": "true", "outcome": worst(checks), "checks": checks, "needs": lacking(checks), "widens": []} if {
	checks := questions.answer(rule.question, rule, facts)
	count(checks) > 0
}

exception(rule, item, base, facts) := way if {
	answered := questions.answer(rule.question, item, facts)
	count(answered) > 0
	checks := array.concat(answered, [{"part": item.id, "state": "open", "at": []} | item.open])
	unknown := conditions.unclear(item.when, facts)
	when := conditions.hold(item.when, facts)
	shown := {"true": checks, "unknown": base}[when]
	way := {
		"id": item.id, "when": when, "outcome": worst(checks), "checks": shown,
		"needs": array.concat(unknown, lacking(checks)), "widens": item.widens,
	}
}

worst(checks) := "fail" if {
	some check in checks
	check.state == "fail"
} else := "unknown" if {
	some check in checks
	check.state != "pass"
} else := "pass"

lacking(checks) := [need | some check in checks; check.state == "missing"; some need in check.needs]
