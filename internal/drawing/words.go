package drawing

import (
	"math"
	"strings"

	"embedcheck/internal/drawing/subject"
	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// names are cut to this many characters on the sheet.
const longestName = 28

func short(s string, n int) string { return finding.Short(finding.Plain(s), n) }

// failText is a figure with its limit: "65 (min 100)".
func failFigure(s *subject.Subject) string {
	in := s.Instance
	got, want := figure(in.Measured), figure(in.Required)
	if in.Unit != "mm" || got == want {
		got, want = in.Values()
		got, want = bare(got), bare(want)
	}
	if in.Unit == "mm" && in.Measured < -1e-3 {
		got = strings.TrimPrefix(got, "-")
		switch s.Quantity {
		case subject.BarClearance, subject.ItemClearance:
			got = "overlap " + got
		case subject.PlateEdge, subject.BackCover, subject.HookCover:
			got += " beyond"
		case subject.Projection:
			got += " below face"
		default:
			got = "-" + got
		}
	}
	switch in.Relation {
	case finding.AtLeast:
		return got + " (min " + want + ")"
	case finding.AtMost:
		return got + " (max " + want + ")"
	case finding.Equal:
		return got + " (not " + want + ")"
	}
	return got
}

// bare is a figure without its unit, which mm on a drawing need not have.
func bare(s string) string {
	for _, unit := range [2]string{" degrees", " degree"} {
		if v, ok := strings.CutSuffix(s, unit); ok {
			return v + "°"
		}
	}
	return strings.TrimSuffix(s, " mm")
}

// ratioNames are shorter words for figures that are no distance.
var ratioNames = map[subject.Quantity]string{
	subject.DepthToEdge: "depth / edge",
	subject.Cone:        "share of cone",
}

// quantityName is what a figure is called on the sheet.
func quantityName(q subject.Quantity) string {
	if n := ratioNames[q]; n != "" {
		return n
	}
	return string(q)
}

// itemText is what an item is called on the sheet, with its size.
func itemText(it *model.Item) string {
	t := short(subject.Label(&it.Ref), longestName)
	size := short(it.Size, longestName)
	if first, _, _ := strings.Cut(size, " "); size != "" && !strings.Contains(t, first) {
		t += "  " + size
	}
	return t
}

// barText is a bar's name and diameter.
func barText(s *subject.Subject, b *subject.Bar) string {
	r := s.Index.Ref(b)
	t := short(subject.Label(&r), longestName)
	if b.Rod != nil {
		t += "  ø" + trim(math.Round(20*b.Rod.Radius)/10)
	}
	return t
}
