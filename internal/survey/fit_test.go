package survey

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"embedcheck/internal/geom"
)

// turned is a rigid frame: a turn about an axis, then a move.
func turned(axis geom.Vec, radians float64, move geom.Vec) geom.Affine {
	k, c, s := axis.Unit(), math.Cos(radians), math.Sin(radians)
	about := func(v geom.Vec) geom.Vec { // Rodrigues
		return v.Mul(c).Add(k.Cross(v).Mul(s)).Add(k.Mul(k.Dot(v) * (1 - c)))
	}
	return geom.Affine{X: about(geom.V(1, 0, 0)), Y: about(geom.V(0, 1, 0)), Z: about(geom.V(0, 0, 1)), T: move}
}

// surveyed are points of a model as somebody measures them in another frame.
func surveyed(model []geom.Vec, frame geom.Affine) []Pair {
	var out []Pair
	for i, p := range model {
		out = append(out, Pair{Name: "R" + string(rune('1'+i)), Model: p, Measured: frame.Local(p)})
	}
	return out
}

// box are the corners of a block of 3000 x 200 x 2600 mm, a wall panel.
var box = func() []geom.Vec {
	c := geom.BoxOf(geom.V(0, 0, 0), geom.V(3000, 200, 2600)).Corners()
	return c[:]
}()

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within || math.IsNaN(got) {
		t.Errorf("%s is %.9g, want %.9g", what, got, want)
	}
}

// TestUmeyama is the example in section IV of S. Umeyama, Least-squares
// estimation of transformation parameters between two point patterns, IEEE
// Transactions on Pattern Analysis and Machine Intelligence 13 (1991), figures
// from memory: the points (0,0), (1,0), (0,2) against (0,0), (-1,0), (0,2) give
// the rotation (0.832 0.555; -0.555 0.832), the case in which a plain singular
// value decomposition would mirror. By hand it is (3 2; -2 3) / root 13. The
// plane figure becomes one in space by doubling it far above and below, so that
// it turns about z only.
func TestUmeyama(t *testing.T) {
	from := [][2]float64{{0, 0}, {1, 0}, {0, 2}}
	to := [][2]float64{{0, 0}, {-1, 0}, {0, 2}}
	var refs []Pair
	for i := range from {
		for _, z := range []float64{-50, 50} {
			refs = append(refs, Pair{
				Model:    geom.V(1000*to[i][0], 1000*to[i][1], 1000*z),
				Measured: geom.V(1000*from[i][0], 1000*from[i][1], 1000*z),
			})
		}
	}
	m := motion(refs, false)
	r := math.Sqrt(13)
	near(t, "R11", m.X.X, 3/r, 1e-9)
	near(t, "R12", m.Y.X, 2/r, 1e-9)
	near(t, "R21", m.X.Y, -2/r, 1e-9)
	near(t, "R22", m.Y.Y, 3/r, 1e-9)
	near(t, "R33", m.Z.Z, 1, 1e-9)
	// The figures as printed, to the digits that are.
	near(t, "R11 as printed", m.X.X, 0.832, 5e-4)
	near(t, "R12 as printed", m.Y.X, 0.555, 5e-4)
	near(t, "determinant", m.Det(), 1, 1e-12)
	mirrored := motion(refs, true)
	near(t, "determinant of the mirrored one", mirrored.Det(), -1, 1e-12)
	near(t, "misfit of the mirrored one", rmsOf(refs, mirrored), 0, 1e-6)
}

// twin is the fit by the unit quaternion of B. K. P. Horn, Closed-form solution
// of absolute orientation using unit quaternions, Journal of the Optical Society
// of America A 4 (1987): the eigenvector of the largest eigenvalue of his matrix
// N, found here by plain repeated multiplication. It shares nothing with motion.
func twin(refs []Pair) geom.Affine {
	var a, b geom.Vec
	for _, p := range refs {
		a, b = a.Add(p.Measured), b.Add(p.Model)
	}
	n := 1 / float64(len(refs))
	a, b = a.Mul(n), b.Mul(n)
	var xx, xy, xz, yx, yy, yz, zx, zy, zz, size float64
	for _, p := range refs {
		l, r := p.Measured.Sub(a), p.Model.Sub(b)
		xx, xy, xz = xx+l.X*r.X, xy+l.X*r.Y, xz+l.X*r.Z
		yx, yy, yz = yx+l.Y*r.X, yy+l.Y*r.Y, yz+l.Y*r.Z
		zx, zy, zz = zx+l.Z*r.X, zy+l.Z*r.Y, zz+l.Z*r.Z
		size += l.Norm() * r.Norm()
	}
	m := [4][4]float64{
		{xx + yy + zz, yz - zy, zx - xz, xy - yx},
		{yz - zy, xx - yy - zz, xy + yx, zx + xz},
		{zx - xz, xy + yx, -xx + yy - zz, yz + zy},
		{xy - yx, zx + xz, yz + zy, -xx - yy + zz},
	}
	for i := range 4 {
		m[i][i] += size // all eigenvalues positive, the largest stays the largest
	}
	for range 40 { // the 2^40th power
		var sq [4][4]float64
		most := 0.0
		for i := range 4 {
			for j := range 4 {
				for k := range 4 {
					sq[i][j] += m[i][k] * m[k][j]
				}
				most = max(most, math.Abs(sq[i][j]))
			}
		}
		for i := range 4 {
			for j := range 4 {
				m[i][j] = sq[i][j] / most
			}
		}
	}
	col := 0
	for j := range 4 {
		if m[j][j] > m[col][col] {
			col = j
		}
	}
	w, x, y, z := m[0][col], m[1][col], m[2][col], m[3][col]
	l := math.Sqrt(w*w + x*x + y*y + z*z)
	w, x, y, z = w/l, x/l, y/l, z/l
	r := geom.Affine{
		X: geom.V(w*w+x*x-y*y-z*z, 2*(y*x+w*z), 2*(z*x-w*y)),
		Y: geom.V(2*(x*y-w*z), w*w-x*x+y*y-z*z, 2*(z*y+w*x)),
		Z: geom.V(2*(x*z+w*y), 2*(y*z-w*x), w*w-x*x-y*y+z*z),
	}
	r.T = b.Sub(r.Turn(a))
	return r
}

func TestAgainstQuaternions(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	gauss := func(s float64) geom.Vec {
		return geom.V(s*rnd.NormFloat64(), s*rnd.NormFloat64(), s*rnd.NormFloat64())
	}
	for i := range 400 {
		flat := i%4 == 0 // all in one plane
		var model []geom.Vec
		for range 3 + rnd.IntN(7) {
			p := gauss(2000)
			if flat {
				p.Z = 0
			}
			model = append(model, p)
		}
		refs := surveyed(model, turned(gauss(1), 6*rnd.Float64(), gauss(1e6)))
		for k := range refs {
			refs[k].Measured = refs[k].Measured.Add(gauss(3))
		}
		f, err := New(refs)
		if err != nil {
			continue
		}
		slow := twin(refs)
		for _, p := range refs {
			if d := f.Apply(p.Measured).Dist(slow.Apply(p.Measured)); d > 1e-5 {
				t.Fatalf("case %d: a point is %g mm from where the quaternion puts it", i, d)
			}
		}
		near(t, "determinant", f.Motion.Det(), 1, 1e-9)
		near(t, "RMS", f.RMS, rmsOf(refs, slow), 1e-6)
	}
}

func TestRoundTrip(t *testing.T) {
	for name, frame := range map[string]geom.Affine{
		"as it is":        geom.Identity,
		"moved":           geom.Identity.Shift(geom.V(1e3, -2e3, 50)),
		"turned":          turned(geom.V(0, 0, 1), 0.7, geom.V(100, 0, 0)),
		"standing":        turned(geom.V(1, 0, 0), math.Pi/2, geom.V(0, 0, 0)),
		"on its head":     turned(geom.V(1, 1, 0), math.Pi, geom.V(0, 0, 0)),
		"national grid":   turned(geom.V(0.01, 0, 1), 2.4, geom.V(5.12e8, 5.93e9, 2.1e5)),
		"axes in a cycle": turned(geom.V(1, 1, 1), 2*math.Pi/3, geom.V(0, 0, 0)),
	} {
		t.Run(name, func(t *testing.T) {
			for _, take := range [][]int{{0, 1, 2}, {0, 1, 4}, {0, 1, 2, 3}, {0, 1, 2, 3, 4, 5, 6, 7}} {
				var model []geom.Vec
				for _, i := range take {
					model = append(model, box[i])
				}
				f, err := New(surveyed(model, frame))
				if err != nil {
					t.Fatal(err)
				}
				near(t, "RMS", f.RMS, 0, 1e-4)
				bolt := geom.V(1500, 100, 2650)
				near(t, "distance of a bolt", f.Apply(frame.Local(bolt)).Dist(bolt), 0, 1e-3)
				near(t, "uncertainty", f.Uncertainty(bolt), 0, 1e-3)
			}
		})
	}
}

func TestReferencesThatFixNothing(t *testing.T) {
	line := func(off float64) []geom.Vec {
		return []geom.Vec{{}, geom.V(1000, 0, 0), geom.V(2000, off, 0), geom.V(3000, 0, 0)}
	}
	for _, c := range []struct {
		name  string
		model []geom.Vec
		want  string // "" when they do
	}{
		{"none", nil, "there are 0"},
		{"two", box[:2], "there are 2"},
		{"on a line", line(0), "one line"},
		{"all in one place", make([]geom.Vec, 4), "one line"},
		// 49 mm off at one of four: the root of the mean square off the best line
		// is 20 mm, a fiftieth of the spread along it is 22 mm.
		{"nearly on a line", line(49), "one line"},
		{"just off a line", line(60), ""},
		{"short, well spread", []geom.Vec{{}, geom.V(40, 0, 0), geom.V(0, 40, 0)}, ""},
		{"too close together", []geom.Vec{{}, geom.V(12, 0, 0), geom.V(0, 12, 0)}, "one line"},
		{"more than anybody sights", make([]geom.Vec, 501), "there are 501"},
		{"no number", []geom.Vec{{}, geom.V(math.NaN(), 0, 0), geom.V(0, 400, 0)}, "no number"},
	} {
		_, err := New(surveyed(c.model, geom.Identity))
		if c.want == "" {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if !errors.Is(err, ErrReferences) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error is %v, want one with %q", c.name, err, c.want)
		}
	}
}

// TestUncertainty holds the propagated figure to what many surveys with a known
// scatter of 2 mm show: the root of the mean square of where they put a point.
func TestUncertainty(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	far := geom.V(6000, 100, 2650) // twice as far out as the references reach
	const surveys = 4000
	shown, said := 0.0, 0.0
	for range surveys {
		refs := surveyed(box[:5], geom.Identity)
		for i := range refs {
			refs[i].Measured = refs[i].Measured.Add(geom.V(2*rnd.NormFloat64(), 2*rnd.NormFloat64(), 2*rnd.NormFloat64()))
		}
		f, err := New(refs)
		if err != nil {
			t.Fatal(err)
		}
		shown += f.Apply(far).Sub(far).Norm2() / surveys
		said += f.Uncertainty(far) * f.Uncertainty(far) / surveys
	}
	if r := math.Sqrt(said / shown); r < 0.95 || r > 1.05 {
		t.Errorf("said %.2f mm, shown %.2f mm", math.Sqrt(said), math.Sqrt(shown))
	}
}

func TestOutliers(t *testing.T) {
	shift := func(refs []Pair, i int, by geom.Vec) []Pair {
		refs[i].Measured = refs[i].Measured.Add(by)
		return refs
	}
	noisy := func(points []geom.Vec) []Pair {
		refs := surveyed(points, turned(geom.V(0.2, 1, 0), 1, geom.V(1e5, 0, 0)))
		for i := range refs {
			refs[i].Measured = refs[i].Measured.Add(geom.V(float64(i%3-1), float64(i%2), float64((i+1)%3-1)))
		}
		return refs
	}
	face := []geom.Vec{box[0], box[1], box[4], box[5]}
	for _, c := range []struct {
		name string
		refs []Pair
		want []string
	}{
		{"all agree", noisy(box), nil},
		{"one of eight", shift(noisy(box), 5, geom.V(40, 0, 30)), []string{"R6"}},
		{"just too little", shift(noisy(box), 5, geom.V(4, 0, 0)), nil},
		{"two of eight", shift(shift(noisy(box), 5, geom.V(400, 0, 0)), 0, geom.V(0, 300, 0)), nil},
		{"three cannot tell", shift(noisy(box[:3]), 1, geom.V(90, 0, 0)), nil},
	} {
		got := Outliers(c.refs)
		var names []string
		for _, o := range got {
			names = append(names, o.Name)
		}
		if strings.Join(names, " ") != strings.Join(c.want, " ") {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	// Of four corners of a face one is too high: the plane of any three is as good.
	if got := Outliers(shift(surveyed(face, geom.Identity), 2, geom.V(0, 60, 0))); len(got) != 4 {
		t.Errorf("a face with one corner too high: %v, want all four", got)
	}
	// In the face the three others hold their distances, and it is told.
	if got := Outliers(shift(surveyed(face, geom.Identity), 2, geom.V(60, 0, 0))); len(got) != 1 || got[0].Name != "R3" {
		t.Errorf("a face with one corner aside: %v, want R3", got)
	}
}
