package recognise

import (
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/rod"
)

// piece is one connected body of an item with the round members found in it.
type piece struct {
	elem    *elem
	body    model.Body
	members []rod.Member
}

// pieces are the connected bodies of an element in local coordinates, and what
// could not be turned into one.
func (e *elem) pieces() ([]piece, []model.Unread) {
	var out []piece
	var lack []model.Unread
	for i := range e.Shape.Parts {
		p := &e.Shape.Parts[i]
		if r, ok := e.slenderRod(p); ok {
			out = append(out, piece{e, model.Body{Rod: &r, Box: r.Box()}, rod.FromRod(r)})
			continue
		}
		m, err := p.Solid.Mesh()
		if err != nil {
			lack = append(lack, e.unread("item", p.Solid.ItemType+": "+err.Error()))
			continue
		}
		for _, s := range m.Transform(e.place(p)).Shells() {
			out = append(out, meshPiece(e, s))
		}
	}
	for _, u := range e.Shape.Unread {
		lack = append(lack, e.unread("item", u.ItemType+": "+u.Why))
	}
	return joinBends(out), lack
}

// meshPiece keeps a shell as the rod that it is when it is nothing but one, so
// that distances are those of the round bar and not of its facets.
func meshPiece(e *elem, m *geom.Mesh) piece {
	p := piece{e, model.Body{Mesh: m, Box: m.Box()}, rod.FromMesh(m)}
	if len(p.members) != 1 {
		return p
	}
	b := p.members[0]
	if len(b.Heads) > 0 || b.Inner > 0 {
		return p
	}
	r := geom.Rod{Path: memberPath(&b), Radius: b.Radius}
	if grown := r.Box().Grow(0.5); grown.Has(p.body.Box.Min) && grown.Has(p.body.Box.Max) {
		p.body.Rod, p.body.Mesh = &r, nil
	}
	return p
}

// memberPath is the centreline of a member with its hook.
func memberPath(b *rod.Member) []geom.Vec {
	path := []geom.Vec{b.A, b.B}
	if b.Hook != nil {
		for _, p := range b.Hook.Path {
			if p.Dist(path[len(path)-1]) > 1e-6 {
				path = append(path, p)
			}
		}
	}
	return path
}

func (e *elem) unread(role, why string) model.Unread {
	return model.Unread{Ref: e.ref(), Role: role, Why: why, At: e.box.Center()}
}

// samples are points well inside a meshed piece, to ask what concrete it lies in.
func (p *piece) samples() []geom.Vec {
	m := p.body.Mesh
	c := m.Box().Center()
	step := max(1, len(m.Verts)/24)
	out := []geom.Vec{c}
	for i := 0; i < len(m.Verts); i += step {
		out = append(out, m.Verts[i].Lerp(c, 0.1))
	}
	return out
}

// around are points just outside the piece, to ask what concrete it touches.
func (p *piece) around() []geom.Vec {
	const out = 3
	b := p.body.Box.Grow(out)
	c := b.Center()
	pts := []geom.Vec{
		{X: b.Min.X, Y: c.Y, Z: c.Z}, {X: b.Max.X, Y: c.Y, Z: c.Z},
		{X: c.X, Y: b.Min.Y, Z: c.Z}, {X: c.X, Y: b.Max.Y, Z: c.Z},
		{X: c.X, Y: c.Y, Z: b.Min.Z}, {X: c.X, Y: c.Y, Z: b.Max.Z},
	}
	if m := p.body.Mesh; m != nil {
		for i := range m.Tris {
			a, b, c := m.Tri(i)
			n := b.Sub(a).Cross(c.Sub(a)).Unit()
			pts = append(pts, a.Add(b).Add(c).Mul(1.0/3).Add(n.Mul(out)))
		}
	}
	return pts
}
