package rod

import (
	"math"
	"slices"

	"embedcheck/internal/geom"
)

// sym3 is a symmetric 3 x 3 matrix.
type sym3 struct{ xx, xy, xz, yy, yz, zz float64 }

// add adds w v v^T.
func (m *sym3) add(v geom.Vec, w float64) {
	m.xx += w * v.X * v.X
	m.xy += w * v.X * v.Y
	m.xz += w * v.X * v.Z
	m.yy += w * v.Y * v.Y
	m.yz += w * v.Y * v.Z
	m.zz += w * v.Z * v.Z
}

// eigen gives the eigenvalues, the smallest first, and their unit vectors, by
// Jacobi rotations.
func (m *sym3) eigen() (val [3]float64, vec [3]geom.Vec) {
	a := [3][3]float64{{m.xx, m.xy, m.xz}, {m.xy, m.yy, m.yz}, {m.xz, m.yz, m.zz}}
	v := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} // rows are the vectors
	for range 30 {
		off := a[0][1]*a[0][1] + a[0][2]*a[0][2] + a[1][2]*a[1][2]
		if off <= 1e-32*(a[0][0]*a[0][0]+a[1][1]*a[1][1]+a[2][2]*a[2][2]) {
			break
		}
		for _, pq := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
			rotate(&a, &v, pq[0], pq[1])
		}
	}
	order := [3]int{0, 1, 2}
	slices.SortFunc(order[:], func(i, j int) int {
		switch {
		case a[i][i] < a[j][j]:
			return -1
		case a[i][i] > a[j][j]:
			return 1
		}
		return i - j
	})
	for k, i := range order {
		val[k] = a[i][i]
		vec[k] = geom.Vec{X: v[i][0], Y: v[i][1], Z: v[i][2]}
	}
	return val, vec
}

// rotate makes a[p][q] zero.
func rotate(a, v *[3][3]float64, p, q int) {
	if a[p][q] == 0 {
		return
	}
	theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
	t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Sqrt(t*t+1)
	s := t * c
	for k := range 3 {
		kp, kq := a[k][p], a[k][q]
		a[k][p], a[k][q] = c*kp-s*kq, s*kp+c*kq
	}
	for k := range 3 {
		pk, qk := a[p][k], a[q][k]
		a[p][k], a[q][k] = c*pk-s*qk, s*pk+c*qk
	}
	for k := range 3 {
		pk, qk := v[p][k], v[q][k]
		v[p][k], v[q][k] = c*pk-s*qk, s*pk+c*qk
	}
}
