package report

import (
	"math/rand/v2"
	"strings"
	"testing"
)

func TestWrap(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 3000 {
		var words []string
		for range r.IntN(12) {
			words = append(words, strings.Repeat(string([]rune("ab-é基")[r.IntN(5)]), 1+r.IntN(14)))
		}
		text, n := strings.Join(words, " "), 8+r.IntN(20)
		lines := wrap(text, n)
		for _, l := range lines {
			if columnsOf(l) > n {
				t.Fatalf("%d columns of %d in %q", columnsOf(l), n, l)
			}
		}
		squeeze := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if squeeze(strings.Join(lines, "")) != squeeze(text) {
			t.Fatalf("%q became %q", text, lines)
		}
	}
}

func TestColumns(t *testing.T) {
	for _, c := range []struct {
		in   string
		want int
	}{{"", 0}, {"abc", 3}, {"é", 1}, {"e\u0301", 1}, {"基礎", 4}, {"ＡＢ", 4}, {"φ16", 3}, {"a\u200bb", 2}} {
		if got := columnsOf(c.in); got != c.want {
			t.Errorf("%q: got %d, want %d", c.in, got, c.want)
		}
	}
}

func TestFit(t *testing.T) {
	for _, c := range []struct {
		in   string
		n    int
		want string
	}{{"abcdef", 6, "abcdef"}, {"abcdefg", 6, "abc..."}, {"基礎基礎", 7, "基礎..."}, {"基礎基礎", 6, "基..."}, {"abc", 2, ".."}} {
		if got := fit(c.in, c.n); got != c.want {
			t.Errorf("fit(%q, %d) = %q, want %q", c.in, c.n, got, c.want)
		}
	}
}

func TestTable(t *testing.T) {
	tab := table{columns: []column{
		{title: "item", most: 8}, {title: "mark"}, {title: "n", right: true}, {title: "why", flex: true},
	}}
	tab.add("HB-1", "", "4", "headed rod, 20 mm through, member of the assembly HB-1 that stands in WP-03")
	tab.add("a name that is long", "", "12", "基礎 bolt")
	got := strings.Join(tab.lines(Layout{Width: 72}, "  "), "\n") + "\n"
	want := `  item       n  why
  HB-1       4  headed rod, 20 mm through, member of the assembly HB-1
                that stands in WP-03
  a nam...  12  基礎 bolt
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestTableGivesWayWhereItMay(t *testing.T) {
	tab := table{columns: []column{{title: "a", flex: true}, {title: "b", flex: true}, {title: "c"}}}
	tab.add(strings.Repeat("word ", 40), "short", "fixed")
	for _, l := range tab.lines(Layout{Width: 72}, "") {
		if columnsOf(l) > 72 {
			t.Errorf("%d columns in %q", columnsOf(l), l)
		}
	}
	if w := tab.widths(72); w[1] != len("short") || w[2] != len("fixed") {
		t.Errorf("widths %v: short columns have to keep what they need", w)
	}
}
