package sillwright_test

import data.sillwright

# A trial rule: pile at most 10, or 12 as printed; 20 where the work is existing.
rule := {
	"id": "trial/pile", "question": "at-most", "fact": "carpet_pile", "subject": "door",
	"limits": {"value": limit}, "applies": [], "exceptions": [],
}

limit := {"kind": "length", "at_most": 10, "printed": 12}

wider := {"kind": "length", "at_most": 20}

existing := {
	"id": "existing", "fact": "carpet_pile", "limits": {"value": wider}, "widens": ["value"],
	"when": [{"any": [{"fact": "work", "in": ["existing"]}], "facts": ["work"], "why": "new"}],
}

fire := {
	"any": [{"fact": "fire_rated", "in": [true]}, {"fact": "smoke_control", "in": [true]}],
	"facts": ["fire_rated", "smoke_control"], "why": "neither fire nor smoke",
}

deep := {"any": [{"fact": "opening_depth", "over": 600}], "facts": ["opening_depth"], "why": "not deep"}

wanted := {"any": [{"fact": "leakage_target", "given": true}], "facts": ["leakage_target"], "why": "no target"}

with_exception := object.union(rule, {"exceptions": [existing]})

applying(condition) := object.union(rule, {"applies": [condition]})

# Each value at a place of its own.
facts(values) := {name: {"value": value, "at": [places[name]]} | some name, value in values}

places := {
	"carpet_pile": "/pile", "work": "/work", "fire_rated": "/fire", "smoke_control": "/smoke", "opening_depth": "/depth",
	"profile": "/profile", "leakage": "/leakage", "leakage_target": "/target", "opening_force": "/force", "openings": "/slots",
}

judged(one, values, answers) := outcomes if {
	asked := {"rulebooks": [{"id": "trial"}], "answers": answers, "subjects": [{"id": "door", "kind": "door", "facts": facts(values)}]}
	outcomes := sillwright.outcomes with data.rulebooks as {"trial": {"rules": [one]}} with input as asked
}

outcome(one, values) := judged(one, values, {})[0].outcome

check(value, bound, state) := {
	"part": "value", "state": state, "at": ["/pile"], "measured": {"length": value}, "limit": bound, "comparator": "<=",
	"values": {"measured": {"length": value}, "limit": {"length": bound.at_most}, "excess": {"length": value - bound.at_most}},
}

missing := {"part": "value", "state": "missing", "at": [], "needs": [{"fact": "carpet_pile"}]}

test_pass_whole_outcome if {
	judged(rule, {"carpet_pile": 10}, {}) == [{"rule": "trial/pile", "subject": "door", "outcome": "pass", "by": "rule", "checks": [check(10, limit, "pass")], "needs": []}]
}

test_fail_whole_outcome if {
	judged(rule, {"carpet_pile": 13}, {}) == [{"rule": "trial/pile", "subject": "door", "outcome": "fail", "by": "rule", "checks": [check(13, limit, "fail")], "needs": []}]
}

test_unknown_whole_outcome if {
	judged(rule, {}, {}) == [{"rule": "trial/pile", "subject": "door", "outcome": "unknown", "by": "rule", "checks": [missing], "needs": [{"fact": "carpet_pile"}], "otherwise": []}]
	judged(rule, {"carpet_pile": 11}, {}) == [{"rule": "trial/pile", "subject": "door", "outcome": "unknown", "by": "rule", "checks": [check(11, limit, "open")], "needs": [], "otherwise": []}]
}

# Silence: no outcome stands for a question without an answer, and the caller counts.
test_fail_no_outcome_where_a_question_gives_no_answer if {
	every value in ["800", "abc", null, true] {
		judged(rule, {"carpet_pile": value}, {}) == []
	}
	judged(object.union(rule, {"question": "no-such-question"}), {"carpet_pile": 1}, {}) == []
	judged({name: part | some name, part in rule; name != "limits"}, {"carpet_pile": 1}, {}) == []
}

test_fail_no_outcome_where_a_question_gives_no_checks if {
	none := {"id": "trial/force", "question": "force-by-angle", "subject": "door", "limits": {"value": {"kind": "force", "at_most": 5}}, "applies": [], "exceptions": []}
	judged(none, {"opening_force": []}, {}) == []
}

test_fail_no_outcome_where_an_exception_gives_no_checks if {
	one := {
		"id": "trial/force", "question": "force-by-angle", "subject": "door", "applies": [],
		"limits": {"value": {"kind": "force", "at_most": 5}, "angles": {"from": 0, "to": 90}},
		"exceptions": [object.union(existing, {"limits": {"value": {"kind": "force", "at_most": 9}}})],
	}
	judged(one, {"opening_force": [], "work": "existing"}, {}) == []
}

# Beyond a bound but within the text's own rounding of it: whether the rule applies is open.
rounded := {"any": [{"fact": "opening_depth", "over": 6096, "printed": 6100}], "facts": ["opening_depth"], "why": "it is not deep"}

test_unknown_condition_within_its_rounding if {
	one := object.union(rule, {"applies": [rounded]})
	outcome(one, {"carpet_pile": 13, "opening_depth": 6096}) == "not-applicable"
	outcome(one, {"carpet_pile": 13, "opening_depth": 6097}) == "unknown"
	outcome(one, {"carpet_pile": 13, "opening_depth": 6100}) == "unknown"
	outcome(one, {"carpet_pile": 13, "opening_depth": 6101}) == "fail"
	outcome(one, {"carpet_pile": 10, "opening_depth": 6097}) == "pass"
	judged(one, {"carpet_pile": 13, "opening_depth": 6097}, {})[0].needs == [{"fact": "opening_depth"}]
}

test_fail_no_outcome_where_an_exception_gives_no_answer if {
	every limits in [{}, {"valu": wider}] {
		one := object.union(rule, {"exceptions": [{"id": "existing", "fact": "carpet_pile", "limits": limits, "widens": [], "when": existing.when}]})
		judged(one, {"carpet_pile": 15, "work": "existing"}, {}) == []
	}
}

test_pass_every_rule_and_subject_is_asked_once if {
	second := object.union(rule, {"id": "trial/second"})
	of_leaf := object.union(rule, {"id": "trial/leaf", "subject": "leaf"})
	asked := {
		"rulebooks": [{"id": "trial"}], "answers": {},
		"subjects": [
			{"id": "door", "kind": "door", "facts": facts({"carpet_pile": 1})},
			{"id": "leaf:A", "kind": "leaf", "facts": facts({"carpet_pile": 99})},
			{"id": "leaf:B", "kind": "leaf", "facts": {}},
		],
	}
	outcomes := sillwright.outcomes with data.rulebooks as {"trial": {"rules": [rule, second, of_leaf]}, "other": {"rules": [rule]}} with input as asked
	{[each.rule, each.subject, each.outcome] | some each in outcomes} == {
		["trial/pile", "door", "pass"], ["trial/second", "door", "pass"],
		["trial/leaf", "leaf:A", "fail"], ["trial/leaf", "leaf:B", "unknown"],
	}
	count(outcomes) == 4
}

# A choice of tests, three-valued: true if any is true, else not known if any is not known, else false.
test_unknown_any_over_all_combinations if {
	table := [
		[{"fire_rated": true, "smoke_control": true}, "fail"],
		[{"fire_rated": true, "smoke_control": false}, "fail"],
		[{"fire_rated": true}, "fail"],
		[{"fire_rated": false, "smoke_control": true}, "fail"],
		[{"fire_rated": false, "smoke_control": false}, "not-applicable"],
		[{"fire_rated": false}, "unknown"],
		[{"smoke_control": true}, "fail"],
		[{"smoke_control": false}, "unknown"],
		[{}, "unknown"],
	]
	every row in table {
		outcome(applying(fire), object.union(row[0], {"carpet_pile": 13})) == row[1]
	}
}

test_unknown_any_asks_only_for_what_is_not_known if {
	judged(applying(fire), {"fire_rated": false, "carpet_pile": 13}, {}) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "unknown", "by": "rule",
		"checks": [check(13, limit, "fail")], "needs": [{"fact": "smoke_control"}],
	}]
}

test_unknown_applicability_and_value_are_both_asked_for if {
	judged(applying(fire), {}, {})[0].needs == [{"fact": "fire_rated"}, {"fact": "smoke_control"}, {"fact": "carpet_pile"}]
}

test_pass_whether_or_not_it_applies if outcome(applying(fire), {"carpet_pile": 10}) == "pass"

test_unknown_open_value_of_a_rule_that_may_not_apply if outcome(applying(fire), {"carpet_pile": 11}) == "unknown"

test_pass_not_applicable_whole_outcome if {
	judged(applying(fire), {"fire_rated": false, "smoke_control": false}, {}) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "not-applicable",
		"why": "neither fire nor smoke", "checks": [], "needs": [],
	}]
}

# One condition that is false settles it, whatever is not known of the others.
test_pass_not_applicable_before_unknown if {
	one := object.union(rule, {"applies": [fire, deep]})
	judged(one, {"opening_depth": 600, "carpet_pile": 13}, {})[0].outcome == "not-applicable"
	judged(one, {"opening_depth": 600, "carpet_pile": 13}, {})[0].why == "not deep"
	judged(one, {"opening_depth": 601, "carpet_pile": 13}, {})[0].needs == [{"fact": "fire_rated"}, {"fact": "smoke_control"}]
	judged(one, {"opening_depth": 601, "fire_rated": true, "carpet_pile": 13}, {})[0].outcome == "fail"
}

test_fail_over_is_more_than if {
	outcome(applying(deep), {"opening_depth": 601, "carpet_pile": 13}) == "fail"
	outcome(applying(deep), {"opening_depth": 600, "carpet_pile": 13}) == "not-applicable"
	outcome(applying(deep), {"carpet_pile": 13}) == "unknown"
}

test_pass_given_is_never_unknown if {
	outcome(applying(wanted), {"leakage_target": 5, "carpet_pile": 10}) == "pass"
	outcome(applying(wanted), {"carpet_pile": 10}) == "not-applicable"
	outcome(applying(wanted), {"leakage_target": 5, "carpet_pile": 13}) == "fail"
	outcome(applying(wanted), {"leakage_target": false, "carpet_pile": 13}) == "fail"
}

# The rule or its exception: pass if either passes, fail if neither can, else not known.
test_unknown_exception_is_a_three_valued_or if {
	table := [
		[10, "existing", "pass", "rule"], [10, "new", "pass", "rule"], [10, null, "pass", "rule"],
		[11, "existing", "pass", "existing"], [11, "new", "unknown", "rule"], [11, null, "unknown", "rule"],
		[20, "existing", "pass", "existing"], [20, "new", "fail", "rule"], [20, null, "unknown", "existing"],
		[21, "existing", "fail", "existing"], [21, "new", "fail", "rule"], [21, null, "fail", "rule"],
		[null, "existing", "unknown", "rule"], [null, "new", "unknown", "rule"], [null, null, "unknown", "rule"],
	]
	every row in table {
		values := {name: value | some name, value in {"carpet_pile": row[0], "work": row[1]}; value != null}
		result := judged(with_exception, values, {})[0]
		[result.outcome, result.by] == [row[2], row[3]]
	}
}

# What failed is shown, and what would help is asked for.
test_unknown_exception_whose_condition_is_not_known if {
	judged(with_exception, {"carpet_pile": 20}, {}) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "unknown", "by": "existing",
		"checks": [check(20, limit, "fail")], "needs": [{"fact": "work"}], "otherwise": [],
	}]
}

test_fail_exception_that_widens_nothing_is_not_reported if {
	one := object.union(rule, {"exceptions": [object.union(existing, {"widens": []})]})
	judged(one, {"carpet_pile": 21, "work": "existing"}, {})[0].by == "rule"
	judged(one, {"carpet_pile": 21, "work": "existing"}, {})[0].checks == [check(21, limit, "fail")]
}

# The exception widens the value, which is not what failed: the rule's own failure is shown.
test_fail_exception_that_widens_what_passes_is_not_reported if {
	slot := {"at": "/0", "width": 10, "runs": "along"}
	one := {
		"id": "trial/slot", "question": "openings", "subject": "door", "limits": {"width": limit}, "applies": [],
		"exceptions": [{"id": "existing", "limits": {"width": wider}, "widens": ["width"], "when": existing.when}],
	}
	judged(one, {"openings": [slot], "work": "existing"}, {})[0].by == "rule"
	judged(one, {"openings": [object.union(slot, {"width": 21})], "work": "existing"}, {})[0].by == "existing"
}

test_unknown_exception_asks_for_its_condition_and_for_what_it_reads if {
	one := object.union(rule, {"exceptions": [object.union(existing, {"fact": "opening_depth"})]})
	judged(one, {"carpet_pile": 20}, {})[0].needs == [{"fact": "work"}, {"fact": "opening_depth"}]
	judged(one, {"carpet_pile": 20, "work": "existing"}, {})[0].needs == [{"fact": "opening_depth"}]
	judged(one, {"carpet_pile": 20, "work": "new"}, {})[0].outcome == "fail"
}

test_unknown_open_exception_leaves_it_to_the_authority if {
	one := object.union(rule, {"exceptions": [object.union(existing, {"open": true})]})
	judged(one, {"carpet_pile": 20, "work": "existing"}, {}) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "unknown", "by": "existing",
		"checks": [check(20, wider, "pass"), {"part": "existing", "state": "open", "at": []}], "needs": [], "otherwise": [],
	}]
	outcome(one, {"carpet_pile": 21, "work": "existing"}) == "fail"
	outcome(one, {"carpet_pile": 20, "work": "new"}) == "fail"
	outcome(one, {"carpet_pile": 10, "work": "existing"}) == "pass"
	outcome(one, {"carpet_pile": 20}) == "unknown"
}

yes := {"trial/pile": {"value": true, "evidence": "letter of the authority"}}

no := {"trial/pile": {"value": false, "evidence": "letter of the authority"}}

test_pass_answer_settles_what_is_open if {
	judged(rule, {"carpet_pile": 11}, yes) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "pass", "by": "rule", "checks": [check(11, limit, "open")],
		"needs": [], "otherwise": [], "answered": "letter of the authority",
	}]
}

test_fail_answer_settles_what_is_open if {
	judged(rule, {"carpet_pile": 11}, no) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "fail", "by": "rule", "checks": [check(11, limit, "open")],
		"needs": [], "otherwise": [], "answered": "letter of the authority",
	}]
}

test_unknown_answer_settles_nothing_else if {
	# a pass, a failure, a fact or a condition that is not known, a rule that does not apply
	every answers in [yes, no] {
		judged(rule, {"carpet_pile": 10}, answers) == judged(rule, {"carpet_pile": 10}, {})
		judged(rule, {"carpet_pile": 13}, answers) == judged(rule, {"carpet_pile": 13}, {})
		judged(rule, {}, answers) == judged(rule, {}, {})
		judged(with_exception, {"carpet_pile": 20}, answers) == judged(with_exception, {"carpet_pile": 20}, {})
		judged(applying(fire), {"carpet_pile": 11}, answers) == judged(applying(fire), {"carpet_pile": 11}, {})
		not_here := {"fire_rated": false, "smoke_control": false, "carpet_pile": 11}
		judged(applying(fire), not_here, answers) == judged(applying(fire), not_here, {})
	}
}

test_unknown_answer_to_another_rule_or_without_a_truth if {
	every answers in [{"trial/other": yes["trial/pile"]}, {"trial/pile": {"value": "true", "evidence": "x"}}, {"trial/pile": {"value": null, "evidence": "x"}}, null] {
		judged(rule, {"carpet_pile": 11}, answers) == judged(rule, {"carpet_pile": 11}, {})
	}
}

# Too close to tell is a matter of measuring, not of reading the text: no answer settles it.
test_unknown_answer_does_not_settle_a_band if {
	one := {"id": "trial/pile", "question": "band-at-most", "fact": "leakage", "target": "leakage_target", "subject": "door", "limits": {}, "applies": [], "exceptions": []}
	values := {"leakage": {"low": 1, "likely": 2, "high": 3}, "leakage_target": {"flow": 2}}
	outcome(one, values) == "unknown"
	judged(one, values, yes) == judged(one, values, {})
}

# A yes to the open question settles it; a no leaves the exception, which may still hold.
test_unknown_answer_no_while_an_exception_may_hold if {
	judged(with_exception, {"carpet_pile": 11}, yes)[0].outcome == "pass"
	judged(with_exception, {"carpet_pile": 11}, no) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "unknown", "by": "existing", "checks": [check(11, limit, "open")],
		"needs": [{"fact": "work"}], "otherwise": [{"by": "existing", "checks": [check(11, limit, "open")], "needs": [{"fact": "work"}]}],
	}]
	judged(with_exception, {"carpet_pile": 11, "work": "new"}, no)[0].outcome == "fail"
}

test_pass_answer_settles_an_open_exception if {
	one := object.union(rule, {"exceptions": [object.union(existing, {"open": true})]})
	judged(one, {"carpet_pile": 20, "work": "existing"}, yes)[0].outcome == "pass"
	judged(one, {"carpet_pile": 20, "work": "existing"}, no)[0].outcome == "fail"
}

# On evidence, an answer stands for what was not measured; for a failure or a rule that may not apply it does not.
evidence_rule := object.union(rule, {"on_evidence": "missing"})

test_pass_answer_on_evidence_stands_for_what_was_not_measured if {
	judged(evidence_rule, {}, yes) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "pass", "by": "rule", "checks": [missing],
		"needs": [], "otherwise": [], "answered": "letter of the authority",
	}]
	judged(evidence_rule, {}, {})[0].outcome == "unknown"
	judged(rule, {}, yes)[0].outcome == "unknown"
}

test_fail_answer_on_evidence_says_no if {
	judged(evidence_rule, {}, no) == [{
		"rule": "trial/pile", "subject": "door", "outcome": "fail", "by": "rule", "checks": [missing],
		"needs": [], "otherwise": [], "answered": "letter of the authority",
	}]
}

test_pass_answer_on_evidence_settles_what_is_open_too if {
	judged(evidence_rule, {"carpet_pile": 11}, yes)[0].outcome == "pass"
	judged(evidence_rule, {"carpet_pile": 11}, no)[0].outcome == "fail"
}

test_fail_answer_on_evidence_overrides_no_measurement if {
	every answers in [yes, no] {
		judged(evidence_rule, {"carpet_pile": 13}, answers) == judged(evidence_rule, {"carpet_pile": 13}, {})
		judged(evidence_rule, {"carpet_pile": 10}, answers) == judged(evidence_rule, {"carpet_pile": 10}, {})
	}
	judged(evidence_rule, {"carpet_pile": 13}, yes)[0].outcome == "fail"
}

# One of several fails: what the others lack is no matter.
test_fail_answer_on_evidence_beside_a_failure if {
	one := {"id": "trial/pile", "question": "openings", "subject": "door", "limits": {"width": limit}, "applies": [], "exceptions": [], "on_evidence": "missing"}
	unread := {"at": "/0"}
	wide := {"at": "/1", "width": 13, "runs": "across"}
	judged(one, {"openings": [unread]}, yes)[0].outcome == "pass"
	judged(one, {"openings": [unread, wide]}, yes) == judged(one, {"openings": [unread, wide]}, {})
	judged(one, {"openings": [unread, wide]}, yes)[0].outcome == "fail"
}

# Yes passes whether or not the rule applies; no fails only where it does.
test_unknown_answer_on_evidence_of_a_rule_that_may_not_apply if {
	one := object.union(applying(fire), {"on_evidence": "missing"})
	judged(one, {}, yes)[0].outcome == "pass"
	judged(one, {}, no) == judged(one, {}, {})
	judged(one, {}, no)[0].outcome == "unknown"
	judged(one, {}, no)[0].needs == [{"fact": "fire_rated"}, {"fact": "smoke_control"}, {"fact": "carpet_pile"}]
	judged(one, {"fire_rated": true}, no)[0].outcome == "fail"
	judged(one, {"fire_rated": false, "smoke_control": false}, no)[0].outcome == "not-applicable"

	# What fails if the rule applies is not settled by a yes.
	judged(one, {"carpet_pile": 13}, yes) == judged(one, {"carpet_pile": 13}, {})
}

# No to what was not measured leaves the exception, whose condition is asked for.
test_unknown_answer_on_evidence_no_while_an_exception_may_hold if {
	one := object.union(evidence_rule, {"exceptions": [existing]})
	judged(one, {}, no)[0].outcome == "unknown"
	judged(one, {}, no)[0].by == "existing"
	judged(one, {"work": "new"}, no)[0].outcome == "fail"
	judged(one, {}, yes)[0].outcome == "pass"
}

# What nobody measured is no question to an authority, even where a check names no place to look at.
test_unknown_answer_does_not_settle_what_is_not_measured if {
	most := {"kind": "length", "at_most": 5}
	one := {
		"id": "trial/pile", "question": "upstands", "fact": "profile", "subject": "door", "applies": [], "exceptions": [],
		"limits": {"height": most, "upstand": most, "noses": {"one_of": ["rounded"]}},
	}
	values := {"profile": [{"side": "outer", "height": null, "at": [], "needs": [], "upstands": [], "rising": []}]}
	[judged(one, values, {})[0].outcome, judged(one, values, {})[0].needs] == ["unknown", []]
	every answers in [yes, no] {
		judged(one, values, answers) == judged(one, values, {})
	}
}

# A no to what is not known leaves the rule first, not the exception that may hold.
test_unknown_answer_no_to_what_is_not_known_beside_an_exception if {
	judged(with_exception, {}, no) == judged(with_exception, {}, {})
	judged(with_exception, {}, no)[0].by == "rule"
}
