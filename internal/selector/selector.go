// Package selector picks elements out of a model by what they are called and
// what is said about them: the items that a limit of a rule file is for, and the
// elements that a rule file wants to see recognised as something else.
package selector

import "regexp"

// Subject is what a selector looks at. It needs no finished model, so that
// recognition can ask before it knows what an element is.
type Subject struct {
	Kind     string // of the item; "" as long as nothing is known
	Class    string // IFC entity name
	Name     string
	Mark     string // tag
	Type     string // name of its type or its object type
	Material string
	HostName string // both "" without a host
	HostMark string
	Property func(name string) (string, bool) // looks "Pset.Name" up; nil when there are none
}

// Selector matches the subjects that meet everything it states. The zero
// Selector states nothing and matches every subject.
//
// Patterns are searched for anywhere in the text, so that "^" and "$" are
// needed to mean the whole of it.
type Selector struct {
	Kinds      []string // one of these
	Class      *regexp.Regexp
	Name       *regexp.Regexp
	Mark       *regexp.Regexp
	Type       *regexp.Regexp
	Material   *regexp.Regexp
	Host       *regexp.Regexp // the host's name or mark
	Properties []Property
}

// Property asks for a property, by "Pset.Name", with a value that matches. A
// property that is not there matches nothing, not even the empty pattern.
type Property struct {
	Name  string
	Value *regexp.Regexp
}

// Match reports whether s meets everything the selector states.
func (sel *Selector) Match(s *Subject) bool {
	return sel.kind(s.Kind) &&
		matches(sel.Class, s.Class) &&
		matches(sel.Name, s.Name) &&
		matches(sel.Mark, s.Mark) &&
		matches(sel.Type, s.Type) &&
		matches(sel.Material, s.Material) &&
		sel.host(s) &&
		sel.properties(s)
}

func matches(p *regexp.Regexp, text string) bool { return p == nil || p.MatchString(text) }

func (sel *Selector) kind(kind string) bool {
	for _, k := range sel.Kinds {
		if k == kind {
			return true
		}
	}
	return len(sel.Kinds) == 0
}

// host matches no subject without a host, whatever the pattern.
func (sel *Selector) host(s *Subject) bool {
	if sel.Host == nil {
		return true
	}
	return s.HostName != "" && sel.Host.MatchString(s.HostName) ||
		s.HostMark != "" && sel.Host.MatchString(s.HostMark)
}

func (sel *Selector) properties(s *Subject) bool {
	for _, p := range sel.Properties {
		if s.Property == nil {
			return false
		}
		if v, ok := s.Property(p.Name); !ok || !matches(p.Value, v) {
			return false
		}
	}
	return true
}
