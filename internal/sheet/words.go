package sheet

import (
	"fmt"
	"unicode"

	"embedcheck/internal/drawing"
	"embedcheck/internal/model"
	"embedcheck/internal/setout"
)

// mm is a length as it is taped.
func mm(v float64) string { return drawing.FigureText(v) }

// describe is what an element is called besides its mark.
func describe(r *model.Ref) string {
	if r.Name != "" && r.Name != r.Mark {
		return r.Name
	}
	return r.Type
}

// tolText is a tolerance in the way drawings have it.
func tolText(t *setout.Tolerance) string {
	switch {
	case t == nil:
		return ""
	case t.Minus == t.Plus:
		return "±" + mm(t.Plus)
	}
	return "-" + mm(t.Minus) + "/+" + mm(t.Plus)
}

// count is "1 anchor", "4 anchors".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// mainItem is the item that a set is about.
func mainItem(s *setout.Set) *model.Item {
	switch {
	case len(s.Plates) > 0:
		return s.Plates[0].Item
	case len(s.Anchors) > 0:
		return s.Anchors[0].Item
	case len(s.Bodies) > 0:
		return s.Bodies[0].Item
	}
	return s.Items[0]
}

// amount is how many main items a set has.
func amount(s *setout.Set) int {
	switch {
	case len(s.Plates) > 0:
		return len(s.Plates)
	case len(s.Anchors) > 0:
		return len(s.Anchors)
	}
	return max(1, len(s.Bodies))
}

// what is "4 x M20 x 390", "plate 200 x 200 x 12", "M16 x 95".
func what(s *setout.Set) string {
	it := mainItem(s)
	text := it.Size
	if text == "" {
		text = it.Kind.String()
	}
	if n := amount(s); n > 1 {
		return fmt.Sprintf("%d no. %s", n, text)
	}
	return text
}

// faceText is the side of the form a set lies in, with what is there in the
// building.
func (b *book) faceText(f setout.Face) string {
	switch f {
	case setout.Up:
		return "face up (" + b.u.Cast.UpName + ")"
	case setout.Down:
		return "form face (" + b.u.Cast.DownName + ")"
	}
	return f.String()
}

// upper is a clause as the start of a sentence.
func upper(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return ""
	}
	return string(unicode.ToUpper(r[0])) + string(r[1:])
}
