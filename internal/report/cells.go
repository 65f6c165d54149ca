package report

import (
	"io"
	"os"
	"strings"
	"unicode"

	"golang.org/x/term"
	"golang.org/x/text/width"
)

// Layout says how wide a text may be and whether it may have colour.
type Layout struct {
	Width int  // columns; 0: 80
	Color bool // SGR escapes, for terminals
}

const (
	narrowest = 72
	standard  = 80
	widest    = 110
)

// LayoutFor looks at where the text goes: colour on a terminal only, and never
// when NO_COLOR is set to anything or the terminal is a dumb one.
func LayoutFor(out io.Writer) Layout {
	if !OnTerminal(out) {
		return Layout{Width: standard}
	}
	f := out.(*os.File)
	l := Layout{Width: standard, Color: colorAllowed(os.Getenv)}
	if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
		l.Width = w - 1 // the last column makes some terminals break the line
	}
	return l
}

// OnTerminal reports whether out is a terminal.
func OnTerminal(out io.Writer) bool {
	f, ok := out.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

func colorAllowed(env func(string) string) bool {
	return env("NO_COLOR") == "" && env("TERM") != "dumb"
}

func (l Layout) columns() int {
	if l.Width <= 0 {
		return standard
	}
	return min(max(l.Width, narrowest), widest)
}

// The few attributes in use: red, yellow and cyan for the priorities, bold for
// headings.
const (
	bold   = "1"
	red    = "1;31"
	yellow = "33"
	cyan   = "36"
)

func (l Layout) paint(s, attribute string) string {
	if !l.Color || s == "" {
		return s
	}
	return "\x1b[" + attribute + "m" + s + "\x1b[0m"
}

// columnsOf is the number of terminal columns that a plain text takes.
func columnsOf(s string) int {
	n := 0
	for _, r := range s {
		n += columnsOfRune(r)
	}
	return n
}

func columnsOfRune(r rune) int {
	if r < 0x300 {
		return 1
	}
	if unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf) {
		return 0
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return 2
	}
	return 1
}

// fit cuts a text to n columns; the cut shows as dots.
func fit(s string, n int) string {
	if columnsOf(s) <= n {
		return s
	}
	head, _ := splitAt(s, max(n-3, 0))
	return strings.TrimRight(head, " ") + "..."[:min(3, n)]
}

// splitAt splits a text after at most n columns.
func splitAt(s string, n int) (head, rest string) {
	used := 0
	for i, r := range s {
		used += columnsOfRune(r)
		if used > n {
			return s[:i], s[i:]
		}
	}
	return s, ""
}

// pad fills a text up to n columns, on the left when right is set.
func pad(s string, n int, right bool) string {
	fill := strings.Repeat(" ", max(n-columnsOf(s), 0))
	if right {
		return fill + s
	}
	return s + fill
}

// wrap breaks a plain text at blanks into lines of at most n columns; a word
// that is longer is broken where it has to be.
func wrap(s string, n int) []string {
	n = max(n, 8)
	var lines []string
	line, used := "", 0
	for _, word := range strings.Fields(s) {
		w := columnsOf(word)
		if used > 0 && used+1+w <= n {
			line += " " + word
			used += 1 + w
			continue
		}
		if used > 0 {
			lines = append(lines, line)
		}
		for w > n {
			var head string
			head, word = splitAt(word, n)
			lines = append(lines, head)
			w = columnsOf(word)
		}
		line, used = word, w
	}
	if used > 0 || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}
