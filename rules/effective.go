package rules

import (
	"encoding/binary"

	"embedcheck/internal/model"
	"embedcheck/internal/selector"
)

// alike is a class of items to which the same parameters apply: one kind, and
// matched by the same entries of the rule file.
type alike struct {
	kind model.Kind
	by   []int32 // entries of Set.For, in their order
}

// classify sorts the items into classes; of[i] is the class of item i.
func classify(items []*model.Item, set *Set) (classes []alike, of []int32) {
	of = make([]int32, len(items))
	seen := map[string]int32{}
	var key []byte
	for i, it := range items {
		by := set.matching(it)
		key = append(key[:0], byte(it.Kind))
		for _, f := range by {
			key = binary.BigEndian.AppendUint32(key, uint32(f))
		}
		n, ok := seen[string(key)]
		if !ok {
			n = int32(len(classes))
			seen[string(key)] = n
			classes = append(classes, alike{it.Kind, by})
		}
		of[i] = n
	}
	return classes, of
}

func (s *Set) matching(it *model.Item) []int32 {
	if len(s.For) == 0 {
		return nil
	}
	var by []int32
	sub := subject(it)
	for i := range s.For {
		if s.For[i].Items.Match(&sub) {
			by = append(by, int32(i))
		}
	}
	return by
}

func subject(it *model.Item) selector.Subject {
	s := selector.Subject{
		Kind: it.Kind.String(), Class: it.Class, Name: it.Name, Mark: it.Mark,
		Type: it.Type, Material: it.Material, Property: it.Property,
	}
	if it.Host != nil {
		s.HostName, s.HostMark = it.Host.Name, it.Host.Mark
	}
	return s
}

// params are the parameters of rule r for items of a class.
func (s *Set) params(r *Rule, c alike) *Params {
	p := r.builtin(c.kind)
	p = s.Rules[r.ID].over(p, s.Name)
	for _, f := range c.by {
		if ch, ok := s.For[f].Rules[r.ID]; ok {
			p = ch.over(p, s.Name)
		}
	}
	return &p
}

// builtin are the built-in parameters for items of a kind.
func (r *Rule) builtin(k model.Kind) Params {
	for _, f := range r.ForKinds {
		for _, o := range f.Kinds {
			if o == k {
				return f.Params
			}
		}
	}
	return r.Default
}

// General are the parameters of rule r that hold when nothing is known about an
// item: those of findings about no item.
func (s *Set) General(r *Rule) Params {
	return s.Rules[r.ID].over(r.Default, s.Name)
}

// ParamsFor are the parameters of rule r that hold for an item.
func (s *Set) ParamsFor(r *Rule, it *model.Item) Params {
	return *s.params(r, alike{it.Kind, s.matching(it)})
}
