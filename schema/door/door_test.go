package door

import (
	"slices"
	"strings"
	"testing"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// whole uses every key of format 1.
const whole = `format: sillwright/door/1
mark: D-01
title: Hall entrance, east side
rulebooks: [us-ada-2010, {id: other, variant: M4(2)}]
stage: design
site:
  serves: public
  work: new
  exposure: sheltered
  floor_finish: {to_come: 12 mm}
  open_flue: false
  answers: {us-ada-2010/threshold-profile: {value: true, evidence: a letter}}
air: {temperature: 10 C, altitude: 300 m}
door:
  operation: hinged
  location: external
  opens: in
  powered: none
  fire_rated: false
  smoke_control: false
  escape_route: true
  height: 2040 mm
  thickness: 40 mm
  clear_width: {face_to_stop: 850 mm, least: 830 mm}
  opening_depth: 250 mm
  opening_force: [{from: 30 deg, to: 60 deg, force: 14 N}, {from: 0 deg, to: 30 deg, force: 18 N}]
leaves:
  - id: A
    width: 926 mm
    out_of_square: -2 mm
    gap:
      readings: [{at: 0 mm, gap: 28 mm}, {at: 463 mm, gap: 29 mm}, {at: 926 mm, gap: 31 mm}]
      swing: [{angle: 45 deg, gap: 27 mm}, {angle: 90 deg, readings: [{at: 0 mm, gap: 27 mm}, {at: 926 mm, gap: 26 mm}]}]
      bends: 2
      reading_error: 0.5 mm
threshold:
  segments:
    - {run: 0 mm, rise: 6 mm, nose: rounded}
    - {run: 14 mm, rise: 6 mm}
    - {run: 60 mm, rise: 0 mm}
    - {run: 18 mm, rise: -12 mm}
  leaf_at: 40 mm
  openings: [{width: 8 mm, runs: across}]
floor: {under_seal: tile, swept: carpet, carpet: {pile: 6 mm, attached: true}}
paths:
  - {path: head, length: 926 mm, gap: 5 mm, seal: gasket-bulb-8}
  - {path: letter-plate, area: 12 cm2}
  - {path: plate-bed, length: 926 mm, gap: 1 mm, gap_error: 0.25 mm, bends: 1}
  - {path: joint, length: 926 mm, gap: 1 mm, bends: unknown}
duty: {use: medium, life: 10 years, cycles_per_day: 40}
options:
  - {id: fine-brush, seal: brush-fine-30, set: {overlap: 0.5 mm}}
  - {id: automatic, seal: brush-fine-30, set: auto}
  - {id: drop-and-blade, fits: [{edge: bottom, leaf: A, order: 1, seal: drop-seal-12}, {edge: bottom, leaf: A, order: 2, seal: blade-single-12}]}
evidence: [{seal: brush-fine-30, leaf: A, reference: report 7}]
targets:
  leakage: {flow: 4 L/s, at: 50 Pa}
  house: {volume: 310 m3, air_change_50: 0.6 1/h}
fixed: [/threshold]
`

func decode(t *testing.T, text string) (*Door, []schema.Problem) {
	t.Helper()
	docs, problems := schema.Read("door.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s, err := schema.Named("door")
	if err != nil {
		t.Fatal(err)
	}
	d, own := Decode(docs[0])
	return d, append(schema.Validate(docs[0], s), own...)
}

func TestDecodeTheWholeFormat(t *testing.T) {
	d, problems := decode(t, whole)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if d.Leaf.OpeningForce.Bands[0].From != 0 || d.Leaf.OpeningForce.Bands[1].Force.Value != 14*quantity.Newton {
		t.Errorf("force bands are not sorted: %+v", d.Leaf.OpeningForce)
	}
	if d.Site.Finish.Value != "to come" || d.Site.FinishThickness.Value != 12*quantity.Millimetre || !d.Site.Answers[0].Value {
		t.Errorf("site: %+v", d.Site)
	}
	if l := d.Leaves[0]; l.OutOfSquare.Value != -2*quantity.Millimetre || l.Bends.Value != 2 || l.Swing[0].Readings != nil ||
		l.Swing[1].Gap != 26*quantity.Millimetre || l.Swing[1].Readings[1].Pointer != "/leaves/0/gap/swing/1/readings/1" {
		t.Errorf("leaf: %+v", l)
	}
	if p := d.Paths[2]; p.GapError.Value != quantity.Millimetre/4 || !p.Bends.Known || p.Bends.Value != 1 || d.Paths[3].Bends.Known {
		t.Errorf("paths: %+v", d.Paths)
	}
	if len(d.Threshold.Segments) != 4 || d.Threshold.Segments[3].Rise.Value != -12*quantity.Millimetre || d.Threshold.Segments[3].Pointer != "/threshold/segments/3" {
		t.Errorf("threshold: %+v", d.Threshold.Segments)
	}
	if f := d.Options[0].Fits[0]; f.Edge != "bottom" || f.Overlap.Value != quantity.Millimetre/2 || f.Overlap.Pointer != "/options/0/set/overlap" {
		t.Errorf("short option: %+v", f)
	}
	if !d.Options[1].Fits[0].Auto || d.Options[2].Fits[1].Order != 2 {
		t.Errorf("options: %+v", d.Options)
	}
	if d.Targets.LeakageFlow.Value != 0.004 || d.Paths[1].Area.Value != 0.0012 || d.Rulebooks[1].Variant != "M4(2)" {
		t.Errorf("targets %+v, paths %+v", d.Targets, d.Paths)
	}
}

// Absence and the word unknown are the same; zero is zero.
func TestUnknownIsNotZero(t *testing.T) {
	d, problems := decode(t, "format: sillwright/door/1\nmark: D-01\nrulebooks: [x]\ndoor: {fire_rated: unknown, thickness: unknown}\nthreshold: {segments: [], openings: []}\n")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if d.Leaf.FireRated.Known || d.Leaf.SmokeControl.Known || d.Leaf.Thickness.Known {
		t.Errorf("%+v", d.Leaf)
	}
	if !d.Threshold.Given || !d.Threshold.OpeningsGiven || len(d.Threshold.Segments) != 0 {
		t.Errorf("an empty list says that there is none: %+v", d.Threshold)
	}
}

// A plate of 12 mm, 96 mm wide with bevels of 24 mm: up 12 over 24, 48 level, down 12 over 24.
func TestPlateIsItsProfile(t *testing.T) {
	d, problems := decode(t, "format: sillwright/door/1\nmark: D-01\nrulebooks: [x]\nthreshold: {plate: {height: 12 mm, width: 96 mm, bevels: [24 mm, 24 mm]}}\n")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var got []string
	for _, s := range d.Threshold.Segments {
		got = append(got, s.Run.Value.MM()+"/"+s.Rise.Value.MM())
	}
	if want := []string{"24/12", "48/0", "24/-12"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestContradictionsAreProblems(t *testing.T) {
	const head = "format: sillwright/door/1\nmark: D-01\nrulebooks: [x]\n"
	const hinged = "{mark: D-01, format: sillwright/door/1, rulebooks: [x], door: {operation: hinged, clear_width: {face_to_stop: 850 mm}}"
	for text, want := range map[string]string{
		hinged + ", leaves: [{id: A, width: 800 mm}]}":                                                                                           "wider than the door itself",
		hinged + ", leaves: [{id: A}, {id: B}]}":                                                                                                 "one leaf for a hinged door",
		"{mark: D-01, format: sillwright/door/1, rulebooks: [x], door: {operation: pair}, leaves: [{id: A}]}":                                    "two leaves for a pair",
		"{mark: D-01, format: sillwright/door/1, rulebooks: [x], threshold: {segments: [{run: 9 mm, rise: 1 mm}], leaf_at: 10 mm}}":              "beside the threshold",
		"{mark: D-01, format: sillwright/door/1, rulebooks: [x], leaves: [{id: A}], paths: [{path: head, leaf: B}]}":                             "id of a leaf",
		"{mark: D-01, format: sillwright/door/1, rulebooks: [x], leaves: [{id: A}], evidence: [{seal: none, reference: r, leaf: B}]}":            "id of a leaf",
		"{mark: D-01, format: sillwright/door/1, rulebooks: [x], fixed: [/nosuch]}":                                                              "points at nothing",
		"{mark: D-01, format: sillwright/door/1, rulebooks: [x], threshold: {plate: {height: 1 mm, width: 9 mm, bevels: [9000000000 m, 9 mm]}}}": "far beyond",
		"{mark: D-01, format: sillwright/door/1, rulebooks: [x], leaves: [{id: A, width: 900 m}]}":                                               "at most 100000 mm",
	} {
		_, problems := decode(t, text)
		if !slices.ContainsFunc(problems, func(p schema.Problem) bool { return strings.Contains(p.Error(), want) }) {
			t.Errorf("%s: want a problem that says %q, got %v", text, want, problems)
		}
	}
	for text, want := range map[string]string{
		"door: {clear_width: {face_to_stop: 800 mm, least: 830 mm}}":                                             "more than face_to_stop",
		"door: {clear_width: {face_to_stop: 800 mm, frame: 799 mm}}":                                             "less than face_to_stop",
		"door: {opening_force: [{from: 30 deg, to: 0 deg, force: 5 N}]}":                                         "smaller angle first",
		"door: {opening_force: [{from: 0 deg, to: 40 deg, force: 5 N}, {from: 30 deg, to: 60 deg, force: 5 N}]}": "another band covers",
		"leaves: [{id: A}, {id: A}]":                                                                             "a second time",
		"leaves: [{id: A, width: 0 mm}]":                                                                         "more than zero",
		"threshold: {segments: [], plate: {height: 1 mm, width: 9 mm, bevels: [0 mm, 0 mm]}}":                    "both segments and plate",
		"threshold: {plate: {height: 12 mm, width: 40 mm, bevels: [24 mm, 24 mm]}}":                              "both bevels together",
		"options: [{id: x}]": "without a seal",
		"options: [{id: x, seal: none}, {id: x, seal: none}]":                                                                      "a second time",
		"options: [{id: x, seal: none, fits: [{edge: bottom, seal: none}]}]":                                                       "both seal and fits",
		"options: [{id: x, fits: [{edge: bottom, leaf: Z, seal: none}]}]":                                                          "name a leaf",
		"options: [{id: x, fits: [{edge: bottom, seal: none}, {edge: bottom, seal: none}]}]":                                       "a second time",
		"leaves: [{id: A, gap: {swing: [{angle: 9 deg}]}}]":                                                                        "an angle without a gap",
		"leaves: [{id: A, gap: {swing: [{angle: 9 deg, gap: 1 mm, readings: [{at: 0 mm, gap: 1 mm}]}]}}]":                          "both gap and readings",
		"leaves: [{id: A, gap: {swing: [{angle: 9 deg, gap: -1 mm}]}}]":                                                            "below zero",
		"leaves: [{id: A, gap: {swing: [{angle: 9 deg, readings: [{at: 0 mm, gap: -1 mm}]}]}}]":                                    "below zero",
		"leaves: [{id: A, width: 9 mm, gap: {swing: [{angle: 9 deg, readings: [{at: 9.000001 mm, gap: 1 mm}]}]}}]":                 "beyond the leaf",
		"leaves: [{id: A, width: 9 mm, gap: {swing: [{angle: 9 deg, readings: [{at: 2 mm, gap: 1 mm}, {at: 2 mm, gap: 1 mm}]}]}}]": "sort them by their place",
		"leaves: [{id: A, gap: {swing: [{angle: 9 deg, readings: []}]}}]":                                                          "readings",
		"leaves: [{id: A, out_of_square: 900 m}]":                                                                                  "at most 100000 mm",
		"leaves: [{id: A, out_of_square: 3 deg}]":                                                                                  "length",
		"leaves: [{id: A, gap: {bends: 3}}]":                                                                                       "0, 1, 2, unknown",
		"leaves: [{id: A, gap: {bends: 1.5}}]":                                                                                     "0, 1, 2, unknown",
		"paths: [{path: head, bends: -1}]":                                                                                         "0, 1, 2, unknown",
		"paths: [{path: head, gap: 1 mm, gap_error: -1 mm}]":                                                                       "below zero",
		"paths: [{path: plate, gap: 1 mm}]":                                                                                        "plate-bed",
		"site: {floor_finish: {to_come: -1 mm}}":                                                                                   "below zero",
		"paths: [{path: head, area: 3 cm2, length: 900 mm}]":                                                                       "both area and length",
	} {
		_, problems := decode(t, head+text+"\n")
		found := false
		for _, p := range problems {
			found = found || (strings.Contains(p.Error(), want) && p.Span.Start.Line == 4)
		}
		if !found {
			t.Errorf("%s: want a problem on line 4 that says %q, got %v", text, want, problems)
		}
	}
}

// A gap at an angle that nobody has read is none; one that is not read at some places is read at the others.
func TestSwingThatIsNotRead(t *testing.T) {
	d, problems := decode(t, "format: sillwright/door/1\nmark: D-01\nrulebooks: [x]\nleaves: [{id: A, gap: {swing: [{angle: 9 deg, gap: unknown}, {angle: unknown, gap: 1 mm}, {angle: 30 deg, readings: [{at: 0 mm, gap: unknown}]}, {angle: 45 deg, gap: unknown, readings: [{at: 0 mm, gap: unknown}, {at: 5 mm, gap: 3 mm}]}]}}]\n")
	if len(problems) > 0 || len(d.Leaves[0].Swing) != 1 || d.Leaves[0].Swing[0].Gap != 3*quantity.Millimetre {
		t.Errorf("%v: %+v", problems, d.Leaves[0].Swing)
	}
}

func TestUnlistedEdges(t *testing.T) {
	for door, want := range map[string]string{
		"door: {operation: hinged}": "head hinge latch", "door: {operation: pair}": "head hinge meeting",
		"door: {operation: sliding}": "head side track", "door: {operation: sliding}\nleaves: [{id: A}, {id: B}]": "head side track meeting",
		"door: {operation: folding}\nleaves: [{id: A}, {id: B}]\npaths: [{path: side, area: 0 cm2}]": "head track meeting",
		"door: {operation: roller}": "head side", "door: {operation: sectional}": "head side joint", "door: {operation: unknown}": "",
	} {
		d, problems := decode(t, "format: sillwright/door/1\nmark: D-01\nrulebooks: [x]\n"+door+"\n")
		if got := strings.Join(d.Unlisted(), " "); got != want || len(problems) > 0 {
			t.Errorf("%s: %q, want %q; %v", door, got, want, problems)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	docs, problems := schema.Read("door.yaml", []byte(whole))
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	for b.Loop() {
		Decode(docs[0])
	}
}

// What a spec says twice over, or beyond belief, is refused at its place; seals may be numbered in any way that is a whole number.
func TestPathsAndFitsAreRefused(t *testing.T) {
	for spec, want := range map[string]string{
		"paths: [{path: head, area: 1 mm2, gap: 5 mm}]":                                                            "both area and gap",
		"paths: [{path: head, area: 1 mm2, seal: gasket-bulb-8}]":                                                  "both area and seal",
		"paths: [{path: head, area: 1 mm2, bends: 2}]":                                                             "both area and bends",
		"paths: [{path: head, area: 0 mm2, seal: none}]":                                                           "",
		"leaves: [{id: A, gap: {reading_error: 100.000001 mm}}]":                                                   "0 mm to 100 mm",
		"leaves: [{id: A, gap: {reading_error: 100 mm}}]":                                                          "",
		"options: [{id: x, fits: [{edge: bottom, order: 1, seal: none}, {edge: bottom, order: 1.0, seal: none}]}]": "order 1 on edge bottom a second time",
		"options: [{id: x, fits: [{edge: bottom, order: 2.0, seal: none}, {edge: bottom, order: 1, seal: none}]}]": "",
	} {
		docs, problems := schema.Read("d.yaml", []byte("format: sillwright/door/1\nmark: D\nrulebooks: [seal-practice]\n"+spec))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		_, problems = Decode(docs[0])
		if want == "" && len(problems) > 0 || want != "" && (len(problems) == 0 || !strings.Contains(problems[0].Error(), want) || !strings.Contains(problems[0].Error(), "d.yaml:4:")) {
			t.Errorf("%s: %v, want %q", spec, problems, want)
		}
	}
}

// Each leaf of a pair has a head and a hinge side of its own, unless the path is one of the whole door.
func TestUnlistedOfALeaf(t *testing.T) {
	const pair = "format: sillwright/door/1\nmark: D\nrulebooks: [seal-practice]\ndoor: {operation: pair}\nleaves: [{id: A}, {id: B}]\npaths: ["
	for paths, want := range map[string]string{
		"{path: head, area: 0 cm2}, {path: hinge, area: 0 cm2, leaf: A}, {path: meeting, area: 0 cm2}":                 "hinge of leaf B",
		"{path: head, area: 0 cm2, leaf: B}, {path: hinge, area: 0 cm2, leaf: A}, {path: hinge, area: 0 cm2, leaf: B}": "head of leaf A, meeting",
		"{path: head, area: 0 cm2}, {path: hinge, area: 0 cm2}, {path: meeting, area: 0 cm2, leaf: A}":                 "",
	} {
		docs, problems := schema.Read("d.yaml", []byte(pair+paths+"]"))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		d, problems := Decode(docs[0])
		if got := strings.Join(d.Unlisted(), ", "); got != want || len(problems) > 0 {
			t.Errorf("%s: %q, want %q (%v)", paths, got, want, problems)
		}
	}
}
