package policies

import "testing"

// Every fault of a rulebook file is told at its place, with what is found there and what is allowed or what to do.
func TestRulebookIsRefused(t *testing.T) {
	const limits = "limits: {value: {at_least: 800 mm}}"
	when := func(test string) []string { return []string{"applies: []", "applies: [" + test + "]"} }
	for name, r := range map[string]refusal{
		"a key that is not known":             {trialBook, []string{"    asks:", "    askes:"}, "askes", "askes"},
		"a key of a limit that is not known":  {trialBook, []string{limits, "limits: {value: {at_leest: 800 mm}}"}, "at_leest", "at_leest"},
		"a key of an exception not known":     {openBook, []string{"title: old", "titel: old"}, "titel", "titel"},
		"a level that is not known":           {trialBook, []string{"level: must", "level: shall"}, "shall", "shall"},
		"a provenance that is not known":      {trialBook, []string{"practice", "hearsay"}, "hearsay", "hearsay"},
		"a key that is missing":               {trialBook, []string{"    why: People must pass.\n", ""}, "width:", "why"},
		"a system twice":                      {trialBook, []string{"[mm]", "[mm, mm]"}, "[mm, ^mm]", "again"},
		"an id that is not the file's":        {trialBook, []string{"id: trial", "id: trail"}, "trail", "the file is named by"},
		"a must rule from memory":             {trialBook, []string{"practice", "memory"}, "memory", "memory at level must"},
		"a should rule from memory":           {trialBook, []string{"practice", "memory", "level: must", "level: should"}, "memory", "make it a caution"},
		"a caution without ask":               {trialBook, []string{"level: must", "level: caution", "    moves: [widen-opening]\n", ""}, "width:", "a caution without ask"},
		"ask in a rule that is no caution":    {trialBook, []string{"    level:", "    ask: {whom: somebody, what: something}\n    level:"}, "ask: {", "ask in a rule of level must"},
		"a question that is not known":        {trialBook, []string{"at-least", "at-leest"}, "at-leest", "did you mean `at-least`"},
		"a fact that is not known":            {trialBook, []string{"clear_width", "cleer_width"}, "cleer_width", "did you mean `clear_width`"},
		"a target that is not known":          {trialBook, []string{"at-least", "at-most-fact", "    subject", "    target: wish\n    subject", "    limits: {value: {at_least: 800 mm}}\n", ""}, "wish", `fact "wish"`},
		"a condition's fact not known":        {trialBook, when("{fact: weather, in: [true], why: dry}"), "weather", `fact "weather"`},
		"a variant that the rulebook lacks":   {trialBook, []string{"rules:", "variants: [A, B]\nrules:", "applies: []", "applies: [{fact: variant, in: [C], why: no}]"}, "C]", "C as a value of fact \"variant\"; allowed: in, with one of A, B"},
		"a variant where there is none":       {trialBook, when("{fact: variant, in: [A], why: no}"), "variant", "fact \"variant\""},
		"a condition's word not known":        {trialBook, when("{fact: work, in: [new, alteratin], why: old}"), "alteratin", "did you mean `alteration`"},
		"a condition's text for a truth":      {trialBook, when("{fact: fire_rated, in: ['yes'], why: no}"), "'yes'", "true or false"},
		"a condition without a test":          {trialBook, when("{fact: work, why: old}"), "{fact: work", "with 0 of in"},
		"a condition with two tests":          {trialBook, when("{fact: work, in: [new], given: true, why: old}"), "{fact: work", "with 2 of in"},
		"a condition's bound without number":  {trialBook, when("{fact: opening_depth, over: deep, why: flat}"), "deep", "a length, such as"},
		"a condition's bound of other kind":   {trialBook, when("{fact: opening_depth, over: 5 lbf, why: flat}"), "5 lbf", `"5 lbf", a force`},
		"a condition's bound of a word":       {trialBook, when("{fact: work, over: 5 mm, why: old}"), "over: 5", `over of fact "work", which is a word; allowed: in, with one of new`},
		"a condition's bound of a structure":  {trialBook, when("{fact: profile, at_most: 5 mm, why: old}"), "at_most: 5", "which is a structure; allowed: given"},
		"a condition's bound of a truth":      {trialBook, when("{fact: closer, at_least: 5 mm, why: old}"), "at_least: 5", "which is a truth; allowed: in, with true or false"},
		"a condition's list of a number":      {trialBook, when("{fact: opening_depth, in: [deep], why: flat}"), "deep]", "over, at_most or at_least, with a length"},
		"a condition without why":             {trialBook, when("{fact: work, in: [new]}"), "{fact: work", "without why"},
		"one of several tests":                {trialBook, when("{any: [{fact: work, in: [new]}, {fact: closer, in: [maybe]}], why: old}"), "maybe", "true or false"},
		"a rounding far from over":            {trialBook, when("{fact: opening_depth, over: 24 in, printed: 650 mm, why: flat}"), "650 mm", "within 5 per cent"},
		"a rounding beside no bound":          {trialBook, when("{fact: work, in: [new], printed: 650 mm, why: old}"), "printed", "take it out"},
		"a condition of an exception":         {openBook, []string{"[existing]", "[exist]"}, "exist]", `exist as a value of fact "work"`},
		"a decision that is not written":      {trialBook, []string{"    messages:", "    decisions: {value: mine}\n    messages:"}, "mine", `decision "mine"`},
		"a decision that nobody names":        {trialBook, []string{"rules:", "decisions: {mine: We read it so.}\nrules:"}, "mine: We", "which no rule names"},
		"a variant that is not known":         {trialBook, []string{"rules:", "variants: [A, B]\nrules:", "    level:", "    variants: [C]\n    level:"}, "C]", `variant "C"; allowed: one of A, B`},
		"every variant of a rulebook":         {trialBook, []string{"rules:", "variants: [A, B]\nrules:", "    level:", "    variants: [B, A]\n    level:"}, "^variants: [B", "every variant"},
		"a variant where there are none":      {trialBook, []string{"    level:", "    variants: [A]\n    level:"}, "A]", `variant "A"`},
		"a quantity that is not known":        {trialBook, []string{"    messages:", "    bounds: {value: {quantity: clear-with}}\n    messages:"}, "clear-with}", "did you mean `clear-width`"},
		"a bound of no limit":                 {trialBook, []string{"    messages:", "    bounds: {valeu: {quantity: clear-width}}\n    messages:"}, "valeu", "which is no limit of the rule"},
		"a bound of another kind":             {trialBook, []string{"    messages:", "    bounds: {value: {quantity: opening-force}}\n    messages:"}, "{quantity", `"800 mm" as a bound of opening force; allowed: a force`},
		"a relief with a name not given":      {trialBook, []string{"    messages:", "    bounds: {value: {quantity: clear-width, relief: 'or {excess}'}}\n    messages:"}, "{quantity", "{excess}"},
		"an exception id twice":               {openBook, []string{", open: true}]", ", open: true}, {id: old, title: x, when: [{fact: work, in: [new]}], limits: {value: {at_least: 1 mm}}}]"}, "id: ^old, title: x", "a second time"},
		"an exception called by a part":       {openBook, []string{"id: old", "id: value"}, "id: ^value", "which is a part of question at-least"},
		"an exception without limits":         {openBook, []string{"{value: {at_least: 700 mm}}", "{}"}, "{}", "at least 1 key (limits by their names)"},
		"an exception's limit without number": {openBook, []string{"700 mm", "wide"}, "at_least: ^wide", "a length, such as"},
		"an exception's limit of other kind":  {openBook, []string{"700 mm", "5 lbf"}, "5 lbf", "a force"},
		"an exception's limit not known":      {openBook, []string{"{value: {at_least: 700 mm}}", "{valeu: {at_least: 700 mm}}"}, "valeu", "did you mean `value`"},
	} {
		t.Run(name, r.hold)
	}
}

// A limit bounds in one way, that in which its question reads it, with values of the right kind.
func TestLimitIsRefused(t *testing.T) {
	of := func(limit string) []string { return []string{"{at_least: 800 mm}", limit} }
	for name, r := range map[string]refusal{
		"without a number":           {trialBook, of("{at_least: thirty}"), "thirty", `found "thirty"; allowed: a length, such as 1/2 in or 13 mm`},
		"in a unit that is no unit":  {trialBook, of("{at_least: 800 furlongs}"), "800 furl", "a length, such as"},
		"that is not text":           {trialBook, of("{at_least: 800}"), "800}", "800"},
		"of another kind":            {trialBook, of("{at_least: 5 lbf}"), "5 lbf", `"5 lbf", a force; allowed: a length`},
		"of two kinds":               {trialBook, of("{at_least: 800 mm, printed: 5 lbf}"), "5 lbf", "a force; allowed: a length"},
		"a slope that is none":       {trialBook, of("{ratio: steep}"), "steep", "1:2"},
		"without a bound":            {trialBook, of("{}"), "{}", "at least 1 key"},
		"false":                      {trialBook, of("false"), "false", "or true"},
		"with a rounding alone":      {trialBook, of("{printed: 800 mm}"), "value: {p", "limit value without a bound"},
		"both ways":                  {trialBook, of("{at_least: 800 mm, at_most: 900 mm}"), "value: {at_l", "limit value with at_most and at_least"},
		"a bound and a slope":        {trialBook, of(`{at_least: 800 mm, ratio: "1:2"}`), "value: {at_l", "at_least and ratio"},
		"of the other sense":         {trialBook, of("{at_most: 800 mm}"), "at_most", "limit value with at_most; allowed: at_least with a length"},
		"a slope for a length":       {trialBook, of(`{ratio: "1:2"}`), "ratio", "with ratio; allowed: at_least"},
		"true for a length":          {trialBook, of("true"), "value: true", "with true; allowed: at_least"},
		"words for a length":         {trialBook, of("{one_of: [wide]}"), "one_of", "with one_of; allowed: at_least"},
		"a rounding far off":         {trialBook, of("{at_least: 32 in, printed: 751 mm}"), "751 mm", `"751 mm" as the rounding of 32 in; allowed: a value within 5 per cent`},
		"a rounding far off above":   {trialBook, of("{at_least: 100 mm, printed: 106 mm}"), "106 mm", "within 5 per cent"},
		"a rounding of nothing":      {trialBook, of("{at_least: 0 mm, printed: 1 mm}"), "1 mm}", "within 5 per cent"},
		"a rounding of words":        {wordBook, []string{"severe]", "severe], printed: 5 mm"}, "printed: 5", "without the bound"},
		"an angle for a length":      {trialBook, of("{angle: 15 deg}"), "angle", "limit value with angle; allowed: at_least"},
		"an angle that is none":      {sillBook, []string{"15 deg", "95 deg"}, "{angle", `"95 deg"; allowed: angle with that of a slope, such as 15 deg`},
		"a ratio for an angle":       {sillBook, []string{"{angle: 15 deg}", `{ratio: "1:4"}`}, "ratio", "limit slope with ratio; allowed: angle with that of a slope"},
		"a word that the fact lacks": {wordBook, []string{"severe", "sever"}, "sever]", `"sever" of fact "duty_use"; allowed: one of light`},
		"a length for a word":        {wordBook, []string{"{one_of: [heavy, severe]}", "{at_most: 5 mm}"}, "at_most", "allowed: one_of with words of the fact, which are light"},
		"that is missing":            {trialBook, []string{"    limits: {value: {at_least: 800 mm}}\n", ""}, "width:", `no limit "value"; allowed: at_least with a length`},
		"one of several missing":     {profileBook, []string{"upright: {at_most: 6 mm}, ", ""}, "limits:", `no limit "upright"`},
		"that is not known":          {profileBook, []string{"limits: {height", "limits: {bevle_each_side: true, height"}, "bevle", "did you mean `bevel_each_side`"},
		"where none is read":         {truthBook, []string{"    exceptions: []", "    limits: {value: {at_least: 1 mm}}\n    exceptions: []"}, "value: {at", "which question is-true does not read"},
		"a force for a height":       {profileBook, []string{"13 mm", "5 lbf"}, "5 lbf", "a length, such as"},
		"a height for a slope":       {profileBook, []string{`{ratio: "1:2"}`, "{at_most: 1 mm}"}, "at_most: 1 mm", "allowed: ratio with a slope"},
		"a slope out of reach":       {profileBook, []string{`"1:2"`, `"1:99999999999999999999"`}, `{ratio: "1:99`, "is not a slope"},
		"a bound for a truth":        {profileBook, []string{`slope: {ratio: "1:2"}`, `slope: {ratio: "1:2"}, bevel_each_side: {at_most: 1 mm}`}, "at_most: 1 mm", "allowed: true"},
		"a bound for a part":         {shareBook, []string{"{part: 2/5}", "{at_least: 2 mm}"}, "at_least: 2", "allowed: part with a part of the whole"},
		"from without to":            {timeBook, []string{", to: 12 deg", ""}, "angles", "only one of from and to"},
		"the wrong way about":        {timeBook, []string{"90 deg, to: 12 deg", "12 deg, to: 90 deg"}, "{from: 12", "the greater one first"},
		"the other way about":        {forceBook, []string{"0 deg, to: 90 deg", "90 deg, to: 0 deg"}, "{from: 90", "the greater one last"},
		"from where it begins":       {forceBook, []string{"0 deg, to: 90 deg", "90 deg, to: 90 deg"}, "{from: 90", "the greater one last"},
		"a rounding just too far":    {trialBook, of("{at_least: 800 mm, printed: 840.000001 mm}"), "840.0", "within 5 per cent"},
		"times for angles":           {timeBook, []string{"90 deg, to: 12 deg", "9 s, to: 1 s"}, "9 s", "a time; allowed: an angle"},
		"an angle for a time":        {timeBook, []string{"5 s", "5 deg"}, "5 deg", "an angle; allowed: a time, such as 5 s"},
		"a row's, not known":         {tableBook, []string{"{floor_depth: {at_l", "{floor_dept: {at_l"}, "{at_least: 60", `fact "floor_dept"`},
		"a row's, not read":          {tableBook, []string{"{floor_depth: {at_l", "{floor_step: {at_l"}, "floor_step", "does not read in a row"},
		"a row's, of another kind":   {tableBook, []string{"60 in", "48 lbf"}, "48 lbf", `"48 lbf", a force; allowed: a length`},
		"a row's, of other sense":    {tableBook, []string{"at_least: 60", "at_most: 60"}, "at_most", "allowed: at_least with a length"},
		"an alternative of none":     {tableBook, []string{"{floor_depth: {at_least: 60 in}}", "{floor_depth: {at_least: 60 in}}, {}"}, "{}", "at least 1 key"},
		"a row that always holds":    {tableBook, []string{"[{fact: use, in: [pull]}]", "[]"}, "[], any", "at least 1 item"},
		"a row's condition":          {tableBook, []string{"[pull]", "[pul]"}, "pul]", "did you mean `pull`"},
		"rows that are missing":      {tableBook, []string{"    rows: [{when: [{fact: use, in: [pull]}], any: [{floor_depth: {at_least: 60 in}}]}]\n", ""}, "width:", "found no rows"},
		"rows that nobody reads":     {trialBook, []string{"    limits:", "    rows: [{when: [{fact: work, in: [new]}], any: [{clear_width: {at_least: 1 m}}]}]\n    limits:"}, "rows: [", "which question at-least does not read"},
	} {
		t.Run(name, r.hold)
	}
}

// A rule reads facts that its subject has and its question can read, and no others.
func TestFactIsRefused(t *testing.T) {
	for name, r := range map[string]refusal{
		"of another subject":                {trialBook, []string{"clear_width", "floor_depth"}, "floor_depth", `fact "floor_depth", which no door has`},
		"of the door, of a leaf":            {trialBook, []string{"subject: door", "subject: leaf"}, "clear_width", "which no leaf has"},
		"in a condition":                    {trialBook, []string{"applies: []", "applies: [{fact: bottom_brush, in: [true], why: no brush}]"}, "bottom_brush", "which no door has"},
		"in a condition of a row":           {tableBook, []string{"{fact: use, in: [pull]}", "{fact: fire_rated, in: [true]}"}, "fire_rated", "which no side has"},
		"in a condition of an exception":    {openBook, []string{"{fact: work, in: [existing]}", "{fact: duty_use, in: [heavy]}"}, "duty_use", "which no door has"},
		"of a row":                          {tableBook, []string{"subject: side", "subject: door"}, "{at_least: 60", `fact "floor_depth", which no door has`},
		"of a kind that cannot be read":     {trialBook, []string{"clear_width", "closer"}, "closer", `fact "closer", which is a truth; allowed: a fact that is a length, a force, an angle or an area`},
		"a structure of another form":       {timeBook, []string{"closing_times", "projections"}, "fact: ^projections", `allowed: the fact "closing_times"`},
		"that is missing":                   {trialBook, []string{"    fact: clear_width\n", ""}, "width:", "found no fact"},
		"a target that is missing":          {trialBook, []string{"at-least", "at-most-fact"}, "width:", "found no target"},
		"that is not read":                  {tableBook, []string{"    subject", "    fact: floor_depth\n    subject"}, "fact: floor_depth", "which question clear-space does not read"},
		"a target that is not read":         {trialBook, []string{"    subject", "    target: opening_depth\n    subject"}, "target", "which question at-least does not read"},
		"a target of a kind not to be read": {trialBook, []string{"at-least", "at-most-fact", "    subject", "    target: closer\n    subject"}, "closer", `target "closer", which is a truth; allowed: a fact that is a length`},
	} {
		t.Run(name, r.hold)
	}
}

// Whatever can fail has its words, and whatever is written is about something.
func TestWordsAreRefused(t *testing.T) {
	for name, r := range map[string]refusal{
		"no message":                        {profileBook, []string{", upright: Upright", ""}, "messages:", `no message for "upright"`},
		"no remedy":                         {profileBook, []string{", upright: bevel it", ""}, "remedies:", `no remedy for "upright"`},
		"no remedies":                       {trialBook, []string{"    remedies: {value: widen it}\n", ""}, "width:", `no remedy for "value"`},
		"no clause":                         {profileBook, []string{`, slope: "3"`, ""}, "clauses:", `no clause for "slope"`},
		"no clauses":                        {trialBook, []string{"provenance: practice", "provenance: secondary"}, "width:", `no clause for "value"`},
		"no clause of a should rule":        {trialBook, []string{"provenance: practice", "provenance: read", "level: must", "level: should"}, "width:", `no clause for "value"`},
		"no clause of an exception":         {openBook, []string{`, old: "2"`, ""}, "clauses:", `no clause for "old"`},
		"no message of an open exception":   {openBook, []string{", old: Narrow and old", ""}, "messages:", `no message for "old"`},
		"no remedy of an open exception":    {openBook, []string{", old: ask", ""}, "remedies:", `no remedy for "old"`},
		"a message of an exception, closed": {openBook, []string{", open: true", ""}, "old: Narrow", "nothing that can fail or be left open"},
		"a message of no part":              {profileBook, []string{"slope: Steep", "slope: Steep, slop: Steep"}, "slop: Steep", "did you mean `slope`"},
		"a remedy of no part":               {profileBook, []string{"slope: ease it", "slope: ease it, each-side: x"}, "each-side", `remedy for "each-side"`},
		"a clause of no part":               {profileBook, []string{`slope: "3"`, `slope: "3", slop: "3"`}, "slop: \"3\"", `clause for "slop"`},
		"a decision of no part":             {trialBook, []string{"rules:", "decisions: {mine: So.}\nrules:", "    messages:", "    decisions: {valeu: mine}\n    messages:"}, "valeu", "did you mean `value`"},
		"a part that no row limits":         {tableBook, []string{"floor_depth: Too little", "floor_depth: Too little, beside_latch: x"}, "beside_latch", `message for "beside_latch"`},
		"a row's limit without words":       {tableBook, []string{"{at_least: 60 in}", "{at_least: 60 in}, beside_hinge: {at_least: 1 m}"}, "messages:", `no message for "beside_hinge"`},
		"a part that comes with a limit":    {profileBook, []string{`slope: {ratio: "1:2"}`, `slope: {ratio: "1:2"}, bevel_each_side: true`}, "clauses:", `no clause for "each-side"`},
		"a name that is not given":          {profileBook, []string{"{excess}", "{excss}"}, `"lower it`, "{excss} in the remedy for \"height\"; allowed: {name} with one of side, measured, limit, excess (did you mean `excess`?)"},
		"a name of another part":            {profileBook, []string{"slope: Steep", "slope: 'Steep: {excess}'"}, "'Steep", `{excess} in the message for "slope"`},
		"a name that is not closed":         {profileBook, []string{"slope: Steep", "slope: 'Steep: {rise'"}, "'Steep", "{rise in"},
		"a name that is not opened":         {profileBook, []string{"slope: Steep", "slope: 'Steep: rise}'"}, "'Steep", "} in"},
		"a name with a blank":               {profileBook, []string{"slope: Steep", "slope: 'Steep: { rise}'"}, "'Steep", "{ rise} in"},
		"a name of a truth":                 {truthBook, []string{"widen it", "'{lack}'"}, "'{lack}'", "allowed: no {name}"},
		"a name of an open exception":       {openBook, []string{"old: ask", "old: 'ask {lack}'"}, "'ask", `{lack} in the remedy for "old"`},
	} {
		t.Run(name, r.hold)
	}
}

// A binding rule says what can move, or why nothing does; a caution says neither.
func TestMovesAreRefused(t *testing.T) {
	const moves = "    moves: [widen-opening]\n"
	of := func(list string) []string { return []string{"[widen-opening]", list} }
	caution := []string{"level: must", "level: caution\n    ask: {whom: somebody, what: something}"}
	for name, r := range map[string]refusal{
		"neither moves nor immovable": {trialBook, []string{moves, ""}, "width:", "no key `moves`; allowed: moves such as [set-seal, change-seal], or immovable with the reason"},
		"neither in a should rule":    {trialBook, []string{moves, "", "level: must", "level: should"}, "width:", "no key `moves`"},
		"a move that is not known":    {trialBook, of("[widen-openign]"), "widen-openign", "allowed: a move such as set-seal or lower-threshold; did you mean `widen-opening`?"},
		"a move twice":                {trialBook, of("[widen-opening, widen-opening]"), "[widen-opening, ^widen-opening]", "each item once"},
		"no move in the list":         {trialBook, of("[]"), "moves: ^[]", "at least 1 item (moves such as"},
		"a move without a list":       {trialBook, of("widen-opening"), "moves: ^widen", "moves such as [set-seal, change-seal]"},
		"an empty reason":             {trialBook, []string{moves, "    immovable: ''\n"}, "''", "at least 1 character"},
		"moves in a caution":          {trialBook, caution, "[widen", "no moves in a caution"},
		"an immovable caution":        {trialBook, append([]string{moves, "    immovable: So.\n"}, caution...), "So.", "no immovable in a caution"},
	} {
		t.Run(name, r.hold)
	}
}
