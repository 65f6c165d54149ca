package bcf

import (
	"embedcheck/internal/finding"
)

// Colours of the view: what a finding is about stands out from what it is too
// near to, and the host lets both be seen. Host: alpha first.
const (
	itemColor  = "E4572E"
	otherColor = "2E86AB"
	hostColor  = "40B8B8B8"
)

// maxComponents is what a view may list before the standard wants the user to
// be asked for less.
const maxComponents = 1000

// shown is what the view of a finding selects and colours.
type shown struct {
	selection []Component
	coloring  []Color
	host      []Component
	hidden    []finding.Ref // without a GlobalId that viewers can find them by
	cut       int           // left out because there are too many
}

// display sorts the elements of a finding into items, others and host, each
// element once.
func display(f *finding.Finding) shown {
	var d shown
	seen := map[finding.Ref]bool{}
	ids := map[string]bool{}
	take := func(to []Component, r finding.Ref) []Component {
		if r == (finding.Ref{}) || seen[r] {
			return to
		}
		seen[r] = true
		switch {
		case !isGlobalID(r.GlobalID):
			d.hidden = append(d.hidden, r)
		case ids[r.GlobalID]:
		case len(ids) >= maxComponents:
			d.cut++
		default:
			ids[r.GlobalID] = true
			return append(to, Component{GlobalID: r.GlobalID})
		}
		return to
	}
	var items, others []Component
	for i := range f.Instances {
		items = take(items, f.Instances[i].Item)
	}
	for i := range f.Instances {
		for _, o := range f.Instances[i].Others {
			if o != f.Host {
				others = take(others, o)
			}
		}
	}
	d.selection = append(append(d.selection, items...), others...)
	d.host = take(d.host, f.Host)
	for _, c := range [...]Color{{itemColor, items}, {otherColor, others}, {hostColor, d.host}} {
		if len(c.Components) > 0 {
			d.coloring = append(d.coloring, c)
		}
	}
	return d
}
