package policies

import (
	"encoding/json"
	"math/big"
	"math/rand/v2"
	"testing"
)

// The tangents that square roots give: tan 15 = 2 - root 3, tan 30 = root 3 / 3, tan 60 = root 3.
func tangents() map[string]*big.Float {
	root := real(0).Sqrt(real(3))
	return map[string]*big.Float{
		"15 deg": real(0).Sub(real(2), root),
		"30 deg": real(0).Quo(root, real(3)),
		"60 deg": root,
	}
}

// For runs up to 2 m the fraction decides as the tangent does: the highest rise within it passes, a nanometre more fails.
func TestInclineDecidesAsTheTangentDoes_Identity(t *testing.T) {
	random := rand.New(rand.NewPCG(15, 1))
	for text, tangent := range tangents() {
		rise, run, _, err := Incline(text)
		if err != nil {
			t.Fatal(err)
		}
		p, q := big.NewInt(rise), big.NewInt(run)
		if got := real(0).Quo(real(rise), real(run)); got.Cmp(tangent) >= 0 {
			t.Errorf("%s: %d/%d is not below the tangent", text, rise, run)
		}
		runs := []int64{1, 2, 3, 4, 15, 37, 38, 37_320_508, 37_320_509, inclineReach - 1, inclineReach}
		for range 5000 {
			runs = append(runs, 1+random.Int64N(inclineReach))
		}
		for _, h := range runs {
			most, _ := real(0).Mul(tangent, real(h)).Int(nil)
			within := func(r *big.Int) bool {
				return new(big.Int).Mul(r, q).Cmp(new(big.Int).Mul(big.NewInt(h), p)) <= 0
			}
			if !within(most) || within(new(big.Int).Add(most, big.NewInt(1))) {
				t.Fatalf("%s: a run of %d nm is not decided at a rise of %v nm", text, h, most)
			}
		}
	}
}

// 15 degrees are those of Approved Document C 5.33(b); at the limit both products fit 63 bits.
func TestInclineOf15Degrees_Pinned(t *testing.T) {
	rise, run, angle, err := Incline("15 deg")
	if err != nil || rise != 1_525_870_529 || run != 5_694_626_340 || angle != 15_000_000 {
		t.Errorf("%d/%d, %d, %v", rise, run, angle, err)
	}
	if product := new(big.Int).Mul(big.NewInt(rise), big.NewInt(inclineReach)); !product.IsInt64() {
		t.Errorf("%v does not fit 63 bits", product)
	}
	number := func(n int64) json.Number { return json.Number(big.NewInt(n).String()) }
	v := value{"incline": []any{number(rise), number(run), number(angle)}}
	if got, want := v.words("mm"), "15 deg (1:3.73)"; got != want {
		t.Errorf("words %q, want %q", got, want)
	}
	if m := v.measure(); m.Exact != "tan 15 deg" || m.Value.(float64) < 0.26794919 || m.Value.(float64) > 0.2679492 {
		t.Errorf("%+v", m)
	}
	data, err := Limit{Angle: "15 deg"}.data()
	if src, _ := json.Marshal(data); err != nil || string(src) != `{"angle":15000000,"kind":"angle","rise":1525870529,"run":5694626340}` {
		t.Errorf("%s, %v", src, err)
	}
}

func TestInclineIsRefused(t *testing.T) {
	for _, text := range []string{"", "0 deg", "-15 deg", "45 deg", "90 deg", "120 deg", "5 lbf", "1:4"} {
		if rise, run, _, err := Incline(text); err == nil {
			t.Errorf("%q is taken: %d/%d", text, rise, run)
		}
	}
	for _, text := range []string{"0.000001 deg", "44.999999 deg", "89 deg"} {
		if rise, run, _, err := Incline(text); err != nil || rise <= 0 || run < inclineReach {
			t.Errorf("%q: %d/%d, %v", text, rise, run, err)
		}
	}
}

// What is no incline says nothing.
func TestInclineOfAnotherShape(t *testing.T) {
	for _, x := range []any{nil, []any{}, []any{json.Number("1"), json.Number("2")}, []any{json.Number("1"), json.Number("2"), "x"}} {
		if got := inclineWords(x); got != "" {
			t.Errorf("%v: %q", x, got)
		}
	}
	if m := inclineMeasure([]any{}); m != nil {
		t.Errorf("%+v", m)
	}
}
