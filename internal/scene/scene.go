package scene

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"math"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
)

// Maker packs findings of one model. It may be shared by goroutines.
type Maker struct{ index *subject.Index }

// New gets ready to pack findings of the model that an index is of.
func New(x *subject.Index) *Maker { return &Maker{x} }

// text is the JSON text of a scene.
type text struct {
	Names  []name   `json:"names"`
	Bodies []int    `json:"bodies"` // index in Names
	Views  []*place `json:"views"`  // nil for a finding that there is nothing to be seen of
}

// name is what a person calls a body.
type name struct {
	Name  string `json:"n,omitempty"`
	Mark  string `json:"m,omitempty"`
	Kind  string `json:"k"` // of an item; else concrete or bar
	Class string `json:"c,omitempty"`
	ID    string `json:"g,omitempty"`
}

// place is how a finding is seen; lengths in mm from the scene's origin.
type place struct {
	Shown  [6][]int    `json:"shown"` // bodies by their subject.Role; each but the first as its distance from the one before
	Centre [3]float64  `json:"centre"`
	Radius float64     `json:"radius"`
	Back   [3]float64  `json:"back"` // unit, to the eye
	Entry  [3]float64  `json:"entry"`
	Axis   [3]float64  `json:"axis"` // unit, into the concrete
	Side   [3]float64  `json:"side"` // unit, to what is taken away
	Cuts   bool        `json:"cuts"`
	From   *[3]float64 `json:"from,omitempty"` // where the figure was taken
	To     *[3]float64 `json:"to,omitempty"`
}

// Of packs findings: a body that several of them show is there once.
func (k *Maker) Of(findings []*finding.Finding) ([]byte, error) {
	p := newPacker(k.index.Model())
	for _, f := range findings {
		s, err := k.index.Of(f)
		var nothing *subject.NoPlaceError
		switch {
		case errors.As(err, &nothing):
			p.text.Views = append(p.text.Views, nil)
		case err != nil:
			return nil, err
		default:
			p.text.Views = append(p.text.Views, p.place(s))
		}
	}
	return p.bytes()
}

// packer puts together one scene.
type packer struct {
	m      *model.Model
	text   text
	origin geom.Vec
	placed bool // the origin is chosen
	names  map[name]int
	bodies map[any]int // by the body's pointer, or the number of a bar
	shapes []byte
}

func newPacker(m *model.Model) *packer {
	return &packer{m: m, names: map[name]int{}, bodies: map[any]int{}}
}

func (p *packer) bytes() ([]byte, error) {
	var head bytes.Buffer
	e := json.NewEncoder(&head)
	e.SetEscapeHTML(false)
	if err := e.Encode(&p.text); err != nil {
		return nil, err
	}
	out := binary.LittleEndian.AppendUint32(nil, uint32(head.Len()))
	out = append(out, head.Bytes()...)
	return append(out, p.shapes...), nil
}

// place adds what is seen of a finding. The origin of a scene is at its first
// finding, on whole millimetres.
func (p *packer) place(s *subject.Subject) *place {
	if !p.placed {
		e := s.Entry()
		p.origin, p.placed = geom.V(math.Round(e.X), math.Round(e.Y), math.Round(e.Z)), true
	}
	o := s.Outlook()
	v := &place{
		Centre: p.at(o.Centre), Radius: tenths(o.Radius), Back: unit(o.Back), Entry: p.at(s.Entry()),
		Axis: unit(s.Axis()), Side: unit(o.Cut.N), Cuts: o.Cuts,
	}
	if from, to, ok := s.Measured(); ok {
		a, b := p.at(from), p.at(to)
		v.From, v.To = &a, &b
	}
	p.hosts(s, v)
	p.items(s, v, o.Radius)
	p.bars(s, v, o.Radius)
	for i := range v.Shown {
		v.Shown[i] = apart(v.Shown[i])
	}
	return v
}

func (p *packer) hosts(s *subject.Subject, v *place) {
	host, other := s.Hosts()
	if host != nil {
		var r *model.Ref
		if s.Host != nil {
			r = &s.Host.Ref
		}
		v.show(subject.TheHost, p.mesh(host.Mesh(), host.Mesh(), r, "concrete"))
	}
	if other != nil {
		v.show(subject.OtherHost, p.mesh(other.Mesh(), other.Mesh(), &s.Aim.Host.Ref, "concrete"))
	}
}

func (p *packer) items(s *subject.Subject, v *place, radius float64) {
	for _, a := range s.ItemsAround(radius) {
		for i := range a.Item.Bodies {
			b := &a.Item.Bodies[i]
			r, kind := &a.Item.Ref, a.Item.Kind.String()
			if b.Ref != nil {
				r = b.Ref
			}
			if b.Rod != nil {
				v.show(a.Role, p.rod(b, b.Rod, r, kind))
			} else {
				v.show(a.Role, p.mesh(b, b.Mesh, r, kind))
			}
		}
	}
}

func (p *packer) bars(s *subject.Subject, v *place, radius float64) {
	for _, b := range s.BarsAround(radius) {
		i, known := p.bodies[b.Piece]
		if !known {
			r := s.Index.Ref(&b.Bar)
			if b.Rod != nil {
				i = p.rod(b.Piece, b.Rod, &r, "bar")
			} else {
				i = p.mesh(b.Piece, b.Mesh, &r, "bar")
			}
		}
		v.show(b.Role, i)
	}
}

// show adds a body to what is seen; -1 is none.
func (v *place) show(r subject.Role, body int) {
	if body >= 0 {
		v.Shown[r] = append(v.Shown[r], body)
	}
}

// mesh is the number of a body that is a mesh, -1 when nothing of it can be shown.
func (p *packer) mesh(key any, m *geom.Mesh, r *model.Ref, kind string) int {
	return p.body(key, r, kind, func() []byte { return p.packMesh(m) })
}

func (p *packer) rod(key any, rod *geom.Rod, r *model.Ref, kind string) int {
	return p.body(key, r, kind, func() []byte { return p.packRod(rod) })
}

func (p *packer) body(key any, r *model.Ref, kind string, shape func() []byte) int {
	if i, ok := p.bodies[key]; ok {
		return i
	}
	i := -1
	if data := shape(); data != nil {
		i = len(p.text.Bodies)
		p.text.Bodies = append(p.text.Bodies, p.name(r, kind))
		p.shapes = append(p.shapes, data...)
	}
	p.bodies[key] = i
	return i
}

func (p *packer) name(r *model.Ref, kind string) int {
	n := name{Kind: kind}
	if r != nil {
		n.Name, n.Mark, n.Class, n.ID = finding.Plain(r.Name), finding.Plain(r.Mark), finding.Plain(r.Class), finding.Plain(r.GlobalID)
	}
	i, ok := p.names[n]
	if !ok {
		i = len(p.text.Names)
		p.names[n] = i
		p.text.Names = append(p.text.Names, n)
	}
	return i
}

// at is a place from the origin, mm to a tenth.
func (p *packer) at(v geom.Vec) [3]float64 {
	v = v.Sub(p.origin)
	return [3]float64{tenths(v.X), tenths(v.Y), tenths(v.Z)}
}

// tenths is a length to a tenth of a millimetre. What is no number, which JSON
// has no word for, is 0.
func tenths(x float64) float64 { return rounded(x, 10) }

// unit is a direction to four digits.
func unit(v geom.Vec) [3]float64 {
	return [3]float64{rounded(v.X, 1e4), rounded(v.Y, 1e4), rounded(v.Z, 1e4)}
}

func rounded(x, parts float64) float64 {
	if x = math.Round(x*parts) / parts; math.IsNaN(x) || math.IsInf(x, 0) || x == 0 {
		return 0
	}
	return x
}

// apart is numbers as their distances from the one before.
func apart(list []int) []int {
	last := 0
	for i, n := range list {
		list[i], last = n-last, n
	}
	return list
}
