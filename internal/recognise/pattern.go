package recognise

import (
	"regexp"
	"regexp/syntax"
	"strings"
)

// pattern is an expression with the pieces of text that a match holds at least
// one of. Most names hold none, and looking for the pieces costs a small part of
// a run of the expression.
type pattern struct {
	re     *regexp.Regexp
	pieces []string // none: nothing can be said
}

func newPattern(expr string) pattern {
	p := pattern{re: regexp.MustCompile(expr)}
	if tree, err := syntax.Parse(expr, syntax.Perl); err == nil {
		p.pieces = pieces(tree)
	}
	return p
}

// find is the first match, "" without one.
func (p *pattern) find(s string) string {
	if !p.maybe(s) {
		return ""
	}
	return p.re.FindString(s)
}

// groups is the first match and its groups, nil without one.
func (p *pattern) groups(s string) []string {
	if !p.maybe(s) {
		return nil
	}
	return p.re.FindStringSubmatch(s)
}

func (p *pattern) maybe(s string) bool {
	for _, l := range p.pieces {
		if strings.Contains(s, l) {
			return true
		}
	}
	return len(p.pieces) == 0
}

// pieces are texts of which each match of an expression holds one; none when
// there are no such texts.
func pieces(re *syntax.Regexp) []string {
	switch re.Op {
	case syntax.OpLiteral:
		if re.Flags&syntax.FoldCase == 0 {
			return []string{string(re.Rune)}
		}
	case syntax.OpCapture, syntax.OpPlus:
		return pieces(re.Sub[0])
	case syntax.OpRepeat:
		if re.Min > 0 {
			return pieces(re.Sub[0])
		}
	case syntax.OpConcat: // the part with the longest pieces says most
		var best []string
		for _, sub := range re.Sub {
			if got := pieces(sub); shortest(got) > shortest(best) {
				best = got
			}
		}
		return best
	case syntax.OpAlternate:
		var all []string
		for _, sub := range re.Sub {
			got := pieces(sub)
			if len(got) == 0 {
				return nil
			}
			all = append(all, got...)
		}
		return all
	}
	return nil
}

func shortest(list []string) int {
	if len(list) == 0 {
		return 0
	}
	n := len(list[0])
	for _, s := range list {
		n = min(n, len(s))
	}
	return n
}
