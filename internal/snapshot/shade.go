package snapshot

import (
	"image"
	"math"

	"embedcheck/internal/geom"
)

// colours of paints. Those of items and bars are from the palette of Okabe and
// Ito (Color Universal Design, 2008), which people with any kind of colour
// vision tell apart.
var colours = [...][3]float64{
	air:       {255, 255, 255},
	concrete:  {198, 198, 194},
	cutFace:   {232, 228, 218},
	otherHost: {170, 178, 182},
	theItem:   {213, 94, 0},   // vermillion
	ofSet:     {230, 159, 0},  // orange
	named:     {0, 114, 178},  // blue
	bar:       {86, 180, 233}, // sky blue
}

// shade is the colour of a triangle seen from the view: the light is the
// reader's lamp, a little from above.
func (l *lens) shade(t *tri) [3]uint8 {
	lamp := l.in.Neg().Add(l.up.Mul(0.55)).Add(l.right.Mul(-0.3)).Unit()
	n := t.n
	if n.Dot(l.in) > 0 {
		n = n.Neg() // the inside of an open body
	}
	k := 0.62 + 0.38*max(0, n.Dot(lamp))
	if t.paint == cutFace {
		k = 1
	}
	var c [3]uint8
	for i, v := range colours[t.paint] {
		c[i] = uint8(math.Round(min(255, v*k)))
	}
	return c
}

// lineColour is that of edges.
var lineColour = [3]uint8{25, 25, 25}

// resolve turns samples into pixels: each takes the mean of its samples, which
// are dark where a body or a face ends.
func (l *lens) resolve(img *image.RGBA, b *buffer, tris []tri) {
	colour := make([][3]uint8, len(tris)+1)
	colour[0] = [3]uint8{255, 255, 255}
	for i := range tris {
		colour[i+1] = l.shade(&tris[i])
	}
	step := 0.03 * l.radius
	for y := range height {
		row := img.Pix[img.PixOffset(0, y):]
		for x := range width {
			pixel := row[4*x : 4*x+4]
			if t, ok := b.even(x, y); ok {
				c := &colour[t]
				pixel[0], pixel[1], pixel[2], pixel[3] = c[0], c[1], c[2], 255
				continue
			}
			l.mean(pixel, b, tris, colour, x, y, step)
		}
	}
}

// mean is the colour of a pixel in which something ends.
func (l *lens) mean(pixel []uint8, b *buffer, tris []tri, colour [][3]uint8, x, y int, step float64) {
	var sum [3]int
	for sy := range samples {
		for sx := range samples {
			i := (y*samples+sy)*bufW + x*samples + sx
			c := colour[b.tri[i]]
			if b.ends(tris, i, y*samples+sy, x*samples+sx, step) {
				c = lineColour
			}
			sum[0] += int(c[0])
			sum[1] += int(c[1])
			sum[2] += int(c[2])
		}
	}
	const n = samples * samples
	pixel[0], pixel[1], pixel[2], pixel[3] = uint8(sum[0]/n), uint8(sum[1]/n), uint8(sum[2]/n), 255
}

// even is the triangle that a pixel shows when its samples, and those that they
// are compared with to its right and below, all show the same: nothing ends in
// it. Most pixels are such: passing them by took a sixth off a check of the demo
// with all its files.
func (b *buffer) even(x, y int) (tri int32, ok bool) {
	if x+1 == width || y+1 == height {
		return 0, false
	}
	i := y*samples*bufW + x*samples
	r := (*[samples + 1]int32)(b.tri[i:])
	tri = r[0]
	for range samples {
		if *r != [samples + 1]int32{tri, tri, tri} {
			return 0, false
		}
		i += bufW
		r = (*[samples + 1]int32)(b.tri[i:])
	}
	return tri, *r == [samples + 1]int32{tri, tri, tri}
}

// ends reports whether a face or a body ends at sample i: towards the right or
// below.
func (b *buffer) ends(tris []tri, i, y, x int, step float64) bool {
	return x+1 < bufW && b.parts(tris, i, i+1, step) || y+1 < bufH && b.parts(tris, i, i+bufW, step)
}

func (b *buffer) parts(tris []tri, i, k int, step float64) bool {
	s, t := b.tri[i], b.tri[k]
	if s == t {
		return false
	}
	if s == 0 || t == 0 {
		return true
	}
	p, q := &tris[s-1], &tris[t-1]
	if p.paint != q.paint || p.body != q.body || p.n.Dot(q.n) < 0.85 {
		return true
	}
	return math.Abs(1/float64(b.near[i])-1/float64(b.near[k])) > step && !coplanar(p, q)
}

// coplanar reports whether two triangles lie in one plane, so that a jump in
// depth between them is a slant.
func coplanar(p, q *tri) bool {
	return math.Abs(q.p[0].Sub(p.p[0]).Dot(p.n)) < 1 && p.n.Dot(q.n) > 0.999
}

// measured draws a distance with its ends over everything: white with a dark
// core.
func (l *lens) measured(img *image.RGBA, from, to geom.Vec) {
	white, dark := [3]uint8{255, 255, 255}, [3]uint8{0, 0, 0}
	l.line(img, from, to, 4, white)
	l.line(img, from, from, 5, white)
	l.line(img, to, to, 5, white)
	l.line(img, from, to, 2, dark)
	l.line(img, from, from, 3.5, dark)
	l.line(img, to, to, 3.5, dark)
}

// line draws a line of so many pixels half width over everything.
func (l *lens) line(img *image.RGBA, a, b geom.Vec, radius float64, c [3]uint8) {
	p, q := l.deep(a), l.deep(b)
	if p.Z < l.front || q.Z < l.front {
		return
	}
	s, t := l.spot(p), l.spot(q)
	capsule(img, s.x/samples, s.y/samples, t.x/samples, t.y/samples, radius, c)
}

// capsule paints every pixel within radius of a line, softly at its rim.
func capsule(img *image.RGBA, x0, y0, x1, y1, radius float64, c [3]uint8) {
	if math.IsNaN(x0+y0+x1+y1) || math.Abs(x0)+math.Abs(y0)+math.Abs(x1)+math.Abs(y1) > 1e5 {
		return
	}
	dx, dy := x1-x0, y1-y0
	n := dx*dx + dy*dy
	far := (radius + 0.51) * (radius + 0.51) // no pixel beyond takes any of the colour
	for y := max(0, int(min(y0, y1)-radius-1)); y <= min(height-1, int(max(y0, y1)+radius+1)); y++ {
		for x := max(0, int(min(x0, x1)-radius-1)); x <= min(width-1, int(max(x0, x1)+radius+1)); x++ {
			px, py := float64(x)+0.5-x0, float64(y)+0.5-y0
			t := 0.0
			if n > 0 {
				t = min(1, max(0, (px*dx+py*dy)/n))
			}
			ex, ey := px-t*dx, py-t*dy
			if ex*ex+ey*ey > far {
				continue
			}
			d := math.Hypot(ex, ey)
			k := min(1, max(0, radius+0.5-d))
			if k == 0 {
				continue
			}
			o := img.PixOffset(x, y)
			for i := range 3 {
				img.Pix[o+i] = uint8(math.Round(float64(img.Pix[o+i])*(1-k) + float64(c[i])*k))
			}
		}
	}
}
