// Package engine measures a door: the profile of its threshold, the gap under it, and
// the air that each option lets through, always with a band. It knows no limits and
// judges nothing; it ranks what the rules let pass.
//
// Its parts: air (density and viscosity), crack (flow through slots), fibre (flow through
// bristles), gap (the bottom gap along the width), seal (one file a kind of seal), profile
// (the threshold), catalogue (seals by name).
//
// What is not counted yet: the feet of a bottom seal at the jambs, two seals in series on
// one edge, tufted brushes and drop seals. Sums of bands take errors to go the same way.
package engine
