package ifcread

import (
	"fmt"
	"strings"
)

// listText is the clear text of an aggregate of which XML has the members
// separated by blanks, those of nested ones behind each other.
func listText(f form, text string) string {
	member, _, _ := f.list()
	words := strings.Fields(text)
	_, size, nested := member.list()
	var b strings.Builder
	b.WriteByte('(')
	switch {
	case !nested:
		for i, w := range words {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString(scalarText(member, w))
		}
	case len(words) > 0:
		if size == 0 {
			size = len(words)
		}
		for i := 0; i < len(words); i += size {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString(listText(member, strings.Join(words[i:min(i+size, len(words))], " ")))
		}
	}
	b.WriteByte(')')
	return b.String()
}

// scalarText is the clear text of one value. What is none of its type becomes a
// string, so that whoever reads it finds that it is no number, as in clear text.
func scalarText(f form, text string) string {
	word := strings.TrimSpace(text)
	switch f.base() {
	case formText:
		return quoted(text)
	case formLogical:
		return logicalText(word)
	}
	if word == "" {
		return "$"
	}
	switch f.base() {
	case formNumber:
		if numberKind([]byte(word)) != Bad {
			return word
		}
	case formEnum:
		if isLetter(word[0]) && skipWord([]byte(word), 0) == len(word) {
			return "." + strings.ToUpper(word) + "."
		}
	case formBinary:
		if _, ok := hexNumber([]byte(word[max(0, len(word)-4):])); ok && !strings.ContainsAny(word, "'\";") {
			return `"` + word + `"`
		}
	case formSelect:
		if numberKind([]byte(word)) != Bad {
			return word
		}
	}
	return quoted(text)
}

func logicalText(word string) string {
	switch strings.ToLower(word) {
	case "":
		return "$"
	case "true", "1", "t", ".t.":
		return ".T."
	case "false", "0", "f", ".f.":
		return ".F."
	case "unknown", "u", ".u.":
		return ".U."
	}
	return quoted(word)
}

// quoted is a string in clear text. Characters beyond ASCII stay UTF-8.
func quoted(s string) string {
	var b strings.Builder
	b.Grow(len(s) + 2)
	b.WriteByte('\'')
	for i := range len(s) {
		switch c := s[i]; {
		case c == '\'' || c == '\\':
			b.WriteByte(c)
			b.WriteByte(c)
		case c < ' ':
			fmt.Fprintf(&b, `\X\%02X`, c)
		default:
			b.WriteByte(c)
		}
	}
	b.WriteByte('\'')
	return b.String()
}
