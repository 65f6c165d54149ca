package page_test

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"embedcheck/internal/browsertest"
	"embedcheck/internal/drawing/handmade"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/model"
	"embedcheck/internal/page"
	"embedcheck/internal/scene"
	"embedcheck/rules"
)

// inSpace is a page about a scene made by hand, with the subject of its first
// finding.
func inSpace(t *testing.T, s *handmade.Scene) (*page.Report, *subject.Subject) {
	t.Helper()
	all, err := rules.Run(s.Model, rules.Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	for i := range all {
		all[i].ID = fmt.Sprintf("%032x", i)
	}
	run := (&finding.Run{Models: []finding.ModelInfo{{Name: "hand.ifc"}}, Findings: all}).Sorted()
	run.Tally()
	x := subject.NewIndex(s.Model)
	r := report(1)
	r.Run, r.Since = run, nil
	r.Views.Scene = scene.New(x).Of
	first, err := x.Of(&run.Findings[0])
	if err != nil {
		t.Fatal(err)
	}
	return r, first
}

const (
	toldBody = `document.querySelector('#space-told').textContent`
	trouble  = `document.querySelector('#space-trouble')`
	legend   = `[...document.querySelectorAll('#space-legend li')].map(e => e.textContent).join('; ')`
)

// openSpace opens the view as the keyboard does, and waits until it is drawn.
func openSpace(p *browsertest.Page) {
	p.Wait(title + ` !== undefined && !document.querySelector('#space').hidden`)
	browsertest.Value[bool](p, `(document.querySelector('#space summary').focus(), true)`)
	p.Keys("\r")
	p.Wait(legend + ` !== ''`)
	browsertest.Value[bool](p, `(document.querySelector('.stage').scrollIntoView(), document.querySelector('#space-canvas').focus({preventScroll: true}), true)`)
	drawn(p)
}

// drawn waits until what was changed is on the screen.
func drawn(p *browsertest.Page) {
	browsertest.Value[bool](p, `(window.frames2 = 0, requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(() => { window.frames2 = 1; }))), true)`)
	p.Wait(`window.frames2 === 1`)
}

// stagePicture is what the window shows of the view.
func stagePicture(t *testing.T, p *browsertest.Page) *image.NRGBA {
	t.Helper()
	drawn(p)
	at := browsertest.Value[[]float64](p, `(() => { const r = document.querySelector('#space-canvas').getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; })()`)
	whole, err := png.Decode(bytes.NewReader(p.Picture()))
	if err != nil {
		t.Fatal(err)
	}
	r := image.Rect(int(at[0])+4, int(at[1])+4, int(at[2])-4, int(at[3])-4).Intersect(whole.Bounds())
	out := image.NewNRGBA(r)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			out.Set(x, y, whole.At(x, y))
		}
	}
	return out
}

// vermillion is how many pixels have the hue of the item, the palette's
// vermillion (213, 94, 0), in any light.
func vermillion(img *image.NRGBA) int {
	n := 0
	for i := 0; i < len(img.Pix); i += 4 {
		r, g, b := float64(img.Pix[i]), float64(img.Pix[i+1]), float64(img.Pix[i+2])
		if r > 90 && math.Abs(g/r-94.0/213) < 0.05 && b < 0.1*r {
			n++
		}
	}
	return n
}

// differ is how many patches of two pictures, of patch by patch pixels, are not
// alike in the mean. Single pixels tell nothing: along an edge the browser
// without graphics card gives now the edge and now the face.
func differ(a, b *image.NRGBA) int {
	if a.Rect != b.Rect {
		return math.MaxInt
	}
	const patch = 10
	n := 0
	for y := a.Rect.Min.Y; y+patch <= a.Rect.Max.Y; y += patch {
		for x := a.Rect.Min.X; x+patch <= a.Rect.Max.X; x += patch {
			var sum [3]int
			for o := range patch * patch {
				i := a.PixOffset(x+o%patch, y+o/patch)
				for k := range sum {
					sum[k] += int(a.Pix[i+k]) - int(b.Pix[i+k])
				}
			}
			if most := max(sum[0], -sum[0], sum[1], -sum[1], sum[2], -sum[2]); most > 50*patch*patch {
				n++
			}
		}
	}
	return n
}

// another is how many patches are another picture.
const another = 200

// onScreen is where the view first shows a point, in CSS pixels of the window:
// the pin-hole camera of any textbook, 45 degrees from top to bottom, looking at
// the centre from where the whole radius is seen, z up.
func onScreen(p *browsertest.Page, o subject.Outlook, at geom.Vec) (x, y float64) {
	r := browsertest.Value[[]float64](p, `(() => { const r = document.querySelector('#space-canvas').getBoundingClientRect(); return [r.left, r.top, r.width, r.height]; })()`)
	far := o.Radius * 1.25 / math.Tan(math.Pi/8) / min(1, r[2]/r[3])
	eye := o.Centre.Add(o.Back.Mul(far))
	right := geom.V(0, 0, 1).Cross(o.Back).Unit()
	up := o.Back.Cross(right)
	d := at.Sub(eye)
	depth := -d.Dot(o.Back)
	k := r[3] / 2 / math.Tan(math.Pi/8) / depth
	return r[0] + r[2]/2 + d.Dot(right)*k, r[1] + r[3]/2 - d.Dot(up)*k
}

func TestBrowserSpaceTurnsAndCuts(t *testing.T) {
	p := browsertest.Open(t, 1280, 1000)
	r, _ := inSpace(t, handmade.Panel(geom.Identity))
	address := inFile(t, r)
	p.Go(address)
	openSpace(p)
	first := stagePicture(t, p)
	if n := vermillion(first); n < 300 {
		t.Errorf("%d pixels show the item", n)
	}
	if n := differ(first, stagePicture(t, p)); n != 0 {
		t.Errorf("the view moves by itself: %d patches", n)
	}
	box := first.Rect
	cx, cy := float64(box.Min.X+box.Dx()/2), float64(box.Min.Y+box.Dy()/2)
	click := func(selector string) func() {
		return func() { browsertest.Value[bool](p, `(document.querySelector('`+selector+`').click(), true)`) }
	}
	choose := func(selector, value string) func() {
		return func() {
			browsertest.Value[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.value = %q; for (const n of ['input', 'change']) e.dispatchEvent(new Event(n, {bubbles: true})); return true })()`, selector, value))
		}
	}
	for _, c := range []struct {
		name     string
		do, undo func()
	}{
		{"drag", func() { p.Drag(cx, cy, cx+120, cy+30) }, func() { p.Keys("0") }},
		{"arrow key", func() { p.Keys("\u0303") }, func() { p.Keys("0") }},
		{"plus key", func() { p.Keys("+") }, func() { p.Keys("0") }},
		{"wheel", func() { p.Wheel(cx, cy, 300) }, func() { p.Keys("0") }},
		{"turn button", click(`[data-do=left]`), click(`[data-do=reset]`)},
		{"whole host", click(`[data-do=whole]`), click(`[data-do=reset]`)},
		{"cut off", click(`#space-cut`), click(`#space-cut`)},
		{"other side", click(`#space-flip`), click(`#space-flip`)},
		{"section moved", choose(`#space-at`, "-60"), choose(`#space-at`, "0")},
		{"square to the axis", choose(`#space-way`, "2"), choose(`#space-way`, "0")},
		{"see-through", choose(`#space-concrete`, "see-through"), choose(`#space-concrete`, "solid")},
		{"outline", choose(`#space-concrete`, "outline"), choose(`#space-concrete`, "solid")},
	} {
		c.do()
		if n := differ(first, stagePicture(t, p)); n < another {
			t.Errorf("%s: %d patches change", c.name, n)
		}
		c.undo()
		if n := differ(first, stagePicture(t, p)); n != 0 {
			t.Errorf("%s: %d patches do not come back", c.name, n)
		}
	}
	// Moving instead of turning, by button and by drag, gives other pictures.
	p.Drag(cx, cy, cx+120, cy)
	turned := stagePicture(t, p)
	p.Keys("0")
	click(`#space-move`)()
	p.Drag(cx, cy, cx+120, cy)
	if moved := stagePicture(t, p); differ(first, moved) < another || differ(turned, moved) < another {
		t.Error("a drag that should move turns")
	}
	if got := browsertest.Value[string](p, `document.querySelector('[data-do=left]').ariaLabel`); got != "Move left" {
		t.Errorf("the button that moves is called %q", got)
	}
	calm(t, p, address)
}

// TestBrowserSpaceNames points at places that are worked out here, of a scene
// that lies and stands in many ways.
func TestBrowserSpaceNames(t *testing.T) {
	for _, place := range handmade.Placements {
		t.Run(place.Name, func(t *testing.T) {
			p := browsertest.Open(t, 1280, 1000)
			r, s := inSpace(t, handmade.Panel(place.At))
			o := s.Outlook()
			if math.Abs(o.Back.Z) > 0.99 {
				t.Fatal("the view looks straight down: its up is not what this test takes it for")
			}
			p.Go(inFile(t, r))
			openSpace(p)
			inward := s.Aim.Dir.Neg() // away from the edge that was measured to
			for what, c := range map[string]struct {
				at   geom.Vec
				want string
			}{
				"bolt before the face":  {s.Anchor.At(50), "the item: HB-1, bolt, IfcMechanicalFastener, GlobalId " + s.Item.GlobalID},
				"bolt in the concrete":  {s.Anchor.At(170), "the item: HB-1, bolt, IfcMechanicalFastener, GlobalId " + s.Item.GlobalID},
				"concrete that is cut":  {s.Anchor.At(190).Add(inward.Mul(40)), "host: WP-03, IfcWall, GlobalId " + s.Host.GlobalID},
				"air beyond the corner": {s.Anchor.At(100).Add(s.Aim.Dir.Mul(200)), "Nothing is there."},
			} {
				x, y := onScreen(p, o, c.at)
				p.Drag(x, y, x, y)
				if got := browsertest.Value[string](p, toldBody); got != c.want {
					t.Errorf("%s, at %.0f %.0f: %q, want %q", what, x, y, got, c.want)
				}
			}
		})
	}
}

// TestBrowserSpaceSteps steps through all bodies by keyboard, from the item to
// the concrete.
func TestBrowserSpaceSteps(t *testing.T) {
	p := browsertest.Open(t, 1280, 1000)
	r, _ := inSpace(t, handmade.Panel(geom.Identity))
	p.Go(inFile(t, r))
	openSpace(p)
	seen := map[string]bool{}
	n := 0
	for k := 0; k == 0 || k < n; k++ {
		p.Keys(".")
		told := browsertest.Value[string](p, toldBody)
		var i int
		if _, err := fmt.Sscanf(told, "%d of %d,", &i, &n); err != nil || seen[told] {
			t.Fatalf("step %d: %q", k, told)
		}
		if seen[told] = true; k == 0 && !strings.Contains(told, "the item: HB-1") {
			t.Errorf("the first body is %q", told)
		}
	}
	if n < 4 {
		t.Errorf("%d bodies", n)
	}
	last := browsertest.Value[string](p, toldBody)
	if !strings.Contains(last, "host: WP-03") {
		t.Errorf("the last body is %q", last)
	}
	p.Keys(",")
	p.Wait(toldBody + ` !== ` + fmt.Sprintf("%q", last))
	if got := browsertest.Value[string](p, toldBody); strings.Contains(got, "host:") {
		t.Errorf("the body before the last is %q", got)
	}
}

// TestBrowserSpaceWithoutConcrete: an item that lies in no host is shown, and
// there is nothing to cut.
func TestBrowserSpaceWithoutConcrete(t *testing.T) {
	s := handmade.New(geom.Identity)
	s.Add(nil, handmade.Rod{Kind: model.Bolt, Name: "HB-9", Size: "M20 x 260", Open: geom.V(0, 0, 0), Dir: geom.V(0, 0, -1), D: 20, Length: 260})
	for name, c := range map[string]struct {
		scene *handmade.Scene
		cuts  bool
	}{"HB-9": {s, false}, "HB-1": {handmade.Panel(geom.Identity), true}} {
		t.Run(name, func(t *testing.T) {
			p := browsertest.Open(t, 1280, 1000)
			r, _ := inSpace(t, c.scene)
			address := inFile(t, r)
			p.Go(address)
			openSpace(p)
			if got := browsertest.Value[string](p, legend); !strings.HasPrefix(got, "the item: "+name) || strings.Contains(got, "concrete") != c.cuts {
				t.Errorf("the legend says %q", got)
			}
			if n := vermillion(stagePicture(t, p)); n < 300 {
				t.Errorf("%d pixels show the item", n)
			}
			if got := browsertest.Value[bool](p, `document.querySelector('#space-section').checkVisibility()`); got != c.cuts {
				t.Errorf("there is something to cut: %v", got)
			}
			calm(t, p, address)
		})
	}
}

// TestBrowserSpaceWithoutGraphics: without WebGL the page says so, and
// everything else of it works.
func TestBrowserSpaceWithoutGraphics(t *testing.T) {
	p := browsertest.Open(t, 1280, 1000, chromedp.Flag("disable-3d-apis", true))
	r, _ := inSpace(t, handmade.Panel(geom.Identity))
	address := inFile(t, r)
	p.Go(address)
	p.Wait(title + ` !== undefined`)
	browsertest.Value[bool](p, `(document.querySelector('#space summary').click(), true)`)
	p.Wait(trouble + `.checkVisibility()`)
	if got := browsertest.Value[string](p, trouble+`.textContent`); !strings.Contains(got, "WebGL 2 is missing or switched off") || !strings.Contains(got, "drawing holds all figures") {
		t.Errorf("the page says %q", got)
	}
	if browsertest.Value[bool](p, `document.querySelector('#space-canvas').checkVisibility()`) || !browsertest.Value[bool](p, `document.querySelector('#sheet .dwg').checkVisibility()`) {
		t.Error("an empty view is shown, or the drawing is not")
	}
	p.Keys("j")
	p.Wait(title + ` === document.querySelectorAll('.row .t')[1].textContent`)
	p.Wait(trouble + `.checkVisibility()`)
	calm(t, p, address)
}

func TestBrowserSpaceIsLostAndComesBack(t *testing.T) {
	p := browsertest.Open(t, 1280, 1000)
	r, _ := inSpace(t, handmade.Panel(geom.Identity))
	p.Go(inFile(t, r))
	openSpace(p)
	before := stagePicture(t, p)
	browsertest.Value[bool](p, `(window.lose = document.querySelector('#space-canvas').getContext('webgl2').getExtension('WEBGL_lose_context'), window.lose.loseContext(), true)`)
	p.Wait(trouble + `.checkVisibility() && !document.querySelector('#space-canvas').checkVisibility()`)
	if !browsertest.Value[bool](p, `document.querySelector('#sheet .dwg').checkVisibility()`) {
		t.Error("the drawing is gone with the view")
	}
	browsertest.Value[bool](p, `(window.lose.restoreContext(), true)`)
	p.Wait(`document.querySelector('#space-canvas').checkVisibility()`)
	browsertest.Value[bool](p, `(document.querySelector('.stage').scrollIntoView(), true)`)
	if n := differ(before, stagePicture(t, p)); n != 0 {
		t.Errorf("%d patches do not come back", n)
	}
}

func TestBrowserSpaceHostileNames(t *testing.T) {
	p := browsertest.Open(t, 1280, 1000)
	s := handmade.Panel(geom.Identity)
	for _, it := range s.Model.Items {
		it.Name, it.Mark, it.Class = hostile, hostile, hostile
	}
	for _, h := range s.Model.Hosts {
		h.Name, h.Mark = hostile, hostile
	}
	r, _ := inSpace(t, s)
	address := inFile(t, r)
	p.Go(address)
	openSpace(p)
	p.Keys(".")
	p.Wait(toldBody + `.includes('<img src=x onerror=alert(1)>')`)
	drawn(p)
	if n := browsertest.Value[int](p, `document.querySelectorAll('img').length`); n != 0 {
		t.Errorf("%d elements were made of names", n)
	}
	if n := browsertest.Value[int](p, `[...document.querySelectorAll('#space-tags text')].filter(e => e.textContent.includes('<img')).length`); n == 0 {
		t.Error("the name does not stand in the view")
	}
	calm(t, p, address)
}

// TestBrowserSpaceTouch: one finger turns, two zoom, a tap names.
func TestBrowserSpaceTouch(t *testing.T) {
	p := browsertest.Open(t, 390, 844)
	r, s := inSpace(t, handmade.Panel(geom.Identity))
	address := inFile(t, r)
	p.Go(address)
	browsertest.Value[bool](p, `(document.querySelector('.row a').click(), true)`)
	openSpace(p)
	first := stagePicture(t, p)
	cx, cy := float64(first.Rect.Min.X+first.Rect.Dx()/2), float64(first.Rect.Min.Y+first.Rect.Dy()/2)
	p.Fingers([][2]float64{{cx, cy}}, [][2]float64{{cx + 80, cy}})
	if n := differ(first, stagePicture(t, p)); n < another {
		t.Errorf("one finger changes %d patches", n)
	}
	browsertest.Value[bool](p, `(document.querySelector('[data-do=reset]').click(), true)`)
	before := vermillion(stagePicture(t, p))
	p.Fingers([][2]float64{{cx - 60, cy}, {cx + 60, cy}}, [][2]float64{{cx - 30, cy}, {cx + 30, cy}})
	if after := vermillion(stagePicture(t, p)); after == 0 || after > before*2/3 {
		t.Errorf("the item has %d pixels, with two fingers drawn together %d", before, after)
	}
	if y := browsertest.Value[float64](p, `scrollY`); y != browsertest.Value[float64](p, `(document.querySelector('.stage').scrollIntoView(), scrollY)`) {
		t.Error("fingers on the view scroll the page")
	}
	browsertest.Value[bool](p, `(document.querySelector('[data-do=reset]').click(), true)`)
	x, y := onScreen(p, s.Outlook(), s.Anchor.At(50))
	tap := [][2]float64{{x, y}}
	p.Fingers(tap, tap)
	p.Wait(toldBody + `.startsWith('the item: HB-1')`)
	calm(t, p, address)
}

// The view goes with the finding, and is not printed.
func TestBrowserSpaceGoesAlong(t *testing.T) {
	p := browsertest.Open(t, 1280, 1000)
	r, _ := inSpace(t, handmade.Panel(geom.Identity))
	address := inFile(t, r)
	p.Go(address)
	p.Wait(`[...document.querySelectorAll('.plates')].every(e => e.querySelector('.plate'))`)
	closed := p.PDF()
	openSpace(p)
	if got := browsertest.Value[string](p, legend); !strings.Contains(got, "the item: HB-1") || !strings.Contains(got, "host: WP-03; cut concrete") || !strings.Contains(got, "bar: ") {
		t.Errorf("the legend says %q", got)
	}
	p.Keys(".")
	p.Keys("j")
	p.Wait(title + ` === document.querySelectorAll('.row .t')[1].textContent`)
	p.Wait(`document.querySelector('#sheet #space').open && ` + toldBody + `.startsWith('Point')`)
	if n := vermillion(stagePicture(t, p)); n < 300 {
		t.Errorf("%d pixels show the item of the next finding", n)
	}
	opened := p.PDF()
	if a, b := len(pdfPage.FindAll(closed, -1)), len(pdfPage.FindAll(opened, -1)); a != b {
		t.Errorf("%d pages are printed with the view, %d without", b, a)
	}
	calm(t, p, address)
	pdftotext, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("what is printed was not read: no pdftotext, apt-get install poppler-utils")
	}
	path := filepath.Join(t.TempDir(), "page.pdf")
	writeFile(t, path, opened)
	text, err := exec.Command(pdftotext, path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), "WP-03") || strings.Contains(string(text), "View in space") || strings.Contains(string(text), "cut concrete") {
		t.Errorf("what is printed: %s", text)
	}
}

// TestBrowserSpaceLooks holds the open view to what holds for the page: names,
// contrast, width.
func TestBrowserSpaceLooks(t *testing.T) {
	r, _ := inSpace(t, handmade.Panel(geom.Identity))
	address := inFile(t, r)
	for _, width := range []int64{1280, 390} {
		for _, dark := range []bool{false, true} {
			name := fmt.Sprintf("space-%d-dark-%v", width, dark)
			t.Run(name, func(t *testing.T) {
				p := browsertest.Open(t, width, 844)
				if dark {
					p.Dark()
				}
				p.Go(address)
				browsertest.Value[bool](p, `(document.querySelector('.row a').click(), true)`)
				openSpace(p)
				if n := vermillion(stagePicture(t, p)); n < 200 {
					t.Errorf("%d pixels show the item", n)
				}
				look(t, p, name)
				calm(t, p, address)
			})
		}
	}
}
