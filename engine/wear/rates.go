package wear

import (
	"fmt"
	"strings"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
)

// CubicMillimetre is a specific wear rate of 1 mm3/(N m), in m2/N.
const CubicMillimetre = 1e-9

// rates by floor, mm3/(N m): what is rubbed off by a newton over a metre.
//
// Bristles (nylon, polypropylene). Low on smooth floors: thrust washers of plain nylon 6.6 against other plastics, 0.2e-6 to
// 12e-6 (a compounder's table of ASTM D3702, read), and some 1e-6 to 4e-6 by the wear that ASTM D3702 calls typical of nylon
// 6.6 (catalogue page read, its pressure and speed from memory, not verified). High: abrasive paper wears polymers at 1e-2 to
// 1e-1 (from memory, not verified), some 1e5 times as fast as they wear each other (abstract of a study of seven polymers, read),
// and grit on a floor is rounder, moves, and is swept away. A maker's study of floor brushes finds concrete 2.3 times as bad as
// epoxy, and polypropylene 1.4 times as bad as nylon (page read; its coefficients stand without units, so none is taken).
//
// Rubber. High: by DIN 53516 abrasive paper takes a volume over 40 m at 10 N (read); 100 to 250 mm3 (from memory, not verified)
// make 0.25 to 0.6. A tyre that loses 8 mm over 40 000 km at 1 per cent of slip comes to some 2e-3 (worked from figures from
// memory, not verified).
//
// All likely values, and how the floors stand to each other, are engineering judgement, not measured.
var rates = []struct {
	floor           string
	bristle, rubber doubt.Range
}{
	{"tile", doubt.Between(1e-6, 3e-5, 1e-3), doubt.Between(1e-5, 3e-4, 1e-2)},
	{"jointed-tile", doubt.Between(2e-6, 6e-5, 2e-3), doubt.Between(2e-5, 6e-4, 2e-2)},
	{"timber", doubt.Between(1e-6, 3e-5, 1e-3), doubt.Between(1e-5, 3e-4, 1e-2)},
	{"vinyl", doubt.Between(1e-6, 3e-5, 1e-3), doubt.Between(1e-5, 3e-4, 1e-2)},
	{"metal", doubt.Between(1e-6, 3e-5, 1e-3), doubt.Between(1e-5, 3e-4, 1e-2)},
	{"carpet", doubt.Between(1e-6, 1e-5, 5e-4), doubt.Between(1e-5, 1e-4, 5e-3)},
	{"concrete", doubt.Between(1e-5, 3e-4, 1e-2), doubt.Between(1e-4, 3e-3, 1e-1)},
	{"stone", doubt.Between(1e-5, 2e-4, 1e-2), doubt.Between(1e-4, 2e-3, 1e-1)},
	{"unknown", doubt.Between(1e-6, 6e-5, 1e-2), doubt.Between(1e-5, 6e-4, 1e-1)},
}

// Rate is the range of the specific wear rate k of a material on a floor, m2/N: volume worn off over normal force and distance
// slid (Archard 1953 with k = K/H). An unknown floor spans all.
//
// Source: in part read, in part from memory, not verified, in part engineering judgement, not measured (see the table). Error: a
// floor or a material that is not known. Deviations: no difference between filaments, no speed, no water, no running in.
func Rate(floor string, of drag.Material) (doubt.Range, error) {
	for _, r := range rates {
		switch {
		case r.floor != floor:
		case of == drag.Bristle:
			return scaled(r.bristle, CubicMillimetre), nil
		case of == drag.Rubber:
			return scaled(r.rubber, CubicMillimetre), nil
		default:
			return doubt.Range{}, fmt.Errorf("material %q is not known; use one of %s, %s", of, drag.Bristle, drag.Rubber)
		}
	}
	words := make([]string, 0, len(rates))
	for _, r := range rates {
		words = append(words, r.floor)
	}
	return doubt.Range{}, fmt.Errorf("floor %q is not known; use one of %s", floor, strings.Join(words, ", "))
}

func scaled(r doubt.Range, by float64) doubt.Range {
	return doubt.Between(r.Low*by, r.Likely*by, r.High*by)
}

// Recovery is the part R of a bend or a squash that a material springs back from.
//
// Bristles: bend recovery of nylon 6 and 6.6 0.97, nylon 6.12 0.93, polyester (PBT) 0.92, polypropylene 0.75 (a table of brush
// filaments on a trade page, read, dry); which filament it is, is not known here. Rubber: compression set of EPDM 0.2 to 0.6 (ASTM
// D395 B, a table on a test house's page, read), which leaves 0.4 to 0.8; EN 12365-1 grades recovery from 0.3 to above 0.9 (from
// memory, not verified). Likely values are engineering judgement, not measured.
func Recovery(of drag.Material) doubt.Range {
	if of == drag.Bristle {
		return doubt.Between(0.75, 0.92, 0.97)
	}
	return doubt.Between(0.4, 0.7, 0.9)
}

// settling is N_s, the cycles after which 63 per cent of the set is there. Engineering judgement, not measured: a set takes time as
// well as bends, a season of a busy door as much as years of a quiet one.
var settling = doubt.Between(1e3, 1e4, 1e5)
