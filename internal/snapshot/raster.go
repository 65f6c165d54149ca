package snapshot

import (
	"math"

	"embedcheck/internal/geom"
)

// The picture, and how many samples it has across a pixel.
const (
	width, height = 800, 600
	samples       = 2
	bufW, bufH    = width * samples, height * samples
)

// buffer holds what is seen at each sample: the nearest triangle and its
// nearness, 1/depth.
type buffer struct {
	near []float32
	tri  []int32 // 1 + index; 0 for nothing
}

func newBuffer() *buffer {
	return &buffer{make([]float32, bufW*bufH), make([]int32, bufW*bufH)}
}

func (b *buffer) clear() {
	clear(b.near)
	clear(b.tri)
}

// spot is a point on the picture.
type spot struct{ x, y, near float64 }

// lens maps points to the picture.
type lens struct {
	*view
	scale float64 // samples for a tangent of 1
	front float64 // mm; nothing nearer is drawn
}

func newLens(v *view) *lens {
	return &lens{v, bufH / 2 / math.Tan(fieldOfView*math.Pi/360), v.radius * 0.05}
}

// deep is a point in the camera's axes: right, up, into the scene.
func (l *lens) deep(p geom.Vec) geom.Vec {
	d := p.Sub(l.eye)
	return geom.V(d.Dot(l.right), d.Dot(l.up), d.Dot(l.in))
}

func (l *lens) spot(q geom.Vec) spot {
	k := l.scale / q.Z
	return spot{bufW/2 + q.X*k, bufH/2 - q.Y*k, 1 / q.Z}
}

// bias is by how much what is painted counts as nearer than it is: steel that
// lies flush with the concrete, or in its cut, is seen.
var bias = [...]float64{
	concrete: 1, cutFace: 1, otherHost: 1, bar: 1.0003, ofSet: 1.0006, theItem: 1.0008, named: 1.001,
}

// draw fills a triangle into the buffer.
func (l *lens) draw(b *buffer, t *tri, id int32, bias float64) {
	var poly [4]geom.Vec
	n := 0
	var q [3]geom.Vec
	for i, p := range t.p {
		q[i] = l.deep(p)
	}
	for i, a := range q {
		c := q[(i+1)%3]
		if a.Z >= l.front {
			poly[n] = a
			n++
		}
		if (a.Z >= l.front) != (c.Z >= l.front) {
			poly[n] = a.Lerp(c, (l.front-a.Z)/(c.Z-a.Z))
			n++
		}
	}
	for k := 2; k < n; k++ {
		p, q, r := l.spot(poly[0]), l.spot(poly[k-1]), l.spot(poly[k])
		p.near, q.near, r.near = p.near*bias, q.near*bias, r.near*bias
		b.fill(p, q, r, id)
	}
}

// fill draws a triangle row by row. 1/depth runs straight on the picture.
func (b *buffer) fill(p, q, r spot, id int32) {
	if q.y < p.y {
		p, q = q, p
	}
	if r.y < q.y {
		q, r = r, q
		if q.y < p.y {
			p, q = q, p
		}
	}
	if !(r.y > 0 && p.y < bufH) || r.y == p.y {
		return
	}
	det := (q.x-p.x)*(r.y-p.y) - (r.x-p.x)*(q.y-p.y)
	if math.Abs(det) < 1e-12 {
		return
	}
	dx := ((q.near-p.near)*(r.y-p.y) - (r.near-p.near)*(q.y-p.y)) / det
	dy := ((r.near-p.near)*(q.x-p.x) - (q.near-p.near)*(r.x-p.x)) / det
	from := max(0, int(math.Ceil(p.y-0.5)))
	to := min(bufH-1, int(math.Ceil(r.y-0.5))-1)
	for y := from; y <= to; y++ {
		cy := float64(y) + 0.5
		x1 := p.x + (r.x-p.x)*(cy-p.y)/(r.y-p.y)
		var x2 float64
		if cy < q.y {
			x2 = p.x + (q.x-p.x)*(cy-p.y)/(q.y-p.y)
		} else {
			x2 = q.x + (r.x-q.x)*(cy-q.y)/(r.y-q.y)
		}
		if x1 > x2 {
			x1, x2 = x2, x1
		}
		if !(x2 > 0 && x1 < bufW) {
			continue
		}
		left := int(math.Ceil(max(x1, 0) - 0.5))
		right := int(math.Ceil(min(x2, bufW)-0.5)) - 1
		near := p.near + dx*(float64(left)+0.5-p.x) + dy*(cy-p.y)
		if left > right {
			continue
		}
		row := b.near[y*bufW+left : y*bufW+right+1]
		ids := b.tri[y*bufW+left:][:len(row)]
		for i, was := range row {
			if n := float32(near); n > was {
				row[i], ids[i] = n, id
			}
			near += dx
		}
	}
}
