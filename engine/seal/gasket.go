package seal

// Gasket is a compressed bulb or profile: one crack with a small residual gap.
//
//	q = crack(h + daylight, l),  daylight = max(-overlap, 0)
//
// At head and jambs h is the gasket's own; on a floor it is the floor's. Base 0.2 mm (0.1..0.3), l 5 mm: three
// laboratory results of doors with gaskets imply 0.16..0.27 mm (seen at second hand), with exponents of 0.44..0.60: corners and
// hardware leak more there than the slit, so corners are to be counted as paths of their own.
// Whatever the compression, a pressed gasket leaks h here; what it is made for is the catalogue's to say.
type Gasket struct {
	Residual Parameter // h, m
	Contact  Parameter // l, m
}

// Check wants a residual gap of 0 to 10 mm and a contact length of 0.1 to 50 mm.
func (g Gasket) Check() error {
	return first(
		g.Residual.check("residual gap (m)", 0, 0.01),
		g.Contact.check("contact length (m)", 0.0001, 0.05),
	)
}

// Basis is an estimate.
func (g Gasket) Basis() string { return BasisEstimate }

// Parameters on a floor, or on a smooth made face with the zero Texture.
func (g Gasket) Parameters(floor Texture) []Named {
	return []Named{floor.under(g.Residual), {"contact length", g.Contact}, anyLoss(), accuracy()}
}

// Kinks is where the gasket lifts off.
func (g Gasket) Kinks() []float64 { return []float64{0} }

// FlowPerMetre is the flow past the gasket at a place.
func (g Gasket) FlowPerMetre(x []float64, at Place, in Condition) float64 {
	return x[3] * lip(x[0], x[1], x[2], in.Drop, at, in)
}
