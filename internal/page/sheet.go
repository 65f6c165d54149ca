package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"embedcheck/internal/finding"
)

// sheet is what the template of a sheet sees.
type sheet struct {
	*row
	Drawing template.HTML
}

// Caution is what stands at the foot of every sheet.
func (s *sheet) Caution() string { return finding.Caution }

func place(in *finding.Instance) string {
	return fmt.Sprintf("%.3f %.3f %.3f", in.At.X, in.At.Y, in.At.Z)
}

// Models are the files that the finding is about.
func (s *sheet) Models() string {
	var list []string
	add := func(name string) {
		if n := finding.Plain(name); n != "" && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	add(s.F.Host.Model)
	for i := range s.F.Instances {
		add(s.F.Instances[i].Item.Model)
	}
	return strings.Join(list, ", ")
}

// placeView is one place where the rule is not met.
type placeView struct {
	Item, Others, Measured, Required, Where string
	Worst                                   bool
}

// mostPlaces is how many places a sheet lists: more are nothing to be read.
const mostPlaces = 40

// Places are the places, worst or not, in the order of the finding.
func (s *sheet) Places() []placeView {
	var list []placeView
	worst := s.F.Worst()
	for i := range s.F.Instances {
		if len(list) == mostPlaces {
			break
		}
		in := &s.F.Instances[i]
		p := placeView{Item: in.Item.Label(), Where: place(in), Worst: in == worst}
		if in.Anchor >= 0 {
			p.Item += fmt.Sprintf(", anchor %d", in.Anchor+1)
		}
		if f := figuresOf(in); f != nil {
			p.Measured, p.Required = f.Measured, f.Sign+" "+f.Required
		}
		var others []string
		for _, o := range in.Others {
			others = append(others, o.Label())
		}
		p.Others = finding.Short(strings.Join(others, ", "), 90)
		list = append(list, p)
	}
	return list
}

// MorePlaces is how many places are not listed.
func (s *sheet) MorePlaces() int { return max(0, len(s.F.Instances)-mostPlaces) }

// Said are the comments of people, oldest first.
func (s *sheet) Said() []finding.Said { return s.F.Life.Said() }
