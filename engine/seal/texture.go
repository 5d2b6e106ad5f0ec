package seal

import (
	"fmt"
	"strings"

	"sillwright/engine/doubt"
)

// Texture is a floor as a seal meets it. Residual is the mean gap (m) that stays open under a lip pressed on it: the
// hollows between the peaks that carry the lip. The zero Texture is a smooth made face, such as a rebate: the seal's
// own residual gap counts.
type Texture struct {
	Name     string
	Residual doubt.Range
}

// Textures lists the floors that can be named, in the order they are shown. All values are engineering judgement, not
// measured: 0.2 mm for a smooth floor (0.1..0.4), 0.5 and 1 mm for jointed and rough ones. On carpet the air also
// passes through the pile, which the residual gap stands for. "unknown" spans what a door may meet.
var Textures = []Texture{
	{"tile", doubt.Between(0.0001, 0.0002, 0.0004)},
	{"jointed-tile", doubt.Between(0.0002, 0.0005, 0.0010)},
	{"timber", doubt.Between(0.0001, 0.0003, 0.0006)},
	{"vinyl", doubt.Between(0.0001, 0.0002, 0.0004)},
	{"concrete", doubt.Between(0.0002, 0.0005, 0.0010)},
	{"stone", doubt.Between(0.0004, 0.0010, 0.0020)},
	{"carpet", doubt.Between(0.0003, 0.0010, 0.0030)},
	{"metal", doubt.Between(0.0001, 0.0002, 0.0004)},
	{"unknown", doubt.Between(0.0001, 0.0004, 0.0020)},
}

// smooth is true of a made face, and of floors that are as good as one.
func (t Texture) smooth() bool { return t.Residual.Likely <= 0.0002 }

// TextureOf looks a floor up by its word.
func TextureOf(name string) (Texture, error) {
	for _, t := range Textures {
		if t.Name == name {
			return t, nil
		}
	}
	words := make([]string, 0, len(Textures))
	for _, t := range Textures {
		words = append(words, t.Name)
	}
	return Texture{}, fmt.Errorf("floor %q is not known; use one of %s", name, strings.Join(words, ", "))
}

// under is the residual gap of a lip on the floor, or its own on a smooth made face.
func (t Texture) under(own doubt.Range) Named {
	if t.Residual.High > 0 {
		return Named{doubtFloor, t.Residual}
	}
	return Named{doubt.Own("residual gap", "test a sample of the seal on a rig"), own}
}
