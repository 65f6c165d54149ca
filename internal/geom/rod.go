package geom

// Rod is a round bar, tube or bolt: every point within Radius of the path, with
// flat ends at right angles to it. Bends are short straight pieces. Inner is
// the radius of a tube's hole, 0 for a solid bar.
type Rod struct {
	Path   []Vec
	Radius float64
	Inner  float64
}

// Box is the box around the rod; at the flat ends it is up to Radius too large.
func (r Rod) Box() Box { return BoxOf(r.Path...).Grow(r.Radius) }

// Length is the length of the path.
func (r Rod) Length() float64 {
	var l float64
	for i := 1; i < len(r.Path); i++ {
		l += r.Path[i].Dist(r.Path[i-1])
	}
	return l
}

// Transform is the rod moved by m, and false when m does not scale all
// directions alike, so that the result would not be round.
func (r Rod) Transform(m Affine) (Rod, bool) {
	s, ok := m.Scale()
	if !ok {
		return Rod{}, false
	}
	out := Rod{Path: make([]Vec, len(r.Path)), Radius: r.Radius * s, Inner: r.Inner * s}
	for i, p := range r.Path {
		out.Path[i] = m.Apply(p)
	}
	return out, true
}
