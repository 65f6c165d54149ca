package geom

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

func rat(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }

// det is the determinant by rational numbers.
func det(m [][]*big.Rat) *big.Rat {
	if len(m) == 1 {
		return m[0][0]
	}
	sum := new(big.Rat)
	for i := range m {
		var minor [][]*big.Rat
		for k := range m {
			if k != i {
				minor = append(minor, m[k][1:])
			}
		}
		term := new(big.Rat).Mul(m[i][0], det(minor))
		if i%2 == 1 {
			term.Neg(term)
		}
		sum.Add(sum, term)
	}
	return sum
}

// nearly are coordinates of points close to one line or plane: whole numbers,
// thirds, far from zero, one bit off.
func nearly(r *rand.Rand) float64 {
	x := float64(r.IntN(7) - 3)
	switch r.IntN(5) {
	case 0:
		x /= 3
	case 1:
		x += 1e6
	case 2:
		x *= 1e-3
	case 3:
		x = math.Nextafter(x+10, 99)
	}
	return x
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

func TestOrient2d(t *testing.T) {
	if orient2d(Vec2{0, 0}, Vec2{1, 0}, Vec2{0, 1}) <= 0 {
		t.Error("counter-clockwise is not positive")
	}
	r := rand.New(rand.NewPCG(5, 6))
	zero := 0
	for range 30000 {
		a, b := Vec2{nearly(r), nearly(r)}, Vec2{nearly(r), nearly(r)}
		c := Vec2{nearly(r), nearly(r)}
		if r.IntN(2) == 0 {
			c = a.Add(b.Sub(a).Mul(r.Float64()))
		}
		one := big.NewRat(1, 1)
		want := det([][]*big.Rat{{rat(a.X), rat(a.Y), one}, {rat(b.X), rat(b.Y), one}, {rat(c.X), rat(c.Y), one}}).Sign()
		if got := sign(orient2d(a, b, c)); got != want {
			t.Fatalf("%v %v %v: %d, want %d", a, b, c, got, want)
		}
		if want == 0 {
			zero++
		}
		cross := new(big.Rat).Sub(new(big.Rat).Mul(rat(a.X), rat(b.Y)), new(big.Rat).Mul(rat(a.Y), rat(b.X))).Sign()
		if got := sign(cross2(a, b)); got != cross {
			t.Fatalf("%v x %v: %d, want %d", a, b, got, cross)
		}
	}
	if zero == 0 {
		t.Error("no case was exactly on a line")
	}
}

func TestOrient3d(t *testing.T) {
	if orient3d(V(0, 0, 0), V(1, 0, 0), V(0, 1, 0), V(0, 0, -1)) <= 0 {
		t.Error("below a plane is not positive")
	}
	r := rand.New(rand.NewPCG(7, 8))
	p := func() Vec { return V(nearly(r), nearly(r), nearly(r)) }
	zero := 0
	for range 10000 {
		a, b, c, d := p(), p(), p(), p()
		if r.IntN(2) == 0 {
			d = a.Add(b.Sub(a).Mul(r.Float64())).Add(c.Sub(a).Mul(r.Float64()))
		}
		one := big.NewRat(1, 1)
		row := func(v Vec) []*big.Rat { return []*big.Rat{rat(v.X), rat(v.Y), rat(v.Z), one} }
		want := det([][]*big.Rat{row(a), row(b), row(c), row(d)}).Sign()
		if got := sign(orient3d(a, b, c, d)); got != want {
			t.Fatalf("%v %v %v %v: %d, want %d", a, b, c, d, got, want)
		}
		if want == 0 {
			zero++
		}
	}
	if zero == 0 {
		t.Error("no case was exactly in a plane")
	}
}

func BenchmarkOrient2d(b *testing.B) {
	p, q := Vec2{0.1, 0.2}, Vec2{1.3, 4.7}
	b.Run("clear", func(b *testing.B) {
		for b.Loop() {
			orient2d(p, q, Vec2{3, 4})
		}
	})
	b.Run("on the line", func(b *testing.B) {
		for b.Loop() {
			orient2d(p, q, Vec2{(p.X + q.X) / 2, (p.Y + q.Y) / 2})
		}
	})
}
