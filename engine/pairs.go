package engine

import "slices"

// field is all that are ranked, compared in pairs.
type field struct {
	order  []Criterion
	in     []*Option
	better [][][]bool // by criterion: one is better than another beyond doubt
	by     [][]int    // the place in the order of what puts one ahead of another; nobody: nothing does
	ahead  [][]bool   // of pairs and of what follows from them
	ranks  []int      // one more than how many are ahead
	sorted []int      // indices in rank order
}

const nobody = -1

// pairs compares every option with every other, and lays the pairs down: see Rank.
func pairs(in []*Option, order []Criterion) *field {
	f := &field{order: order, in: in, by: make([][]int, len(in)), ahead: square(len(in)), ranks: make([]int, len(in)), sorted: make([]int, len(in))}
	for _, c := range order {
		better := square(len(in))
		for i := range in {
			for j := range in {
				better[i][j] = c.better(in[i], in[j])
			}
		}
		f.better = append(f.better, better)
	}
	for i := range in {
		f.by[i] = make([]int, len(in))
		for j := range in {
			f.by[i][j] = f.parts(i, j)
		}
	}
	f.lay(f.dominates)
	for k := range order {
		f.lay(func(i, j int) bool { return f.by[i][j] == k })
	}
	for i := range in {
		f.ranks[i], f.sorted[i] = 1, i
		for j := range in {
			if f.ahead[j][i] {
				f.ranks[i]++
			}
		}
	}
	slices.SortStableFunc(f.sorted, func(i, j int) int { return f.ranks[i] - f.ranks[j] })
	return f
}

func square(n int) [][]bool {
	out, all := make([][]bool, n), make([]bool, n*n)
	for i := range out {
		out[i] = all[i*n : (i+1)*n]
	}
	return out
}

// parts is the place of the first criterion that parts two options, if it puts the first ahead.
func (f *field) parts(i, j int) int {
	for k, c := range f.order {
		_, known := c.of(f.in[i])
		_, other := c.of(f.in[j])
		switch {
		case known && !other, f.better[k][i][j]:
			return k
		case !known && other, f.better[k][j][i]:
			return nobody
		}
	}
	return nobody
}

func (f *field) dominates(i, j int) bool {
	better := false
	for k, c := range f.order {
		if !f.better[k][i][j] && !c.noWorse(f.in[i], f.in[j]) {
			return false
		}
		better = better || f.better[k][i][j]
	}
	return better
}

// lay adds some pairs to what lies, but for those that close a circle with it.
func (f *field) lay(pair func(i, j int) bool) {
	with := square(len(f.in))
	for i := range f.in {
		for j := range f.in {
			with[i][j] = i != j && (f.ahead[i][j] || pair(i, j))
		}
	}
	reach := closed(with)
	for i := range f.in {
		for j := range f.in {
			if with[i][j] && !f.ahead[i][j] && reach[j][i] {
				with[i][j] = false
			}
		}
	}
	f.ahead = closed(with)
}

// closed adds what follows: who is ahead of one that is ahead of a third is ahead of the third.
func closed(pairs [][]bool) [][]bool {
	out := square(len(pairs))
	for i := range pairs {
		copy(out[i], pairs[i])
	}
	for k := range out {
		for i := range out {
			for j := range out {
				out[i][j] = out[i][j] || (out[i][k] && out[k][j])
			}
		}
	}
	return out
}
