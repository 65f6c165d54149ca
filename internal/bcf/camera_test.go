package bcf

import (
	"math"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
)

func at(p, normal geom.Vec) finding.Instance {
	return finding.Instance{At: p, Normal: normal, Measured: 20, Required: 50, Unit: "mm", Relation: finding.AtLeast}
}

func degreesBetween(a, b geom.Vec) float64 {
	return math.Atan2(a.Cross(b).Norm(), a.Dot(b)) * 180 / math.Pi
}

// In every direction: from the open side, not along the face, and the up
// vector at a right angle to the direction.
func TestCameraLooksFromTheOpenSide(t *testing.T) {
	normals := []geom.Vec{
		geom.V(1, 0, 0), geom.V(-1, 0, 0), geom.V(0, 1, 0), geom.V(0, -1, 0), geom.V(0, 0, 1), geom.V(0, 0, -1),
		geom.V(0, math.Sqrt(0.51), 0.7), geom.V(0, math.Sqrt(0.51), -0.7), geom.V(0, 1e-9, 1),
	}
	r := rand.New(rand.NewPCG(13, 14))
	for range 2000 {
		normals = append(normals, geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()))
	}
	p := geom.V(6.7e6, -3, 12)
	for _, n := range normals {
		c := cameraFor(&finding.Finding{Instances: []finding.Instance{at(p, n)}})
		if a := degreesBetween(c.Direction.Neg(), n); a < 10 || a > 30 {
			t.Fatalf("normal %v: %.1f degrees from it", n, a)
		}
		if c.Eye.Sub(p).Dot(n) <= 0 {
			t.Fatalf("normal %v: the eye is behind the face", n)
		}
		if a := degreesBetween(c.Direction, c.Up); math.Abs(a-90) > 1e-6 {
			t.Fatalf("normal %v: up is %.6f degrees from the direction", n, a)
		}
		if math.Abs(c.Direction.Norm()-1) > 1e-9 || math.Abs(c.Up.Norm()-1) > 1e-9 {
			t.Fatalf("normal %v: lengths %v, %v", n, c.Direction.Norm(), c.Up.Norm())
		}
		// The axis of the view passes through the place.
		if off := c.Direction.Cross(p.Sub(c.Eye)).Norm(); off > 1e-6 {
			t.Fatalf("normal %v: the view misses the place by %v m", n, off)
		}
		if math.Abs(n.Unit().Z) <= 0.7 && c.Up.Z <= 0 {
			t.Fatalf("normal %v: the picture of an upright face is upside down", n)
		}
	}
}

func TestCameraWithoutNormal(t *testing.T) {
	f := &finding.Finding{Instances: []finding.Instance{at(geom.V(1, 2, 3), geom.Vec{})}}
	c := cameraFor(f)
	if c == nil || c.Eye.Z <= 3 || degreesBetween(c.Direction, c.Up) < 89 {
		t.Errorf("got %+v", c)
	}
	f.Instances = append(f.Instances, at(geom.V(1, 2, 3), geom.V(1, 0, 0)))
	if c := cameraFor(f); c.Eye.X <= 1 {
		t.Errorf("the normal of another place has to do: %+v", c)
	}
}

func TestNoCameraWithoutAPlace(t *testing.T) {
	for name, in := range map[string]finding.Instance{
		"nothing known":       {},
		"not a number":        at(geom.V(nan, 0, 0), geom.V(1, 0, 0)),
		"infinite":            at(geom.V(0, inf, 0), geom.V(1, 0, 0)),
		"out of every model":  at(geom.V(1e13, 0, 0), geom.V(1, 0, 0)),
		"overflowing":         at(geom.V(1e300, 1e300, 0), geom.V(1, 0, 0)),
		"not measured at all": {At: geom.V(nan, nan, nan)},
	} {
		if c := cameraFor(&finding.Finding{Instances: []finding.Instance{in}}); c != nil {
			t.Errorf("%s: got %+v", name, c)
		}
	}
	if cameraFor(&finding.Finding{}) != nil {
		t.Error("camera without an instance")
	}
	if cameraFor(&finding.Finding{Instances: []finding.Instance{at(geom.Vec{}, geom.Vec{})}}) == nil {
		t.Error("what was measured at the origin has a place")
	}
}

// All places near the worst one are in the picture, whichever way a reader takes
// the field of view.
func TestCameraShowsAllPlacesNearby(t *testing.T) {
	f := &finding.Finding{Instances: []finding.Instance{
		at(geom.V(0, 0, 0), geom.V(0, -1, 0)), at(geom.V(3, 0, 0), geom.V(0, -1, 0)), at(geom.V(3, 0, 2), geom.V(0, -1, 0)),
		at(geom.V(400, 0, 0), geom.V(0, -1, 0)),
	}}
	c := cameraFor(f)
	for _, in := range f.Instances[:3] {
		if a := degreesBetween(c.Direction, in.At.Sub(c.Eye)); a > fieldOfView/2 {
			t.Errorf("%v is %.1f degrees off the middle", in.At, a)
		}
	}
	if d := c.Eye.Dist(geom.V(1.5, 0, 1)); d > 20 {
		t.Errorf("a place far away drew the eye back to %.0f m", d)
	}
}

func TestCameraDistance(t *testing.T) {
	away := func(in finding.Instance) float64 {
		return cameraFor(&finding.Finding{Instances: []finding.Instance{in}}).Eye.Dist(in.At)
	}
	p, n := geom.V(1, 1, 1), geom.V(1, 0, 0)
	large := at(p, n)
	large.Measured, large.Required = 400, 500
	huge := large
	huge.Required = 1e9
	for _, c := range []struct {
		name string
		in   finding.Instance
		want float64
	}{
		{"small", at(p, n), distance * leastRadius},
		{"large edge distance", large, distance * 1},
		{"senseless limit", huge, distance * 1.5},
	} {
		if got := away(c.in); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.3f m away, want %.3f", c.name, got, c.want)
		}
	}
}
