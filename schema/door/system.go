package door

import (
	"strings"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// System tells which system the spec's lengths are mostly written in.
func (d *Door) System() quantity.System {
	imperial, metric := 0, 0
	var count func(n *schema.Node)
	count = func(n *schema.Node) {
		if n.Kind == schema.String {
			inMetres := strings.HasSuffix(n.Text, "m")
			switch {
			case !inMetres && !strings.ContainsAny(n.Text, "nt\""), !quantity.IsLength(n.Text): // a text, or of no system
			case inMetres:
				metric++
			default:
				imperial++
			}
		}
		for _, m := range n.Members {
			count(m.Value)
		}
		for _, item := range n.Items {
			count(item)
		}
	}
	count(d.Document.Root)
	if imperial > metric {
		return quantity.Imperial
	}
	return quantity.Metric
}
