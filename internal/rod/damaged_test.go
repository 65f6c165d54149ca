package rod

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"embedcheck/internal/geom"
)

// Bodies with triangles missing, doubled, turned over and vertices moved: what
// is found may be anything that is sane.
func TestFromMeshDamaged(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 14))
	all := bodies()
	for name, m := range others() {
		all = append(all, bodyCase{name: name, mesh: m})
	}
	for _, c := range all {
		for range 3 {
			m := damaged(c.mesh, rnd, 1+rnd.IntN(15))
			ms, s := Analyse(m)
			for i := range ms {
				checkSane(t, &ms[i], m)
				for j := range ms[i].Alternatives {
					checkSane(t, &ms[i].Alternatives[j], m)
				}
			}
			if p := s.Plate; p != nil && (len(p.Outline) < 3 || !(p.Thickness > 0)) {
				t.Errorf("%s: plate %+v", c.name, p)
			}
		}
	}
}

func damaged(m *geom.Mesh, rnd *rand.Rand, k int) *geom.Mesh {
	out := &geom.Mesh{Verts: append([]geom.Vec(nil), m.Verts...)}
	for _, t := range m.Tris {
		switch x := rnd.IntN(20); {
		case k&1 == 1 && x < 3:
			continue
		case k&2 == 2 && x < 6:
			out.Tris = append(out.Tris, t)
		case k&2 == 2 && x < 9:
			t[0], t[1] = t[1], t[0]
		}
		out.Tris = append(out.Tris, t)
	}
	if k&4 == 4 {
		for i := range out.Verts {
			if rnd.IntN(4) == 0 {
				out.Verts[i] = out.Verts[i].Add(geom.V(rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()).Mul(0.3 * float64(k)))
			}
		}
	}
	if k&8 == 8 {
		out = merge(out, m.Transform(anyhow(rnd, 20)))
	}
	return out
}

func TestFromMeshIsDeterministic(t *testing.T) {
	dump := func(m *geom.Mesh) string {
		s := ""
		for _, x := range FromMesh(m) {
			for _, h := range []*Hook{x.Hook, x.Back} {
				if h != nil {
					s += fmt.Sprint(*h)
				}
			}
			x.Hook, x.Back, x.Alternatives = nil, nil, nil
			s += fmt.Sprint(x)
		}
		return s
	}
	for _, c := range bodies() {
		if a, b := dump(c.mesh), dump(c.mesh); a != b {
			t.Errorf("%s: %s\n%s", c.name, a, b)
		}
	}
}

// manyBars are bent bars side by side in one mesh.
func manyBars(n int) *geom.Mesh {
	bar := sweep(hooked(300, 40, 1.5, 200, 6), 8, 12, 0, false, fanCap)
	var all []*geom.Mesh
	for i := range n {
		all = append(all, moved(bar, 30*float64(i), 0, 0))
	}
	return merge(all...)
}

func TestFromMeshManyBars(t *testing.T) {
	if got := FromMesh(manyBars(200)); len(got) != 200 {
		t.Errorf("%d members, want 200", len(got))
	}
	if got := FromMesh(studPlate(12, 8, 60, 10, 8, 12, 100, 14, 8)); len(got) != 96 {
		t.Errorf("%d studs, want 96", len(got))
	}
}

func BenchmarkFromMeshMany(b *testing.B) {
	for _, n := range []int{50, 400} {
		m := manyBars(n)
		b.Run(fmt.Sprintf("bars=%d", n), func(b *testing.B) {
			for b.Loop() {
				FromMesh(m)
			}
		})
	}
	m := studPlate(12, 8, 60, 10, 8, 12, 100, 14, 8)
	b.Run(fmt.Sprintf("studs=96/triangles=%d", len(m.Tris)), func(b *testing.B) {
		for b.Loop() {
			FromMesh(m)
		}
	})
}
