package geom

// Disjoint is sets of numbers that can be joined. The smallest number of a set is
// its root, so that results do not depend on the order of joining.
type Disjoint []int32

// NewDisjoint is the numbers below n, each a set of its own.
func NewDisjoint(n int) Disjoint {
	d := make(Disjoint, n)
	d.Reset()
	return d
}

// Reset makes each number a set of its own again.
func (d Disjoint) Reset() {
	for i := range d {
		d[i] = int32(i)
	}
}

// Find is the root of the set that i belongs to.
func (d Disjoint) Find(i int32) int32 {
	for d[i] != i {
		d[i] = d[d[i]]
		i = d[i]
	}
	return i
}

// Join makes the sets of a and b one.
func (d Disjoint) Join(a, b int32) {
	a, b = d.Find(a), d.Find(b)
	d[max(a, b)] = min(a, b)
}

// Sets are the members of each set in rising order, in the order of the roots.
func (d Disjoint) Sets() [][]int {
	at := make(map[int32]int)
	var out [][]int
	for i := range d {
		r := d.Find(int32(i))
		k, ok := at[r]
		if !ok { // the root itself: it is the smallest
			k = len(out)
			at[r] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}
