package rules

import (
	"strings"
	"sync"

	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/measure"
	"embedcheck/internal/model"
)

// cast is what is known of how one host is cast.
type cast struct {
	*measure.Casting
	measure.StatedCast
}

func (c *cast) known() bool { return c != nil && c.Up != geom.Vec{} }

// casts are those of the hosts of items that state anything of it, or have an
// item that does.
func (p *Pass) casts(items []inFace) map[*model.Host]*cast {
	asked := map[*model.Host]*model.Item{}
	var hosts []*model.Host
	for _, f := range items {
		h := f.it.Host
		_, up := h.Says(measure.FaceUpProperty)
		_, form := h.Says(measure.FormFaceProperty)
		_, own := f.it.Says(castFaceProperty)
		if h.Body != nil && (up || form || own) && asked[h] == nil {
			asked[h], hosts = f.it, append(hosts, h)
		}
	}
	near := sync.OnceValue(func() *measure.Surroundings { return measure.NewSurroundings(p.m.Hosts) })
	list := make([]cast, len(hosts)) // slot i belongs to host i: no lock
	p.each(len(hosts), func(i int) {
		c := measure.CastingOf(hosts[i], near())
		list[i] = cast{c, c.Stated()}
	})
	out := make(map[*model.Host]*cast, len(hosts))
	for i, h := range hosts {
		out[h] = &list[i]
		if c := &list[i]; !c.known() && c.Why != "" {
			p.Unchecked(asked[h], nil, p.Rule.ID+": "+finding.Plain(c.Why)+"; state a side of "+hostName(h)+" as its rule page says")
		}
	}
	return out
}

// facesNamed are the directions out of the faces that an item names, or why they
// are not known.
func (c *cast) facesNamed(v string) (out []geom.Vec, why string) {
	if d, ok := c.Direction(v); ok {
		return []geom.Vec{d}, ""
	}
	up := geom.Vec{}
	if c.known() {
		up = c.Up
	}
	switch v := strings.ToLower(v); {
	case v != "up" && v != "form" && v != "side":
		return nil, "want up, form, side or a side of the host that is known"
	case !c.known():
		return nil, "the model does not state which face of the host is up in the form"
	case v == "up":
		return []geom.Vec{up}, ""
	case v == "form":
		return []geom.Vec{up.Neg()}, ""
	}
	for _, a := range c.Axes {
		if d := a.Dot(up); d < sameFace && d > -sameFace {
			out = append(out, a, a.Neg())
		}
	}
	return out, ""
}

// faceWord is what a face is called on a sheet of the host.
func faceWord(n geom.Vec) string {
	switch {
	case n.Z > sameFace:
		return "top"
	case n.Z < -sameFace:
		return "underside"
	}
	return "face to model " + measure.AxisName(n)
}
