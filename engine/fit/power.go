// Package fit makes laws of flow readings: the power law of the test standards, and the quadratic pair that the engine computes with,
// each with its standard errors and 95 per cent limits; or says why readings cannot carry one.
//
// The power law q = C dp^n is fitted by ordinary least squares of ln q on ln dp, as ISO 9972 and EN 13829 have it. It is the one that is
// reported: errors of a flow meter are parts of the flow, so they are alike in logarithms, and a reading at 10 Pa counts as much as one at
// 80 Pa, which an untransformed fit (Direct) all but leaves out. The pair is what seals are stored as, since it stays physical beyond
// the readings and goes exactly from one air to another.
package fit

import (
	"math"

	"sillwright/engine/doubt"
	"sillwright/engine/regress"
)

// part is one source of error: the covariance that it gives a pair of parameters, and its degrees of freedom.
type part struct {
	covariance [2][2]float64
	freedom    float64
}

// parts are sources of error that have nothing to do with each other.
type parts []part

// variance is that of g1 x1 + g2 x2.
func (p part) variance(g [2]float64) float64 {
	c := p.covariance
	return max(g[0]*g[0]*c[0][0]+g[0]*g[1]*(c[0][1]+c[1][0])+g[1]*g[1]*c[1][1], 0)
}

// of is the standard error of g1 x1 + g2 x2, and the factor that makes 95 per cent limits of it:
//
//	u^2 = sum u_k^2,  t = Student(0.975, u^4/sum(u_k^4/v_k))
//
// v_k degrees of freedom. Source: Welch-Satterthwaite, JCGM 100:2008 (GUM), G.4.1, eq. G.2b (from memory, not verified); with one source
// it is Student's t as such.
func (p parts) of(g [2]float64) (err, factor float64) {
	sum, spent := 0.0, 0.0
	for _, k := range p {
		v := k.variance(g)
		sum += v
		spent += v * v / k.freedom
	}
	if spent == 0 { // readings without scatter, or sources that are known beyond them
		return math.Sqrt(sum), normal
	}
	return math.Sqrt(sum), regress.Student(sum * sum / spent)
}

func (p parts) reach(g [2]float64) float64 {
	err, factor := p.of(g)
	return err * factor
}

// through carries the errors through a linear map of the two parameters: T M T'.
func (p parts) through(t [2][2]float64) parts {
	out := make(parts, len(p))
	for i, k := range p {
		out[i].freedom = k.freedom
		for r := range 2 {
			for c := range 2 {
				for a := range 2 {
					for b := range 2 {
						out[i].covariance[r][c] += t[r][a] * k.covariance[a][b] * t[c][b]
					}
				}
			}
		}
	}
	return out
}

// outer is the covariance of one error that moves both parameters.
func outer(x, y float64) [2][2]float64 { return [2][2]float64{{x * x, x * y}, {x * y, y * y}} }

func plus(a, b [2][2]float64) [2][2]float64 {
	for i := range 2 {
		for k := range 2 {
			a[i][k] += b[i][k]
		}
	}
	return a
}

// Power is the law q = C dp^n: q m3/s, dp Pa, C m3/(s Pa^n), with the errors of ln C and n.
type Power struct {
	C, N   float64
	errors parts
}

// powerOf fits the line of ln q on ln dp. With N readings, x = ln dp, y = ln q:
//
//	n = sum (x - xm)(y - ym)/sum (x - xm)^2,  ln C = ym - n xm
//	s_n^2 = s^2/sum (x - xm)^2,  s_lnC^2 = s_n^2 sum x^2/N,  s^2 = sum e^2/(N - 2)
//	n +- t s_n,  C exp(+-t s_lnC),  q exp(+-t s_n sqrt(sum (x - xm)^2/N + (ln dp - xm)^2)),  t = Student(0.975, N - 2)
//
// Source: ISO 9972:2015 and EN 13829:2000, annex on the power law (form from memory, not verified; it is ordinary least squares, held
// against NIST StRD). Range: errors of the flow alone, alike and independent in logarithms; readings of one test in wind are
// not (limits so computed held 60 of 100 tests there and not 95: Genge, 32nd AIVC conference 2011, abstract read). Errors of ln dp count as n times themselves.
func powerOf(drops, flows []float64) (Power, regress.Line) {
	line := regress.Straight(logs(drops), logs(flows), nil)
	return Power{C: math.Exp(line.Intercept), N: line.Slope, errors: parts{{line.Covariance(), float64(line.Freedom)}}}, line
}

func logs(v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = math.Log(v[i])
	}
	return out
}

// Exponent is n with its 95 per cent limits.
func (p Power) Exponent() doubt.Range {
	r := p.errors.reach([2]float64{0, 1})
	return doubt.Between(p.N-r, p.N, p.N+r)
}

// Coefficient is C with its 95 per cent limits, m3/(s Pa^n).
func (p Power) Coefficient() doubt.Range { return around(p.C, p.errors.reach([2]float64{1, 0})) }

// Errors are the standard errors of ln C and n.
func (p Power) Errors() (ofLnC, ofN float64) {
	ofLnC, _ = p.errors.of([2]float64{1, 0})
	ofN, _ = p.errors.of([2]float64{0, 1})
	return ofLnC, ofN
}

// Flow is the flow at a drop (Pa) with its 95 per cent limits, m3/s: of the law, and not of one more reading. Beyond the readings the
// limits hold only as far as the power law does.
func (p Power) Flow(dp float64) doubt.Range {
	x := math.Log(dp)
	return around(p.C*math.Pow(dp, p.N), p.errors.reach([2]float64{1, x}))
}

// around is a quantity whose logarithm may be off by so much.
func around(v, reach float64) doubt.Range {
	return doubt.Between(v*math.Exp(-reach), v, v*math.Exp(reach))
}

// Over is the law of the flow per metre, of so many metres of seal.
func (p Power) Over(metres float64) Power {
	p.C /= metres
	return p
}

// with adds a source of error: by how much one standard deviation of it moves each ln q.
func (p Power) with(drops []float64, freedom float64, moves ...[]float64) Power {
	x, sum := logs(drops), [2][2]float64{}
	for _, m := range moves {
		l := regress.Straight(x, m, nil)
		sum = plus(sum, outer(l.Intercept, l.Slope))
	}
	p.errors = append(p.errors[:len(p.errors):len(p.errors)], part{sum, freedom})
	return p
}
