package page_test

import (
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"embedcheck/internal/browsertest"
	"embedcheck/internal/finding"
	"embedcheck/internal/page"
)

// inFile is the address of a page in a file, as it comes out of a mail.
func inFile(t *testing.T, r *page.Report) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "report.html")
	writeFile(t, path, []byte(write(t, r)))
	return (&url.URL{Scheme: "file", Path: path}).String()
}

func writeFile(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// report is of n findings of all priorities in hosts of seven, two kinds and
// rules, some open, new or assigned; each with a drawing of one line.
func report(n int) *page.Report {
	r := run(n, "WP-")
	for i := range r.Findings {
		f := &r.Findings[i]
		f.Title = fmt.Sprintf("Finding %d", i)
		if i%2 == 0 {
			f.Rule, f.Instances[0].Kind, f.Life.Decision = "spacing", "lifter", nil
		} else {
			f.Status = "accepted"
		}
		if i%5 == 0 {
			f.Life.State = finding.New
		}
		if i%4 != 0 {
			f.Life.Topic = nil
		}
	}
	return &page.Report{
		Run: r, Verdict: "Hold", Since: &finding.Comparison{Since: "earlier"},
		Rules: []page.Rule{
			{ID: "spacing", Title: "Spacing", Page: []page.Paragraph{{Title: "What goes wrong", Text: "w"}, {Title: "What to do", Text: "Move it apart."}}},
			{ID: "edge-distance", Title: "Edge", Page: []page.Paragraph{{Title: "What to do", Text: "Move it in."}}},
		},
		Views: page.Views{Drawing: func(f *finding.Finding) ([]byte, error) {
			return []byte(`<svg class="dwg face" role="img" aria-label="View" viewBox="0 0 40 10"><path class="line" d="M0 0l9 9"/></svg>`), nil
		}},
	}
}

const (
	title   = `document.querySelector('#sheet .what h2')?.textContent`
	visible = `document.querySelectorAll('.row:not([hidden])').length`
	count   = `document.querySelector('#count').textContent`
)

// set gives a field of the filters a value, as a user does.
func set(p *browsertest.Page, field, value string) {
	browsertest.Value[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.value = %q; e.dispatchEvent(new Event('input', {bubbles: true})); return true })()`, field, value))
}

func calm(t *testing.T, p *browsertest.Page, address string) {
	t.Helper()
	for _, s := range p.Troubles() {
		t.Errorf("the page makes trouble: %s", s)
	}
	r := p.Requests()
	if len(r) == 0 || strings.SplitN(r[0], "#", 2)[0] != address {
		t.Fatalf("the page itself is not among what was asked for: %q", r)
	}
	for _, a := range r[1:] {
		if strings.SplitN(a, "#", 2)[0] != address {
			t.Errorf("the page asks for %s", a)
		}
	}
}

func TestBrowserFilters(t *testing.T) {
	p := browsertest.Open(t, 1280, 900)
	const n = 28
	address := inFile(t, report(n))
	p.Go(address)
	p.Wait(title + ` !== undefined`)
	if got := browsertest.Value[string](p, count); got != "28 findings" {
		t.Errorf("count is %q", got)
	}
	// Numbers by hand: of 0 to 27, even ones are of rule spacing, multiples of 5
	// new, multiples of 4 assigned, hosts take seven each.
	for _, c := range []struct {
		field, value string
		want         int
	}{
		{"#by-rule", "spacing", 14},
		{"#by-kind", "lifter", 14},
		{"#by-state", "s:accepted", 14},
		{"#by-state", "l:new", 6},
		{"#by-state", "a:any", 7},
		{"#by-state", "a:", 21},
		{"#by-host", "0", 7},
		{"#q", "finding 27", 1},
		{"#q", "FINDING spacing", 14},
		{"#q", "nowhere", 0},
	} {
		set(p, c.field, c.value)
		p.Wait(fmt.Sprintf("%s === '%d of 28 findings'", count, c.want))
		if got := browsertest.Value[int](p, visible); got != c.want {
			t.Errorf("%s %s: %d rows are shown, %d wanted", c.field, c.value, got, c.want)
		}
		set(p, c.field, "")
		p.Wait(count + ` === '28 findings'`)
	}
	set(p, "#by-rule", "spacing")
	set(p, "#by-state", "l:new")
	p.Wait(count + ` === '3 of 28 findings'`)
	browsertest.Value[bool](p, `(document.querySelector('#clear').click(), true)`)
	p.Wait(count + ` === '28 findings'`)
	calm(t, p, address)
}

func TestBrowserKeyboard(t *testing.T) {
	p := browsertest.Open(t, 1280, 900)
	address := inFile(t, report(28))
	p.Go(address)
	p.Wait(title + ` !== undefined`)
	titles := browsertest.Value[[]string](p, `[...document.querySelectorAll('.row .t')].map(e => e.textContent)`)
	if len(titles) != 28 {
		t.Fatalf("%d rows", len(titles))
	}
	for _, c := range []struct {
		keys string
		want int
	}{{"j", 1}, {"j", 2}, {"k", 1}, {"n", 7}, {"n", 14}, {"p", 7}, {"jj", 9}} {
		p.Keys(c.keys)
		p.Wait(fmt.Sprintf("%s === %q", title, titles[c.want]))
		if got := browsertest.Value[string](p, `document.activeElement.querySelector('.t').textContent`); got != titles[c.want] {
			t.Errorf("after %q the focus is on %q", c.keys, got)
		}
	}
	p.Keys("\r")
	p.Wait(`document.activeElement.id === 'sheet'`)
	p.Keys("\x1b")
	p.Wait(`document.activeElement.closest('.row') !== null`)
	p.Keys("/")
	p.Wait(`document.activeElement.id === 'q'`)
	// Typed, not obeyed. The slash is there as well: keys that tests press type
	// their character whatever the page says.
	p.Keys("j")
	p.Wait(count + ` === '0 of 28 findings'`)
	p.Keys("\x1b") // out of the field, though no row is there to take the focus
	p.Wait(`document.activeElement.id === 'list'`)
	p.Keys("?")
	p.Wait(`document.activeElement.id === 'keys'`)
	set(p, "#q", "")
	p.Wait(count + ` === '28 findings'`)
	if n := browsertest.Value[int](p, `[...document.querySelectorAll('#list a')].filter(a => a.tabIndex === 0).length`); n != 1 {
		t.Errorf("the list is %d stops of the Tab key", n)
	}
	calm(t, p, address)
}

// TestBrowserReload opens the finding that the address names, so that an
// address in a message leads to its finding.
func TestBrowserReload(t *testing.T) {
	p := browsertest.Open(t, 1280, 900)
	address := inFile(t, report(28))
	p.Go(address + "#f-" + fmt.Sprintf("%032x", 13))
	p.Wait(title + ` === 'Finding 13'`)
	if got := browsertest.Value[string](p, `document.querySelector('.rule dt').textContent + ': ' + document.querySelector('.rule dd').textContent`); got != "What to do: Move it in." {
		t.Errorf("first thing said about the rule: %q", got)
	}
	calm(t, p, address)
}

func TestBrowserHostileNames(t *testing.T) {
	p := browsertest.Open(t, 1280, 900)
	r := report(20)
	r.Run = run(20, hostile)
	r.Since.Resolved = []finding.Resolved{{Finding: r.Run.Findings[0], Reason: hostile}}
	address := inFile(t, r)
	p.Go(address)
	p.Wait(title + ` !== undefined`)
	for range 19 {
		p.Keys("j")
	}
	p.Wait(`document.querySelectorAll('#sheet .what h2').length === 1`)
	if n := browsertest.Value[int](p, `document.querySelectorAll('img').length`); n != 0 {
		t.Errorf("%d elements were made of names", n)
	}
	if got := browsertest.Value[string](p, title); !strings.Contains(got, "<img src=x onerror=alert(1)>") {
		t.Errorf("the name is shown as %q", got)
	}
	calm(t, p, address)
}

// TestBrowserPolicyHolds puts an element with a handler into the page, as a
// mistake in the templates would: the page's policy must keep it from running.
func TestBrowserPolicyHolds(t *testing.T) {
	p := browsertest.Open(t, 1280, 900)
	p.Go(inFile(t, report(3)))
	browsertest.Value[bool](p, `(document.body.insertAdjacentHTML('beforeend', '<img src="data:x" onerror="document.title=\'ran\'"><b onclick="document.title=\'ran\'" id="bad">b</b>'), document.querySelector('#bad').click(), true)`)
	p.Wait(`document.querySelector('#bad') !== null`)
	if browsertest.Value[string](p, `document.title`) == "ran" {
		t.Error("a handler in an attribute ran")
	}
	if !strings.Contains(strings.Join(p.Troubles(), "\n"), "Content Security Policy") {
		t.Errorf("the browser does not tell of a breach: %q", p.Troubles())
	}
}

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// TestBrowserPrint counts pages: a head, then one a host that is shown.
func TestBrowserPrint(t *testing.T) {
	p := browsertest.Open(t, 1280, 900)
	address := inFile(t, report(28))
	p.Go(address)
	p.Wait(`document.querySelectorAll('.plates').length === 4 && [...document.querySelectorAll('.plates')].every(e => e.querySelector('.plate') && e.querySelector('.do'))`)
	whole := len(pdfPage.FindAll(p.PDF(), -1))
	set(p, "#by-host", "0")
	p.Wait(count + ` === '7 of 28 findings'`)
	one := len(pdfPage.FindAll(p.PDF(), -1))
	if whole != one+3 {
		t.Errorf("%d pages with four hosts, %d with one", whole, one)
	}
	calm(t, p, address)
}
