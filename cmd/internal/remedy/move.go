package remedy

import (
	"fmt"
	"math/big"
	"strings"

	"sillwright/engine/catalogue"
	"sillwright/policies"
)

// aim is a point of a finding that is to be settled.
type aim struct {
	finding policies.Finding
	point   policies.Point
}

// at gives the pointers of its places.
func (a aim) at() []string {
	out := make([]string, len(a.point.Places))
	for i, p := range a.point.Places {
		out[i] = p.Pointer
	}
	return out
}

// misses is by how much the limit is missed, in base units of the kind; 0 where that is no quantity.
func (a aim) misses() int64 {
	measured, limit, ok := a.figures()
	if !ok {
		return 0
	}
	return gap(measured, limit)
}

func (a aim) figures() (measured, limit *big.Rat, ok bool) {
	if a.point.Measured == nil || a.point.Limit == nil {
		return nil, nil, false
	}
	measured, ok = base(a.point.Measured.Exact, a.point.Measured.Unit)
	if !ok {
		return nil, nil, false
	}
	limit, ok = base(a.point.Limit.Exact, a.point.Limit.Unit)
	return measured, limit, ok
}

// change is a move of a certain size.
type change struct {
	ops           []Operation
	do            string // a sentence
	before, after []string
}

// proposal is one way to make a move.
type proposal struct {
	move   string
	object string // what it is done to; alternatives differ in their moves and objects
	most   int    // sizes are 1 to most, a larger one being more of the same; 1: there is one size
	first  int    // the size that should do, by the finding; 0: not known
	effort float64
	at     func(s *spec, size int) (change, string) // the change of a spec, or why there is none
}

// mover proposes ways to settle an aim by one kind of move. Why says what stands in the way of all of them.
type mover func(s *spec, a aim, c *catalogue.Catalogue) (ways []proposal, why string)

// move is a kind of change that a builder makes. Effort ranks them, the least work first; it is judgement, and no price.
type move struct {
	effort float64
	ways   mover
}

var moves = map[string]move{
	"set-seal":          {1, setSeal},
	"ease-door":         {1, easeDoor},
	"slow-closer":       {1, scalar(slowCloser)},
	"strengthen-closer": {1.2, strengthenCloser},
	"press-gasket":      {1.5, pressGasket},
	"move-seal":         {1.5, moveSeal},
	"change-seal":       {2, changeSeal},
	"list-option":       {2, listOption},
	"close-edge":        {2, closeEdge},
	"fix-surface":       {2, truth(fixSurface)},
	"fit-cover":         {2, fitCover},
	"round-nose":        {2.5, roundNose},
	"smooth-face":       {3, smoothFace},
	"move-fitting":      {3, moveFitting},
	"change-carpet":     {3, scalar(changeCarpet)},
	"rehang-leaf":       {3, rehangLeaf},
	"square-leaf":       {3, squareLeaf},
	"lengthen-bevel":    {4, lengthenBevel},
	"bevel-step":        {4, bevelStep},
	"trim-leaf":         {4, trimLeaf},
	"fit-grille":        {4, scalar(fitGrille)},
	"lower-threshold":   {4.5, lowerThreshold},
	"move-step-down":    {5, moveStepDown},
	"raise-threshold":   {5, raiseThreshold},
	"level-floor":       {6, levelFloor},
	"level-landing":     {8, levelLanding},
	"raise-floor":       {8, raiseFloor},
	"widen-opening":     {10, widenOpening},
	"make-room":         {12, scalar(makeRoom)},
}

// ways are the proposals of one move, with its name and effort.
func ways(name string, s *spec, a aim, c *catalogue.Catalogue) ([]proposal, string) {
	m, ok := moves[name]
	if !ok {
		return nil, fmt.Sprintf("no move is called %q", name)
	}
	out, why := m.ways(s, a, c)
	if len(out) == 0 && why == "" {
		why = "what fails is nothing that it changes"
	}
	for i := range out {
		out[i].move = name
		out[i].effort += m.effort
		out[i].most = max(out[i].most, 1)
	}
	return out, why
}

// within says whether a pointer is at or below another.
func within(pointer, at string) bool {
	return pointer == at || strings.HasPrefix(pointer, at+"/")
}
