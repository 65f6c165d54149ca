package shape

import "math"

// Outlines of the parametrised profiles, counter-clockwise, in mm, with the
// middle of the bounding box at the origin. Slopes are radians. The thickness of
// a sloping flange is measured at a quarter of an I's width and in the middle of
// a U's, that of a leg in the middle of its length: so the areas agree with
// those of the section tables. Which way the flanges of a Z point is from memory.

// iSection is an I with its web along y.
type iSection struct {
	depth, web              float64
	bottom, top             flange
	bottomFillet, topFillet float64
}

// flange is one flange of an I: its full width, its thickness, the rounding of
// its tips and the slope of its inner face.
type flange struct{ width, thick, edge, slope float64 }

// tip is the thickness at the outer end, root that at a web of the given width.
func (f flange) tip() float64 { return f.thick - f.width/4*math.Tan(f.slope) }
func (f flange) root(web float64) float64 {
	return f.tip() + (f.width-web)/2*math.Tan(f.slope)
}

func (s iSection) outline() []corner {
	h, w := s.depth/2, s.web/2
	b, t := s.bottom.width/2, s.top.width/2
	return []corner{
		{-b, -h, 0},
		{b, -h, 0},
		{b, -h + s.bottom.tip(), s.bottom.edge},
		{w, -h + s.bottom.root(s.web), s.bottomFillet},
		{w, h - s.top.root(s.web), s.topFillet},
		{t, h - s.top.tip(), s.top.edge},
		{t, h, 0},
		{-t, h, 0},
		{-t, h - s.top.tip(), s.top.edge},
		{-w, h - s.top.root(s.web), s.topFillet},
		{-w, -h + s.bottom.root(s.web), s.bottomFillet},
		{-b, -h + s.bottom.tip(), s.bottom.edge},
	}
}

// lOutline is an angle with its corner at the lower left.
func lOutline(depth, width, thick, fillet, edge, slope float64) []corner {
	h, w := depth/2, width/2
	k := math.Tan(slope)
	// the inner faces thicken from the tips to the corner by k per unit
	tipX, tipY := thick-depth/2*k, thick-width/2*k
	// where both inner faces meet: x = tipX + k (depth - y), y = tipY + k (width - x)
	x := (tipX + k*depth - k*(tipY+k*width)) / (1 - k*k)
	y := tipY + k*(width-x)
	return []corner{
		{-w, -h, 0},
		{w, -h, 0},
		{w, -h + tipY, edge},
		{-w + x, -h + y, fillet},
		{-w + tipX, h, edge},
		{-w, h, 0},
	}
}

// uOutline is a channel with its web at the left.
func uOutline(depth, width, web, thick, fillet, edge, slope float64) []corner {
	h, w := depth/2, width/2
	tip := thick - width/2*math.Tan(slope)
	root := tip + (width-web)*math.Tan(slope)
	return []corner{
		{-w, -h, 0},
		{w, -h, 0},
		{w, -h + tip, edge},
		{-w + web, -h + root, fillet},
		{-w + web, h - root, fillet},
		{w, h - tip, edge},
		{w, h, 0},
		{-w, h, 0},
	}
}

// cOutline is a cold-formed channel with lips, its web at the left. The
// inner rounding is given, the outer one is wider by the wall.
func cOutline(depth, width, wall, girth, inner float64) []corner {
	h, w, t := depth/2, width/2, wall
	outer := 0.0
	if inner > 0 {
		outer = inner + wall
	}
	return []corner{
		{-w, -h, outer},
		{w, -h, outer},
		{w, -h + girth, 0},
		{w - t, -h + girth, 0},
		{w - t, -h + t, inner},
		{-w + t, -h + t, inner},
		{-w + t, h - t, inner},
		{w - t, h - t, inner},
		{w - t, h - girth, 0},
		{w, h - girth, 0},
		{w, h, outer},
		{-w, h, outer},
	}
}

// zOutline has its lower flange to the right and its upper one to the left of
// the web.
func zOutline(depth, width, web, thick, fillet, edge float64) []corner {
	h, w := depth/2, web/2
	b := width - w
	return []corner{
		{-w, -h, 0},
		{b, -h, 0},
		{b, -h + thick, edge},
		{w, -h + thick, fillet},
		{w, h, 0},
		{-b, h, 0},
		{-b, h - thick, edge},
		{-w, h - thick, fillet},
	}
}

// tSection is a T with its flange on top.
type tSection struct {
	depth, width, web, thick    float64
	fillet, flangeEdge, webEdge float64
	webSlope, flangeSlope       float64
}

func (s tSection) outline() []corner {
	h, b := s.depth/2, s.width/2
	kw, kf := math.Tan(s.webSlope), math.Tan(s.flangeSlope)
	// half the web at its foot, and the flange at its tip
	foot := s.web/2 - s.depth/2*kw
	tip := s.thick - s.width/4*kf
	// inner faces: x = foot + kw Y with Y from the foot up, D = tip + kf (b - x)
	// with D from the top down; they meet where Y = depth - D
	x := (foot + kw*(s.depth-tip-kf*b)) / (1 - kw*kf)
	d := tip + kf*(b-x)
	return []corner{
		{-foot, -h, s.webEdge},
		{foot, -h, s.webEdge},
		{x, h - d, s.fillet},
		{b, h - tip, s.flangeEdge},
		{b, h, 0},
		{-b, h, 0},
		{-b, h - tip, s.flangeEdge},
		{-x, h - d, s.fillet},
	}
}

// rectOutline is a rectangle around the origin with rounded corners.
func rectOutline(x, y, r float64) []corner {
	return []corner{{-x / 2, -y / 2, r}, {x / 2, -y / 2, r}, {x / 2, y / 2, r}, {-x / 2, y / 2, r}}
}
