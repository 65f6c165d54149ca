package schedule

import (
	"cmp"
	"slices"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// unit is what is ordered and set as one thing: an assembly, the bolts of one
// template, or a single item.
type unit struct {
	items []*model.Item // those that carry anchors first, as the model has them
	set   *model.Set    // nil for a single item
	host  *model.Host   // nil when there is none
	shape shape
	made  string // what else has to agree: kinds, finish, grade
}

// units are the units of a model, host by host in the order of people.
func units(m *model.Model) []*unit {
	var out []*unit
	seen := map[*model.Set]bool{}
	for _, it := range m.Items {
		s := it.Set
		switch {
		case !together(s):
			out = append(out, &unit{items: []*model.Item{it}})
		case !seen[s]:
			seen[s] = true
			out = append(out, &unit{items: mainFirst(s.Items), set: s})
		}
	}
	for _, u := range out {
		u.host = u.hosts()
		u.shape = shapeOf(u.items)
		u.made = u.making()
	}
	slices.SortStableFunc(out, func(a, b *unit) int {
		return cmp.Or(compareHosts(a.host, b.host), cmp.Compare(a.items[0].Kind, b.items[0].Kind), finding.Natural(a.label(), b.label()))
	})
	return out
}

// mainFirst puts the items that carry anchors before the template and the nuts.
func mainFirst(items []*model.Item) []*model.Item {
	out := slices.Clone(items)
	slices.SortStableFunc(out, func(a, b *model.Item) int {
		return cmp.Compare(min(len(b.Anchors), 1), min(len(a.Anchors), 1))
	})
	return out
}

// together reports whether a set is made and set as one thing. Bolts that only
// stand near each other are not.
func together(s *model.Set) bool {
	if s == nil {
		return false
	}
	if s.Template != nil || len(s.Items) == 1 {
		return true
	}
	return !slices.ContainsFunc(s.Items, func(it *model.Item) bool {
		return it.Assembly == "" || it.Assembly != s.Items[0].Assembly
	})
}

func (u *unit) hosts() *model.Host {
	for _, it := range u.items {
		if it.Host != nil {
			return it.Host
		}
	}
	return nil
}

func compareHosts(a, b *model.Host) int {
	switch {
	case a == b:
		return 0
	case a == nil:
		return 1 // what lies in no host comes last
	case b == nil:
		return -1
	}
	return cmp.Or(finding.Natural(hostName(a), hostName(b)), cmp.Compare(a.Source, b.Source), cmp.Compare(a.Instance, b.Instance))
}

// hostName is the mark of a host, else what a person finds it by.
func hostName(h *model.Host) string {
	if h == nil {
		return "in no host"
	}
	return markOf(&h.Ref)
}

func markOf(r *model.Ref) string {
	return finding.Ref{Name: r.Name, Mark: r.Mark, Class: r.Class}.YardMark()
}

// label is the mark of a unit: that of its assembly, or those of its items.
func (u *unit) label() string {
	if u.set != nil && u.items[0].Assembly != "" && finding.Plain(u.set.Name) != "" {
		return finding.Plain(u.set.Name)
	}
	var marks []string
	for _, it := range u.items {
		if it.Twin || it.Kind == model.Template && len(u.items) > 1 {
			continue
		}
		if m := markOf(&it.Ref); !slices.Contains(marks, m) {
			marks = append(marks, m)
		}
	}
	if len(marks) == 0 {
		return markOf(&u.items[0].Ref)
	}
	slices.SortStableFunc(marks, finding.Natural)
	return strings.Join(marks, " + ")
}

// making is what a unit is made of, as far as geometry does not show it.
func (u *unit) making() string {
	var parts []string
	for _, it := range u.items {
		parts = append(parts, it.Kind.String()+"|"+strings.ToLower(finding.Plain(it.Stated.Finish))+"|"+strings.ToLower(gradeOf(it))+"|"+mm(it.Stated.Thread))
	}
	slices.Sort(parts)
	return strings.Join(parts, "\n")
}

// gradeOf is the grade that the model states, or the material that names one.
func gradeOf(it *model.Item) string {
	if g := finding.Plain(it.Stated.Grade); g != "" {
		return g
	}
	if it.States(model.GradeDatum) {
		return finding.Plain(it.Material)
	}
	return ""
}
