package quantity

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
)

// Numbers are written as the rationals of the standard library write them.
func TestWrittenAsRationals_Identity(t *testing.T) {
	trimmed := func(r *big.Rat, places int) string {
		s := r.FloatString(places)
		if strings.Contains(s, ".") {
			s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		}
		return s
	}
	numbers := []int64{0, 1, -1, 9, 10, -10, 99, 100, 5_000_000_000_000, -5_000_000_000_000, 15_000_000_000_000, math.MaxInt64, math.MinInt64, math.MinInt64 + 1}
	random := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		n := random.Int64() >> random.IntN(60)
		numbers = append(numbers, n, -n)
	}
	for _, n := range numbers {
		for _, places := range []int{2, 6, 9, 14, 15} {
			ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
			if want, got := trimmed(new(big.Rat).SetFrac(big.NewInt(n), ten), places), fixed(n, places); got != want {
				t.Fatalf("%d over 10^%d: %s, want %s", n, places, got, want)
			}
		}
		for unit, places := range map[int64]int{int64(Newton): 2, int64(100 * SquareMillimetre): 2, int64(Inch) * int64(Inch): 2, int64(PoundForce): 3} {
			want := trimmed(big.NewRat(n, unit), places)
			if want == "-0" {
				want = "0"
			}
			if got := rounded(n, unit, places); got != want {
				t.Fatalf("%d over %d: %s, want %s", n, unit, got, want)
			}
		}
	}
}
