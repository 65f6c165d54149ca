package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"embedcheck/internal/browsertest"
)

// contrast works out, for every text to be seen, its contrast against the
// nearest background that is painted, by the definitions of relative luminance
// and contrast ratio in WCAG 2.1 (W3C Recommendation, 2018), and tells those
// below 4.5, the least of success criterion 1.4.3.
const contrast = `(() => {
 const rgb = s => { const m = s.match(/[\d.]+/g).map(Number); return m.length > 3 && m[3] === 0 ? null : m.slice(0, 3); };
 const lum = c => c.map(v => v / 255).map(v => v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4).reduce((s, v, i) => s + v * [0.2126, 0.7152, 0.0722][i], 0);
 const behind = e => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor); if (c) return c; } return [255, 255, 255]; };
 const bad = new Set();
 let seen = 0;
 const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
 while (walk.nextNode()) {
  const e = walk.currentNode.parentElement;
  if (!walk.currentNode.textContent.trim() || !e.checkVisibility() || e.closest('script, style, .vh, .skip:not(:focus)')) continue;
  const style = getComputedStyle(e), ink = rgb(e.closest('svg') ? style.fill : style.color);
  if (!ink) continue;
  seen++;
  const [a, b] = [lum(ink), lum(behind(e))].sort((x, y) => y - x), ratio = (a + 0.05) / (b + 0.05);
  if (ratio < 4.5) bad.add(e.tagName + '.' + e.getAttribute('class') + ' ' + ratio.toFixed(2));
 }
 return [String(seen), ...bad];
})()`

// named are fields and buttons that a screen reader has no name for, and other
// faults of structure: more than one heading of the first order, no landmark.
const named = `[
 ...[...document.querySelectorAll('input, select, textarea')].filter(e => !e.labels.length && !e.ariaLabel).map(e => 'no label: ' + e.outerHTML),
 ...[...document.querySelectorAll('button, a')].filter(e => !e.textContent.trim() && !e.ariaLabel).map(e => 'no name: ' + e.outerHTML),
 ...[...document.querySelectorAll('[aria-labelledby]')].filter(e => !document.getElementById(e.getAttribute('aria-labelledby'))).map(e => 'label is not there: ' + e.outerHTML.slice(0, 80)),
 ...['h1', 'main', 'header', 'nav', '[role=search]', '[aria-live]'].filter(s => document.querySelectorAll(s).length !== 1).map(s => s + ': not one'),
 ...[...document.querySelectorAll('svg')].filter(e => e.getAttribute('role') !== 'img' || !e.getAttribute('aria-label')).map(() => 'a drawing without name'),
 ...(document.documentElement.lang ? [] : ['no language']),
]`

// wide is by how many pixels the page is wider than the window.
const wide = `document.documentElement.scrollWidth - innerWidth`

// TestBrowserLooks looks at the page on a desk and on a telephone, by day and
// by night. With PICTURES set to a folder it leaves pictures there.
func TestBrowserLooks(t *testing.T) {
	address := inFile(t, report(28))
	for _, width := range []int64{1280, 390} {
		for _, dark := range []bool{false, true} {
			name := fmt.Sprintf("%d-dark-%v", width, dark)
			t.Run(name, func(t *testing.T) {
				p := browsertest.Open(t, width, 844)
				if dark {
					p.Dark()
				}
				p.Go(address)
				look(t, p, name+"-list")
				p.Keys("j")
				p.Wait(title + ` !== undefined`)
				look(t, p, name+"-sheet")
				calm(t, p, address)
			})
		}
	}
}

func look(t *testing.T, p *browsertest.Page, name string) {
	t.Helper()
	if n := browsertest.Value[int](p, wide); n > 0 {
		t.Errorf("%s: %d pixels wider than the window", name, n)
	}
	list := browsertest.Value[[]string](p, contrast)
	if list[0] == "0" {
		t.Errorf("%s: no text was looked at", name)
	}
	for _, s := range list[1:] {
		t.Errorf("%s: too little contrast: %s", name, s)
	}
	for _, s := range browsertest.Value[[]string](p, named) {
		t.Errorf("%s: %s", name, s)
	}
	if dir := os.Getenv("PICTURES"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name+".png"), p.Picture(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// TestBrowserNarrow: on a telephone the sheet stands in place of the list, and
// there is a way back.
func TestBrowserNarrow(t *testing.T) {
	p := browsertest.Open(t, 390, 844)
	address := inFile(t, report(28))
	p.Go(address)
	p.Wait(visible + ` === 28`)
	if browsertest.Value[bool](p, `document.querySelector('#sheet .sheet') !== null`) {
		t.Error("a sheet covers the list before one was chosen")
	}
	browsertest.Value[bool](p, `(document.querySelectorAll('.row a')[9].click(), true)`)
	p.Wait(title + ` !== undefined && !document.querySelector('#list').checkVisibility()`)
	browsertest.Value[bool](p, `(document.querySelector('.back').click(), true)`)
	p.Wait(`document.querySelector('#list').checkVisibility() && document.activeElement === document.querySelectorAll('.row a')[9]`)
	calm(t, p, address)
}

// TestBrowserThousands: rows that are not in view are not laid out, and a few
// packages of sheets are kept only.
func TestBrowserThousands(t *testing.T) {
	p := browsertest.Open(t, 1280, 900)
	address := inFile(t, report(2000))
	p.Go(address)
	p.Wait(title + ` !== undefined`)
	set(p, "#q", "finding 1999")
	p.Wait(count + ` === '1 of 2000 findings'`)
	set(p, "#q", "")
	p.Wait(count + ` === '2000 findings'`)
	browsertest.Value[bool](p, `(document.querySelectorAll('.row a')[1999].click(), true)`)
	p.Wait(title + ` === document.querySelectorAll('.row .t')[1999].textContent`)
	if n := browsertest.Value[int](p, `document.querySelectorAll('svg').length`); n != 1 {
		t.Errorf("%d drawings stand in the page, one is shown", n)
	}
	laid := browsertest.Value[int](p, `[...document.querySelectorAll('.row a')].filter(e => e.checkVisibility({contentVisibilityAuto: true})).length`)
	if laid == 0 || laid > 400 {
		t.Errorf("%d of 2000 rows are laid out", laid)
	}
	calm(t, p, address)
}
