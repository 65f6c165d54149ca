package browsertest

import (
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// pointer is a step of the mouse.
func pointer(e input.DispatchMouseEventParams) chromedp.Action[chromedp.Void] {
	return send(input.DispatchMouseEvent, e)
}

// Drag presses the mouse at a place of the window, in CSS pixels, moves it by
// some steps and lets it go there. A drag to where it began is a click.
func (p *Page) Drag(x, y, toX, toY float64) {
	p.t.Helper()
	const steps = 4
	press := input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMousePressed, X: x, Y: y, Button: input.MouseButtonLeft, Buttons: 1, ClickCount: 1}
	list := []chromedp.Action[chromedp.Void]{pointer(press)}
	for i := 1; i <= steps && (x != toX || y != toY); i++ {
		k := float64(i) / steps
		list = append(list, pointer(input.DispatchMouseEventParams{
			Type: input.DispatchMouseEventTypeMouseMoved, X: x + k*(toX-x), Y: y + k*(toY-y), Button: input.MouseButtonLeft, Buttons: 1,
		}))
	}
	release := press
	release.Type, release.X, release.Y, release.Buttons = input.DispatchMouseEventTypeMouseReleased, toX, toY, 0
	p.do(append(list, pointer(release))...)
}

// Wheel turns the wheel at a place of the window, in CSS pixels; down is
// positive.
func (p *Page) Wheel(x, y, by float64) {
	p.t.Helper()
	const aside = 1e-3 // the browser asks for both ways, and 0 is left out
	p.do(pointer(input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: x, Y: y, DeltaX: aside, DeltaY: by}))
}

// Fingers puts fingers on a touch screen and moves them, all at once: from is
// where each begins, to where it ends, in CSS pixels of the window.
func (p *Page) Fingers(from, to [][2]float64) {
	p.t.Helper()
	touch := func(kind input.DispatchTouchEventType, at [][2]float64) chromedp.Action[chromedp.Void] {
		points := make([]*input.TouchPoint, len(at))
		for i, xy := range at {
			id := float64(i)
			points[i] = &input.TouchPoint{X: xy[0], Y: xy[1], ID: &id}
		}
		return send(input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
	}
	const steps = 4
	list := []chromedp.Action[chromedp.Void]{
		send(emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: int64(len(from))}),
		touch(input.DispatchTouchEventTypeTouchStart, from),
	}
	for i := 1; i <= steps; i++ {
		at := make([][2]float64, len(from))
		for k := range from {
			for axis := range 2 {
				at[k][axis] = from[k][axis] + float64(i)/steps*(to[k][axis]-from[k][axis])
			}
		}
		list = append(list, touch(input.DispatchTouchEventTypeTouchMove, at))
	}
	p.do(append(list, touch(input.DispatchTouchEventTypeTouchEnd, [][2]float64{}))...)
}
