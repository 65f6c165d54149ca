package drawing

import "unicode"

// capHeight is the height of capitals in a usual sans-serif face, in ems.
const capHeight = 0.72

// textWidth is what a line of text takes on paper, in mm, for capitals of the
// given height. Faces differ: the widths are those of a wide one, so that no
// text runs out of its place in another.
func textWidth(s string, size float64, bold bool) float64 {
	em := size / capHeight
	var w float64
	for _, r := range s {
		w += advance(r)
	}
	if bold {
		w *= 1.08
	}
	return w * em
}

// advance is the width of a character in ems.
func advance(r rune) float64 {
	switch {
	case r == ' ' || r == '.' || r == ',' || r == ':' || r == ';' || r == '\'' || r == '|' || r == '!':
		return 0.32
	case r == 'i' || r == 'j' || r == 'l' || r == 'I':
		return 0.30
	case r == 'f' || r == 't' || r == 'r' || r == '-' || r == '(' || r == ')' || r == '/' || r == '[' || r == ']' || r == '"':
		return 0.40
	case r == 'm' || r == 'w' || r == 'M' || r == 'W' || r == '@' || r == '%':
		return 0.95
	case '0' <= r && r <= '9' || r == '+' || r == '=' || r == '<' || r == '>' || r == '≥' || r == '≤':
		return 0.61
	case 'A' <= r && r <= 'Z':
		return 0.70
	case 'a' <= r && r <= 'z':
		return 0.59
	case unicode.Is(unicode.Mn, r):
		return 0
	case r >= 0x1100:
		return 1.05
	}
	return 0.72
}
