package bcf

import (
	"fmt"
	"strings"

	"embedcheck/internal/finding"
)

// How much a description says; what it leaves out it counts.
const (
	maxPlaces  = 300 // of a finding
	maxListed  = 8   // names in a list
	nameLength = 60  // characters of a name
)

// describe is the description of a topic: the message, then each place with its
// figures, then where the limit comes from. Readers of 3.0 may put it all on
// one line, so every line ends a sentence.
func describe(f *finding.Finding, d shown) string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if m := plainLines(f.Message); m != "" {
		lines = append(lines, m)
	}
	add("Rule %s, priority %s.", or(finding.Plain(f.Rule), "unknown"), f.Priority)
	if f.Host != (finding.Ref{}) {
		add("Host: %s.", element(f.Host))
	}
	if s := finding.Plain(f.Set); s != "" {
		add("Set: %s.", finding.Short(s, nameLength))
	}
	if len(f.Instances) > 1 {
		add("Places (%d):", len(f.Instances))
	}
	for i := range f.Instances {
		if i == maxPlaces {
			add("And %d more places, see findings.json.", len(f.Instances)-i)
			break
		}
		in := &f.Instances[i]
		clause := clauseOf(in)
		if len(f.Instances) == 1 && lines[0] == clause {
			clause = "" // the message has said it
		}
		if s := strings.TrimSpace(clause + " " + figures(in)); s != "" {
			add("%d. %s", i+1, s)
		}
	}
	if s := finding.Plain(f.Source); s != "" {
		add("Limit from: %s.", strings.TrimSuffix(s, "."))
	}
	if len(d.hidden) > 0 {
		add("Not selected in the view, for want of a valid GlobalId: %s.", elements(d.hidden))
	}
	if d.cut > 0 {
		add("Not selected in the view, for want of room: %d elements.", d.cut)
	}
	return strings.Join(append(lines, finding.Caution), "\n")
}

// clauseOf says what is the matter with an instance, or names it, in a sentence.
func clauseOf(in *finding.Instance) string {
	s := finding.Plain(in.Text)
	if s == "" {
		s = element(in.Item)
		if in.Anchor >= 0 {
			s += fmt.Sprintf(", anchor %d", in.Anchor+1)
		}
	}
	return strings.TrimSuffix(s, ".") + "."
}

// figures are the figures of an instance, its place and what it is about, in
// sentences.
func figures(in *finding.Instance) string {
	var parts []string
	if f := in.Figures(); f != "" {
		f = "Measured: " + f
		if g := finding.Plain(in.Governs); g != "" && g != in.Unit {
			f += ", governed by " + g
		}
		parts = append(parts, f+".")
	}
	if isPlace(in) {
		parts = append(parts, fmt.Sprintf("At %s, %s, %s m.", decimal(in.At.X, 3), decimal(in.At.Y, 3), decimal(in.At.Z, 3)))
	}
	if len(in.Others) > 0 {
		parts = append(parts, "With: "+elements(in.Others)+".")
	}
	return strings.Join(parts, " ")
}

// element names an element with its class and model.
func element(r finding.Ref) string {
	label := finding.Short(r.Label(), nameLength)
	var more []string
	if m := finding.Plain(r.Mark); m != "" && m != r.Label() {
		more = append(more, "mark "+finding.Short(m, nameLength))
	}
	for _, s := range [...]string{r.Class, r.Model} {
		if p := finding.Plain(s); p != "" && p != label {
			more = append(more, finding.Short(p, nameLength))
		}
	}
	if len(more) == 0 {
		return label
	}
	return label + " (" + strings.Join(more, ", ") + ")"
}

func elements(list []finding.Ref) string {
	var names []string
	for i, r := range list {
		if i == maxListed {
			return strings.Join(names, "; ") + fmt.Sprintf(" and %d more", len(list)-i)
		}
		names = append(names, element(r))
	}
	return strings.Join(names, "; ")
}

// plainLines makes a text plain line by line.
func plainLines(s string) string {
	var lines []string
	for _, l := range strings.Split(s, "\n") {
		if p := finding.Plain(l); p != "" {
			lines = append(lines, p)
		}
	}
	return strings.Join(lines, "\n")
}
