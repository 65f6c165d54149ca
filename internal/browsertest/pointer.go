package browsertest

import (
	"context"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// pointer is a step of the mouse.
func pointer(e input.DispatchMouseEventParams) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, e)
		return err
	})
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
