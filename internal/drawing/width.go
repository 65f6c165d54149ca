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
		w *= 1.12
	}
	return w * em
}

// letters are the advance widths of the letters of a wide sans-serif face, in
// hundredths of an em.
var letters = [2][26]uint8{
	{69, 69, 70, 77, 64, 58, 78, 76, 30, 30, 66, 56, 87, 75, 79, 61, 79, 70, 64, 62, 74, 69, 99, 69, 62, 69},
	{62, 64, 55, 64, 62, 36, 64, 64, 28, 28, 58, 28, 98, 64, 62, 64, 64, 42, 53, 40, 64, 60, 82, 60, 60, 53},
}

// advance is the width of a character in ems.
func advance(r rune) float64 {
	switch {
	case 'A' <= r && r <= 'Z':
		return float64(letters[0][r-'A']) / 100
	case 'a' <= r && r <= 'z':
		return float64(letters[1][r-'a']) / 100
	case '0' <= r && r <= '9':
		return 0.64
	case r == ' ' || r == '.' || r == ',' || r == '\'' || r == '|':
		return 0.32
	case r == ':' || r == ';' || r == '/' || r == '\\' || r == '-' || r == '(' || r == ')' || r == '[' || r == ']' || r == '!':
		return 0.41
	case r == '"' || r == '*' || r == '_' || r == '°' || r == '?':
		return 0.54
	case unicode.Is(unicode.Mn, r):
		return 0
	case r >= 0x1100:
		return 1.05
	case r == '+' || r == '=' || r == '<' || r == '>' || r == '#' || r == '~' || r == '≥' || r == '≤' || r == '×':
		return 0.84
	case r == '%' || r == '@':
		return 1.0
	}
	return 0.78
}
