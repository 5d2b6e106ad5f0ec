// Package door holds the types of a door spec, format 1, and reads them from a
// validated document. Every value remembers its JSON Pointer, through which the
// document gives the line and column that it was written on.
package door

import (
	"sillwright/schema"
	"sillwright/schema/quantity"
)

// Maybe is a value that the spec may not know. Pointer is where it stands, or would stand.
type Maybe[T any] struct {
	Value   T
	Known   bool
	Pointer string
}

// Door is one door spec.
type Door struct {
	Mark      string
	Title     string
	Rulebooks []RulebookRef
	Stage     Maybe[string]
	Site      Site
	Air       Air
	Leaf      Construction
	Approach  [2]Approach // outside, inside
	Leaves    []Leaf
	Threshold Threshold
	Floor     Floor
	Paths     []Path
	Duty      Duty
	Options   []Option
	Evidence  []Evidence
	Targets   Targets
	Fixed     []string

	Document schema.Document
}

// RulebookRef asks for a rulebook, and for one of its variants.
type RulebookRef struct {
	ID, Variant string
	Pointer     string
}

// Site is what the rules ask about the place.
type Site struct {
	Serves, Work, Exposure Maybe[string]
	AccessibleRoute        Maybe[bool]
	Unit                   Maybe[string]          // kind of dwelling unit
	Applied                Maybe[quantity.Date]   // the day of the application
	EntranceFloor          Maybe[bool]            // the door is on the storey of the entrance
	ManyPeople             Maybe[bool]            // the building is meant for many people
	Finish                 Maybe[string]          // fitted, or to come
	FinishThickness        Maybe[quantity.Length] // of a finish to come; it is laid under the leaf too
	OpenFlue               Maybe[bool]
	Pressure               PressureRange
	DegreeDays             Maybe[float64] // of heating, K d a year
	Answers                []Answer
	Building               Building
}

// Answer settles a question that a rule left open.
type Answer struct {
	Rule, Evidence string
	Value          bool
	Pointer        string
}

// Air is the state that leakage is given for.
type Air struct {
	Temperature Maybe[float64] // C
	Altitude    Maybe[quantity.Length]
}

// Construction is what the spec says under its key `door`.
type Construction struct {
	Operation, Location, Opens, Powered Maybe[string]
	Role, LeadsTo                       Maybe[string]
	Exit                                Maybe[bool] // a final exit
	BathroomPath, RefugeBalcony         Maybe[bool]
	SpillSill                           bool // claimed
	AirPressure                         Maybe[bool]
	FirePeriod                          Maybe[string]
	FireRated, SmokeControl, Escape     Maybe[bool]
	Glazed                              Maybe[bool]
	Passage                             Maybe[bool] // it stands in a passageway that leads to several rooms or units
	Conditioned, Habitable              Maybe[bool]
	JambDepth                           Maybe[quantity.Length]
	TransferArea                        Maybe[quantity.Area] // for ventilation air, beside the gap under the leaf
	Height, Thickness, OpeningDepth     Maybe[quantity.Length]
	FaceToStop, LeastWidth              Maybe[quantity.Length]
	PowerOffWidth, BreakOutWidth        Maybe[quantity.Length]
	FrameWidth                          Maybe[quantity.Length] // between the faces of the frame, the leaf left out
	ProjectionsGiven                    bool
	Projections                         []Projection
	SecurityOnly                        Maybe[bool]
	Closer, SpringHinges, Latch         Maybe[bool]
	ClosingTimes                        []ClosingTime
	ClosingTimesPointer                 string
	Power                               Power
	PushSide                            PushSide
	UnlatchingForce, StartingForce      Maybe[quantity.Force]
	OpeningForce                        ForceReadings         // without the bottom seal
	CloserSize                          Maybe[int]            // power size, EN 1154
	ClosingForce                        Maybe[quantity.Force] // with which it closes over its last degrees, without the bottom seal
}

// Projection is a part that stands into the opening.
type Projection struct {
	Part         Maybe[string]
	From, Leaves Maybe[quantity.Length] // height of its lowest point; width left beside it
	Pointer      string
}

// ClosingTime is how long the door takes to move by itself from one angle to a smaller one.
type ClosingTime struct {
	From    quantity.Angle
	To      Maybe[quantity.Angle]
	ToEdge  Maybe[quantity.Length] // how far the leading edge is then from its closed place
	Time    Maybe[quantity.Time]
	Pointer string
}

// Power is what a powered door does with and without power.
type Power struct{ Standard, Standby, StaysOpen, ManualBeside Maybe[bool] }

// PushSide is the face of the leaf that people push, near the floor.
type PushSide struct {
	JointsGiven    bool
	Joints         []Joint
	CavitiesCapped Maybe[bool]
	ShoeTaper      Maybe[quantity.Angle]
	Pointer        string
}

// Joint is an edge that stands off the face of the leaf.
type Joint struct {
	Height, Step Maybe[quantity.Length]
	Pointer      string
}

// Approach is the floor on one side of the door on which people turn and open it.
type Approach struct {
	Side                            string // outside or inside
	From                            Maybe[string]
	Depth, BesideLatch, BesideHinge Maybe[quantity.Length]
	RecessDepth, RecessBeside       Maybe[quantity.Length]
	Slope                           Maybe[quantity.Slope]
	Step                            Maybe[quantity.Length]
	FallsAway, Impervious, Firm     Maybe[bool]
	Raisable                        Maybe[bool]            // the floor can be raised with little work
	Route                           Maybe[quantity.Length] // width of the route along the wall
	Pointer                         string
}

// ForceBand is the force at the latch edge over a range of angles, or at one.
type ForceBand struct {
	From, To quantity.Angle
	Force    Maybe[quantity.Force]
	Pointer  string
}

// UnplacedForce is a force reading of which an angle is not known.
type UnplacedForce struct {
	From, To Maybe[quantity.Angle]
	Force    Maybe[quantity.Force]
	Pointer  string
}

// overlaps says whether two readings share more than an end. Readings at one angle overlap where they are at the same.
func (b ForceBand) overlaps(o ForceBand) bool {
	if b.From == b.To && o.From == o.To {
		return b.From == o.From
	}
	return b.From < o.To && o.From < b.To
}

// Leaf is one leaf with the gap under it.
type Leaf struct {
	ID           string
	Width        Maybe[quantity.Length]
	OutOfSquare  Maybe[quantity.Length] // how much lower it stands at the latch edge than at the hinge edge
	Readings     []Reading
	Swing        []SwingReading
	Unread       []string   // swing readings that were not taken yet, by their pointers
	Bends        Maybe[int] // how often the air turns on its way under the leaf
	ReadingError Maybe[quantity.Length]
	Pointer      string
	GapPointer   string
}

// Reading is the bottom gap at a place along the seal line.
type Reading struct {
	At, Gap quantity.Length
	Pointer string
}

// SwingReading is the gap at an angle: the smallest that is met, and where it was read along the width, its readings.
type SwingReading struct {
	Angle    quantity.Angle
	Gap      quantity.Length // the smallest
	Readings []Reading       // none: only the smallest gap is known, and not its place
	Pointer  string
}

// Threshold is the profile from outside to inside. Given says whether the spec has one at all.
type Threshold struct {
	Given         bool
	Segments      []Segment
	Firm          Maybe[bool] // stable, firm and slip resistant
	LeafAt        Maybe[quantity.Length]
	As            Maybe[string] // what it counts as, where a code tells it apart
	WeatherSill   Maybe[bool]
	LevelEntry    LevelEntry
	OpeningsGiven bool
	Openings      []Slot
	Pointer       string
}

// Segment is a piece of the profile; run 0 is a step.
type Segment struct {
	Run, Rise Maybe[quantity.Length]
	Nose      Maybe[string]
	Pointer   string
}

// Slot is an opening in the path.
type Slot struct {
	Width   Maybe[quantity.Length]
	Runs    Maybe[string]
	Pointer string
}

// Floor is what the seal meets.
type Floor struct {
	UnderSeal, Swept Maybe[string]
	Carpet           bool // the spec describes a carpet
	CarpetPile       Maybe[quantity.Length]
	CarpetAttached   Maybe[bool]
	CarpetEdge       []Segment // exposed, from the lower floor up
	CarpetEdgeGiven  bool      // without one it is not known
}

// Path is another way for air.
type Path struct {
	Kind, Leaf  string // leaf: empty for a path of the whole door
	Length, Gap Maybe[quantity.Length]
	GapError    Maybe[quantity.Length] // how far off the gap may be, either way
	Bends       Maybe[int]             // how often the air turns on its way
	Area        Maybe[float64]         // m2
	Seal        Maybe[string]
	Pointer     string
}

// Duty is how hard the door is used.
type Duty struct {
	Use          Maybe[string]
	CyclesPerDay Maybe[float64]
	Life         Maybe[float64] // years
}

// Option is a set of seals and how they are set.
type Option struct {
	ID, Title    string
	Fits         []Fit
	OpeningForce ForceReadings // with its seals fitted
	Pointer      string
}

// Fit is one seal on one edge of a leaf.
type Fit struct {
	Edge    string
	Leaf    string // empty: every leaf
	Order   int
	Seal    Maybe[string]
	Overlap Maybe[quantity.Length]
	Auto    bool                   // the program finds the overlap
	Now     Maybe[quantity.Length] // the overlap that it has today
	Mount   Mount
	Pointer string
}

// Mount is where a seal is fixed, and what it adds to the face of the leaf.
type Mount struct {
	On      Maybe[string]
	Step    Maybe[quantity.Length]
	Pointer string
}

// Evidence covers a seal on a fire or smoke door leaf.
type Evidence struct {
	Seal, Leaf, Reference string
	Pointer               string
}

// Targets are what the door must reach.
type Targets struct {
	Leakage, House  bool           // whether the spec has such a target, known or not
	LeakageFlow     Maybe[float64] // m3/s
	LeakagePressure Maybe[float64] // Pa
	AirClass        Maybe[int]     // EN 12207
	HouseVolume     Maybe[float64] // m3
	AirChange50     Maybe[float64] // 1/h
	Envelope        Maybe[float64] // m2
	Permeability50  Maybe[float64] // m3/(h m2)
	Share           Maybe[float64] // of the house's, 0..1
}
