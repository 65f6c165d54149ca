package triage

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"embedcheck/internal/browsertest"
	"embedcheck/internal/decision"
	"embedcheck/internal/drawing/handmade"
	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/geom"
	"embedcheck/internal/page"
	"embedcheck/internal/scene"
	"embedcheck/rules"
)

// window is one window of a browser on a page.
type window struct {
	t   *testing.T
	ctx context.Context
}

// browser starts a browser with one window.
func browser(t *testing.T) *window {
	t.Helper()
	return (&window{t, browsertest.Start(t, chromedp.WindowSize(1280, 900))}).another()
}

// another is another window of the same browser.
func (w *window) another() *window {
	w.t.Helper()
	ctx, cancel := chromedp.NewContext(w.ctx)
	w.t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		w.t.Fatal(err)
	}
	return &window{w.t, ctx}
}

func (w *window) do(steps ...chromedp.Action[chromedp.Void]) {
	w.t.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, time.Minute)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		w.t.Fatal(err)
	}
}

// open opens a page and waits until the state has come and a sheet is shown.
func (w *window) open(url string) {
	w.t.Helper()
	w.do(chromedp.Navigate(url))
	w.until(`!!document.querySelector('.sheet') && document.querySelector('#tally').textContent !== ''`)
}

// ask is the value of an expression as text.
func (w *window) ask(expression string) string {
	w.t.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, time.Minute)
	defer cancel()
	s, err := chromedp.Run(ctx, chromedp.Evaluate[string]("String("+expression+")"))
	if err != nil {
		w.t.Fatal(expression, err)
	}
	return s
}

// until waits until an expression is true. The page's policy forbids what
// chromedp's own waiting does.
func (w *window) until(expression string) {
	w.t.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if w.ask(expression) == "true" {
			return
		}
	}
	w.t.Fatalf("does not come true: %s; told: %s", expression, w.ask(`document.querySelector('#told').textContent`))
}

func (w *window) want(expression, want string) {
	w.t.Helper()
	if got := w.ask(expression); got != want {
		w.t.Errorf("%s is %q, want %q", expression, got, want)
	}
}

// key is a key as a keyboard sends it: what it types can be prevented.
func key(name string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		for _, p := range []input.DispatchKeyEventParams{
			{Type: input.DispatchKeyEventTypeKeyDown, Key: name, Text: name},
			{Type: input.DispatchKeyEventTypeKeyUp, Key: name},
		} {
			if _, err := cdp.Call(ctx, t, input.DispatchKeyEvent, p); err != nil {
				return err
			}
		}
		return nil
	})
}

const (
	shownRows = `[...document.querySelectorAll('.row')].filter(r => !r.hidden).length`
	chosen    = `document.querySelector('[aria-current]').closest('.row').dataset.id`
	status    = `document.querySelector('[aria-current]').closest('.row').dataset.s`
)

func TestEngineerDecidesByKeyboard(t *testing.T) {
	w := browser(t)
	d := open(t, folder(t, checked(20, "WP-1")))
	s := serve(t, d)
	w.open(s.URL)
	w.want(shownRows, "20")
	w.do(chromedp.SendKeys(chromedp.CSS("#q"), id(7)))
	w.until(shownRows + ` === 1`)
	w.do(chromedp.Click(chromedp.CSS("#clear")))
	w.until(shownRows + ` === 20`)

	w.do(chromedp.Focus(chromedp.CSS(".row a")), key("j"), key("j"))
	w.until(chosen + ` === '` + id(2) + `'`)
	w.do(key("a"), chromedp.KeyEvent("agreed with the precaster"), chromedp.KeyEvent(kb.Enter, chromedp.KeyModifiers(kb.ModifierCtrl)))
	w.until(status + ` === 'accepted'`)
	l, err := decision.Read(d.Decisions)
	if err != nil {
		t.Fatal(err)
	}
	e := l.Last(id(2))
	if len(l.Entries) != 1 || e == nil || e.Status != decision.Accepted || e.Reason != "agreed with the precaster" || e.By != "N. N." || *e.Measured != 65 {
		t.Fatalf("entries are %+v", l.Entries)
	}
	w.want(`document.querySelector('.verdict p').textContent`, "Hold: do not pour. 19 findings to settle first.")

	// In bulk: those that are ticked and shown.
	w.do(key("t"), key("j"), key("t"), key("j"), key("t"), key("m"),
		chromedp.KeyEvent("ask the yard"), chromedp.Click(chromedp.CSS("#act [type=submit]")))
	w.until(`document.querySelector('#told').textContent === '3 findings commented.'`)

	// A window that is opened anew shows all of it.
	w.open(s.URL + "?again#f-" + id(2))
	w.until(chosen + ` === '` + id(2) + `' && ` + status + ` === 'accepted'`)
	w.until(`document.querySelectorAll('.sheet .told p').length === 2`)
	text := w.ask(`document.querySelector('.sheet .told').textContent`)
	if !strings.Contains(text, "agreed with the precaster") || !strings.Contains(text, "ask the yard") {
		t.Errorf("the sheet tells %q", text)
	}
	w.do(chromedp.SetValue(chromedp.CSS("#by-state"), "s:accepted"), chromedp.Evaluate[chromedp.Void](`document.querySelector('#filters').dispatchEvent(new Event('input'))`))
	w.until(shownRows + ` === 1`)
}

func TestTwoWindowsOfOneFinding(t *testing.T) {
	w := browser(t)
	d := open(t, folder(t, checked(3, "WP-1")))
	s := serve(t, d)
	first, second := w, w.another()
	first.open(s.URL)
	second.open(s.URL)
	// The second window does not hear of the first one's act by itself.
	second.do(chromedp.Evaluate[chromedp.Void](`window.kept = fetch; window.fetch = (u, o) => u === 'state' ? new Promise(() => {}) : kept(u, o)`))
	act := func(w *window, name, text string) {
		w.do(chromedp.Focus(chromedp.CSS(".row a")), key(name), chromedp.KeyEvent(text), chromedp.Click(chromedp.CSS("#act [type=submit]")))
	}
	act(first, "a", "agreed")
	first.until(`document.querySelector('#told').textContent === '1 finding accepted.'`)
	act(second, "c", "moved in the model")
	second.until(`!document.querySelector('#news').hidden`)
	if text := second.ask(`document.querySelector('#news').textContent`); !strings.Contains(text, "Nothing was written") || !strings.Contains(text, "accepted agreed") {
		t.Errorf("the second window is told %q", text)
	}
	second.want(`document.querySelector('#text').value`, "moved in the model")
	second.want(status, "accepted")
	second.do(chromedp.Click(chromedp.CSS("#act [type=submit]")))
	second.until(`document.querySelector('#told').textContent === '1 finding closed.'`)
	l, err := decision.Read(d.Decisions)
	if err != nil || len(l.History(id(0))) != 2 || l.Last(id(0)).Status != decision.Closed {
		t.Errorf("entries are %+v, %v", l, err)
	}
}

// Names of a model and words of people stand in the page as texts, and nothing
// that they hold runs.
func TestHostileNamesDoNotRun(t *testing.T) {
	w := browser(t)
	d := open(t, folder(t, checked(3, hostile)))
	s := serve(t, d)
	w.open(s.URL)
	w.do(chromedp.SetValue(chromedp.CSS("#by"), hostile), chromedp.SetValue(chromedp.CSS("#text"), hostile),
		chromedp.Evaluate[chromedp.Void](`window.alert = () => { window.ran = true }`),
		chromedp.Click(chromedp.CSS("#act [type=submit]")))
	w.until(`document.querySelectorAll('.sheet .told p').length === 1`)
	if text := w.ask(`document.querySelector('.sheet .told').textContent`); !strings.Contains(text, "<img src=x onerror=alert(1)>") {
		t.Errorf("the reason is shown as %q", text)
	}
	w.want(`document.querySelectorAll('img').length`, "0")
	w.want(`window.ran`, "undefined")
	// The policy itself, with a script that got into the page all the same.
	w.do(chromedp.Evaluate[chromedp.Void](`(() => { const s = document.createElement('script'); s.textContent = 'window.ran = true'; document.body.append(s);
		document.body.insertAdjacentHTML('beforeend', '<img src=x onerror="window.ran = true">'); })()`))
	w.do(chromedp.Sleep(300 * time.Millisecond))
	w.want(`window.ran`, "undefined")
}

// The view in space is in the served page, too: under the policy of the header,
// beside the controls, and with the keys of both.
func TestViewInSpace(t *testing.T) {
	panel := handmade.Panel(geom.Identity)
	all, err := rules.Run(panel.Model, rules.Builtin(), 1)
	if err != nil {
		t.Fatal(err)
	}
	for i := range all {
		all[i].ID, all[i].Status = id(i), "open"
	}
	run := (&finding.Run{Models: []finding.ModelInfo{{Name: "hand.ifc", Date: "2026-03-02T08:00:00"}}, Findings: all}).Sorted()
	run.Tally()
	d := open(t, folderWith(t, run, page.Views{
		Drawing: func(*finding.Finding) ([]byte, error) {
			return []byte(`<svg class="dwg face" role="img" aria-label="View" viewBox="0 0 40 10"></svg>`), nil
		},
		Scene: scene.New(subject.NewIndex(panel.Model)).Of,
	}))
	s := serve(t, d)
	w := browser(t)
	w.open(s.URL)
	w.do(chromedp.Click(chromedp.CSS("#space summary")))
	w.until(`document.querySelectorAll('#space-legend li').length > 2`)
	w.do(chromedp.Focus(chromedp.CSS("#space-canvas")), key("."))
	w.until(`document.querySelector('#space-told').textContent.includes('the item: HB-1')`)
	w.want(`document.querySelector('#space-trouble').textContent`, "")
	w.do(key("a"), chromedp.KeyEvent("agreed"), chromedp.Click(chromedp.CSS("#act [type=submit]")))
	w.until(`document.querySelector('#told').textContent === '1 finding accepted.'`)
	w.until(`document.querySelector('#sheet #space').open`)
}

func TestPrinting(t *testing.T) {
	w := browser(t)
	d := open(t, folder(t, checked(12, "WP-1")))
	s := serve(t, d)
	w.open(s.URL)
	w.do(chromedp.Focus(chromedp.CSS(".row a")), key("a"), chromedp.KeyEvent("agreed"), chromedp.Click(chromedp.CSS("#act [type=submit]")))
	w.until(status + ` === 'accepted'`)
	data, err := chromedp.Run(w.ctx, chromedp.PrintToPDF())
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(data), "%PDF-") {
		t.Fatalf("no PDF: %.20q", data)
	}
	pdftotext, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("what is in the PDF was not looked at: no pdftotext, apt-get install poppler-utils")
	}
	path := filepath.Join(t.TempDir(), "list.pdf")
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command(pdftotext, "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for i := range 12 {
		if !strings.Contains(string(text), fmt.Sprintf("Edge distance %d:", i)) {
			t.Errorf("finding %d is not printed", i)
		}
	}
	for what, want := range map[string]bool{"accepted": true, "licensed engineer decide": true, "Write it down": false} {
		if strings.Contains(string(text), what) != want {
			t.Errorf("%q in print: %v, want %v", what, !want, want)
		}
	}
}
