package engine

import (
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// putApproached adds how people come to the door, both sides taken together:
//
//	straight_on = from is front on both sides
//	route_width = smallest route_width of the sides that people come to along the wall
//
// One side that is known not to be approached straight on decides the first. The second is left out where nobody comes along
// the wall, and where a side or its route is not known.
func putApproached(facts fact.Set, d *door.Door) {
	straight, known := true, true
	at, routes := []string{}, []door.Approach{}
	for _, a := range d.Approach {
		at = append(at, a.From.Pointer)
		known = known && a.From.Known
		if a.From.Known && a.From.Value != "front" {
			straight = false
			routes = append(routes, a)
		}
	}
	if known || !straight {
		facts["straight_on"] = fact.Fact{Value: straight, At: at, Formula: "from is front on both sides"}
	}
	if !known || len(routes) == 0 {
		return
	}
	least := routes[0].Route
	for _, a := range routes {
		if !a.Route.Known {
			return
		}
		if a.Route.Value < least.Value {
			least = a.Route
		}
	}
	put(facts, "route_width", least, length)
}
