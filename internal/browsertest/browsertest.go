// Package browsertest opens pages in a real browser, for tests. The browser is
// Chromium as Debian packages it; tests are skipped where there is none.
package browsertest

import (
	"context"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// patience is how long a page may take for one step before the test fails: it
// guards against hangs and measures nothing.
const patience = 60 * time.Second

// Page is a tab of a browser of its own.
type Page struct {
	t   testing.TB
	ctx context.Context

	mu       sync.Mutex
	troubles []string
	requests []string
}

// Start starts a browser, which is gone at the end of the test; chromedp makes
// its tabs. The test is skipped where there is no browser.
func Start(t testing.TB, more ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes seconds to start")
	}
	path := ""
	for _, name := range [...]string{"chromium", "chromium-browser"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		t.Skip("no chromium: pages are not looked at in a browser (apt-get install chromium)")
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), append(options, more...)...)
	t.Cleanup(stop)
	return ctx
}

// Open starts a browser with an empty page of a size in CSS pixels.
func Open(t testing.TB, width, height int64, more ...chromedp.ExecAllocatorOption) *Page {
	t.Helper()
	ctx, closeTab := chromedp.NewContext(Start(t, more...))
	t.Cleanup(closeTab)
	p := &Page{t: t, ctx: ctx}
	if err := chromedp.Listen(ctx, p.note); err != nil {
		t.Fatalf("the browser does not start: %v", err)
	}
	p.do(send(network.Enable, network.EnableParams{}), chromedp.EmulateViewport(width, height))
	return p
}

// send is a step that gives the browser a command.
func send[P, R any](c cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, params)
		return err
	})
}

func exceptionText(d *runtime.ExceptionDetails) string {
	if d.Exception != nil {
		return d.Exception.Description
	}
	return d.Text
}

// note keeps what a page must not do: script errors, messages of the browser
// such as a breach of the page's policy, dialogs; and what it asks for.
func (p *Page) note(ev any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := ev.(type) {
	case *runtime.EventExceptionThrown:
		p.troubles = append(p.troubles, "exception: "+exceptionText(e.ExceptionDetails))
	case *log.EventEntryAdded:
		p.troubles = append(p.troubles, string(e.Entry.Level)+": "+e.Entry.Text)
	case *page.EventJavascriptDialogOpening:
		p.troubles = append(p.troubles, "dialog: "+e.Message)
	case *network.EventRequestWillBeSent:
		if !strings.HasPrefix(e.Request.URL, "blob:") && !strings.HasPrefix(e.Request.URL, "data:") {
			p.requests = append(p.requests, e.Request.URL)
		}
	}
}

func (p *Page) limited() (context.Context, context.CancelFunc) {
	return context.WithTimeout(p.ctx, patience)
}

func (p *Page) do(steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.t.Fatal(err)
	}
}

// Go opens an address and waits until the page is loaded.
func (p *Page) Go(address string) {
	p.t.Helper()
	p.do(chromedp.Navigate(address))
}

// Keys presses keys where the focus is.
func (p *Page) Keys(keys string) {
	p.t.Helper()
	p.do(chromedp.KeyEvent(keys))
}

// Dark makes the page believe that the user likes dark screens.
func (p *Page) Dark() {
	p.t.Helper()
	p.do(send(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}},
	}))
}

// Wait waits until a JavaScript expression is true.
func (p *Page) Wait(expression string) {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool](expression)); err != nil {
		p.t.Fatalf("%s never comes true: %v; %v", expression, err, p.Troubles())
	}
}

// Value is the value of a JavaScript expression.
func Value[T any](p *Page, expression string) T {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// PDF is the page as printed on A4.
func (p *Page) PDF() []byte {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	data, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		p.t.Fatal(err)
	}
	return data
}

// Picture is what the window shows, as PNG.
func (p *Page) Picture() []byte {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	data, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	return data
}

// Troubles are script errors, messages of the browser and dialogs so far.
func (p *Page) Troubles() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.troubles)
}

// Requests are the addresses that were asked for, without those inside the
// page (blob: and data:).
func (p *Page) Requests() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.requests)
}
