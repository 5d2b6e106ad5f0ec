package door

import (
	"fmt"
	"slices"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// Decode reads a door from a document and gives every problem of its values, in the
// order of the file. The JSON Schema speaks of shape; this speaks of units, ranges and
// of values that contradict each other. A door with problems is not judged.
func Decode(doc schema.Document) (*Door, []schema.Problem) {
	r := &reader{doc: doc, atlas: atlases.Get().(*atlas)}
	defer atlases.Put(r.atlas)
	root := cursor{node: doc.Root, at: r.atlas.root, d: r}
	d := &Door{Document: doc, Mark: root.child("mark").text(), Title: root.child("title").text(), Stage: root.child("stage").word()}
	for _, c := range root.child("rulebooks").items() {
		ref := RulebookRef{ID: c.text(), Pointer: c.at.pointer}
		if c.node.Kind == schema.Object {
			ref.ID, ref.Variant = c.child("id").text(), c.child("variant").text()
		}
		if slices.ContainsFunc(d.Rulebooks, func(o RulebookRef) bool { return o.ID == ref.ID }) {
			c.problem(fmt.Sprintf("%q a second time", ref.ID), "each rulebook once, in one variant", "take one of them out")
		}
		d.Rulebooks = append(d.Rulebooks, ref)
	}
	d.Site = readSite(root.child("site"))
	d.Air = Air{root.child("air").child("temperature").si(quantity.KindTemperature, anySign), root.child("air").child("altitude").height(anySign)}
	d.Leaf = readConstruction(root.child("door"))
	d.Approach = [2]Approach{readApproach("outside", root.child("approach")), readApproach("inside", root.child("approach"))}
	d.Leaves = readLeaves(root.child("leaves"))
	d.Threshold = readThreshold(root.child("threshold"))
	floor := root.child("floor")
	d.Floor = Floor{floor.child("under_seal").word(), floor.child("swept").word(), floor.child("carpet").has(), floor.child("carpet").child("pile").length(notNegative), floor.child("carpet").child("attached").truth(), readSegments(floor.child("carpet").child("edge")), floor.child("carpet").child("edge").has()}
	d.Paths = readPaths(root.child("paths"))
	duty := root.child("duty")
	d.Duty = Duty{duty.child("use").word(), duty.child("cycles_per_day").si(quantity.KindNumber, notNegative), duty.child("life").si(quantity.KindDuration, positive)}
	d.Options = readOptions(root.child("options"), d.Leaves)
	for _, c := range root.child("evidence").items() {
		d.Evidence = append(d.Evidence, Evidence{c.child("seal").text(), c.child("leaf").text(), c.child("reference").text(), c.at.pointer})
	}
	targets := root.child("targets")
	d.Targets = Targets{
		Leakage: targets.child("leakage").has(), House: targets.child("house").has(),
		LeakageFlow: targets.child("leakage").child("flow").si(quantity.KindFlow, notNegative), LeakagePressure: targets.child("leakage").child("at").si(quantity.KindPressure, positive),
		AirClass: targets.child("air_class").count(),
		Envelope: targets.child("house").child("envelope").si(quantity.KindArea, positive), Permeability50: targets.child("house").child("permeability_50").perHour(),
		Share:       targets.child("house").child("share").share(),
		HouseVolume: targets.child("house").child("volume").si(quantity.KindVolume, positive), AirChange50: targets.child("house").child("air_change_50").si(quantity.KindAirChange, notNegative),
	}
	for _, c := range root.child("fixed").items() {
		d.Fixed = append(d.Fixed, c.text())
		if _, ok := doc.Root.Lookup(c.text()); !ok {
			c.problem(fmt.Sprintf("%q, which points at nothing", c.text()), "a JSON Pointer into this spec, such as /threshold", "check it against the spec's keys")
		}
	}
	r.contradictions(d, root)
	slices.SortStableFunc(r.problems, schema.ComparePlaces)
	return d, r.problems
}

func readSite(c cursor) Site {
	finish := c.child("floor_finish")
	s := Site{
		Serves: c.child("serves").word(), Work: c.child("work").word(), Exposure: c.child("exposure").word(),
		Finish: finish.word(), OpenFlue: c.child("open_flue").truth(),
		EntranceFloor: c.child("entrance_floor").truth(), ManyPeople: c.child("many_people").truth(),
		AccessibleRoute: c.child("accessible_route").truth(), Applied: c.child("applied").date(), Unit: c.child("unit").word(), Pressure: readPressure(c.child("pressure")), DegreeDays: c.child("degree_days").si(quantity.KindDegreeDays, notNegative),
	}
	s.Building = readBuilding(c)
	if finish.has() && finish.node.Kind == schema.Object {
		s.Finish.Known, s.Finish.Value = true, "to come"
		s.FinishThickness = finish.child("to_come").length(notNegative)
		if s.FinishThickness.Known && s.FinishThickness.Value == 0 {
			s.Finish.Value = "fitted"
		}
	}
	answers := c.child("answers")
	if answers.node == nil || answers.node.Kind != schema.Object {
		return s
	}
	for _, m := range answers.node.Members {
		a := answers.other(m.Key)
		s.Answers = append(s.Answers, Answer{Rule: m.Key, Value: a.child("value").truth().Value, Evidence: a.child("evidence").text(), Pointer: a.at.pointer})
	}
	return s
}

func readConstruction(c cursor) Construction {
	width := c.child("clear_width")
	out := Construction{
		Operation: c.child("operation").word(), Location: c.child("location").word(), Opens: c.child("opens").word(), Powered: c.child("powered").word(),
		LeadsTo: c.child("leads_to").word(), Exit: c.child("exit").truth(),
		Role: c.child("role").word(), Glazed: c.child("glazed").truth(), TransferArea: c.child("transfer_area").area(),
		FireRated: c.child("fire_rated").truth(), SmokeControl: c.child("smoke_control").truth(), Escape: c.child("escape_route").truth(),
		Passage: c.child("passage").truth(),
		Height:  c.child("height").length(positive), Thickness: c.child("thickness").length(positive), OpeningDepth: c.child("opening_depth").length(notNegative),
		FaceToStop: width.child("face_to_stop").length(notNegative), LeastWidth: width.child("least").length(notNegative),
		OpeningForce: readForces(c.child("opening_force")),
	}
	if out.FaceToStop.Known && out.LeastWidth.Known && out.LeastWidth.Value > out.FaceToStop.Value {
		width.child("least").problem(out.LeastWidth.Value.MM()+" mm, more than face_to_stop", "at most face_to_stop, "+out.FaceToStop.Value.MM()+" mm", "check which is which: least is past whatever projects most")
	}
	if out.FrameWidth = width.child("frame").length(notNegative); out.FrameWidth.Known && out.FaceToStop.Known && out.FrameWidth.Value < out.FaceToStop.Value {
		width.child("frame").problem(out.FrameWidth.Value.MM()+" mm, less than face_to_stop", "at least face_to_stop, "+out.FaceToStop.Value.MM()+" mm", "check which is which: frame leaves the leaf out")
	}
	out.Conditioned, out.Habitable, out.JambDepth = c.child("conditioned").truth(), c.child("habitable").truth(), c.child("jamb_depth").length(notNegative)
	readUse(c, &out)
	readCloser(c, &out)
	out.UnlatchingForce, out.StartingForce = c.child("unlatching_force").force(), c.child("starting_force").force()
	return out
}

func readThreshold(c cursor) Threshold {
	t := Threshold{Firm: c.child("firm").truth(), LeafAt: c.child("leaf_at").length(anySign), As: c.child("as").word(), Pointer: c.at.pointer, OpeningsGiven: c.child("openings").has()}
	t.WeatherSill, t.LevelEntry = c.child("weather_sill").truth(), readLevelEntry(c.child("level_entry"))
	segments, plate := c.child("segments"), c.child("plate")
	switch {
	case segments.has() && plate.has():
		plate.problem("both segments and plate", "one of them", "keep segments: they say more")
	case segments.has():
		t.Given = true
		t.Segments = readSegments(segments)
	case plate.has():
		t.Given, t.Segments = true, plateSegments(plate)
	}
	for _, s := range c.child("openings").items() {
		t.Openings = append(t.Openings, Slot{s.child("width").length(notNegative), s.child("runs").word(), s.at.pointer})
	}
	return t
}

// plateSegments writes a plain plate as its profile: outer bevel, top, inner bevel.
func plateSegments(plate cursor) []Segment {
	height, width := plate.child("height").length(notNegative), plate.child("width").length(positive)
	bevels := plate.child("bevels").items()
	if len(bevels) != 2 {
		return nil
	}
	outer, inner := bevels[0].length(notNegative), bevels[1].length(notNegative)
	top := Maybe[quantity.Length]{Pointer: width.Pointer, Known: width.Known && outer.Known && inner.Known, Value: width.Value - outer.Value - inner.Value}
	if top.Known && top.Value < 0 {
		plate.child("width").problem(width.Value.MM()+" mm", "at least both bevels together, "+(outer.Value+inner.Value).MM()+" mm", "give the overall width, bevels included")
		return nil
	}
	down := height
	down.Value = -down.Value
	level := Maybe[quantity.Length]{Known: true, Pointer: height.Pointer}
	return []Segment{{Run: outer, Rise: height, Pointer: bevels[0].at.pointer}, {Run: top, Rise: level, Pointer: plate.at.pointer}, {Run: inner, Rise: down, Pointer: bevels[1].at.pointer}}
}

func readOptions(list cursor, leaves []Leaf) []Option {
	items := list.items()
	out := slices.Grow([]Option(nil), len(items))
	for _, c := range items {
		o := Option{ID: c.child("id").text(), Title: c.child("title").text(), OpeningForce: readForces(c.child("opening_force")), Pointer: c.at.pointer}
		if slices.ContainsFunc(out, func(p Option) bool { return p.ID == o.ID }) {
			c.child("id").problem(fmt.Sprintf("%q a second time", o.ID), "an id of its own for each option", "rename one of them")
		}
		short, long := c.child("seal"), c.child("fits")
		switch {
		case short.has() && long.has():
			long.problem("both seal and fits", "one of them", "write the bottom seal as a fit: {edge: bottom, seal: ...}")
		case short.has():
			f := readFit(c)
			f.Edge, f.Order = "bottom", 1
			o.Fits = []Fit{f}
		case long.has():
			for _, fc := range long.items() {
				o.Fits = append(o.Fits, checkFit(fc, o.Fits, leaves))
			}
		default:
			c.problem("an option without a seal", "seal: NAME, or fits: [...]", "name the seal; none is the bare gap")
		}
		out = append(out, o)
	}
	return out
}

func readFit(c cursor) Fit {
	set := c.child("set")
	f := Fit{
		Edge: c.child("edge").text(), Leaf: c.child("leaf").text(), Order: 1, Seal: c.child("seal").word(),
		Overlap: set.child("overlap").length(anySign), Auto: set.text() == "auto" || set.child("auto").truth().Value, Now: set.child("now").length(anySign),
		Mount: readMount(c.child("mount")), Pointer: c.at.pointer,
	}
	object := set.node != nil && set.node.Kind == schema.Object
	switch overlap := set.child("overlap").node != nil; {
	case object && overlap && f.Auto:
		set.problem("both overlap and auto", "one of them", "take auto out, or the overlap")
	case object && !overlap && !f.Auto:
		set.problem("a setting without an overlap", "{overlap: 0.5 mm}, or {auto: true}", "say how far the seal is pressed at the widest reading")
	}
	if n := c.child("order").count(); n.Known {
		f.Order = n.Value
	}
	return f
}

func checkFit(c cursor, before []Fit, leaves []Leaf) Fit {
	f := readFit(c)
	if f.Leaf != "" && !slices.ContainsFunc(leaves, func(l Leaf) bool { return l.ID == f.Leaf }) {
		var ids []string
		for _, l := range leaves {
			ids = append(ids, l.ID)
		}
		c.child("leaf").problem(fmt.Sprintf("%q", f.Leaf), schema.Choices(f.Leaf, ids), "name a leaf of this door")
	}
	if slices.ContainsFunc(before, func(o Fit) bool {
		return o.Edge == f.Edge && o.Order == f.Order && (o.Leaf == f.Leaf || o.Leaf == "" || f.Leaf == "")
	}) {
		c.problem(fmt.Sprintf("order %d on edge %s a second time", f.Order, f.Edge), "each place on an edge once", "number the seals of an edge 1, 2, ... from outside")
	}
	return f
}
