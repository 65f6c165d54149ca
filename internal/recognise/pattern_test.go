package recognise

import (
	"math/rand"
	"regexp/syntax"
	"strings"
	"testing"
)

// TestPatternsLoseNoMatch writes texts that the expressions match, spoils every
// other one, and compares what is found with the bare expression.
func TestPatternsLoseNoMatch(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	var all []pattern
	for _, w := range kindWords {
		all = append(all, w.of)
	}
	for _, w := range stuffWords {
		all = append(all, w.of)
	}
	for _, p := range all {
		tree, err := syntax.Parse(p.re.String(), syntax.Perl)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for i := range 2000 {
			var b strings.Builder
			sample(&b, tree, rnd)
			s := b.String()
			if i%2 == 1 {
				k := rnd.Intn(len(s))
				s = s[:k] + s[k+1:]
			}
			want := p.re.FindString(s)
			if got := p.find(s); got != want {
				t.Errorf("%s: found %q in %q, want %q", p.re, got, s, want)
			}
			if want != "" {
				found++
			}
		}
		if found < 500 {
			t.Errorf("%s: only %d of 2000 texts match, the test says little", p.re, found)
		}
	}
}

func TestPatternsHavePieces(t *testing.T) {
	for _, c := range []struct {
		expr, want string
	}{
		{`\bnuts?\b`, "nut"},
		{`(a|bc)de`, "de"},
		{`abc|x+y|(zz){2}`, "abc x zz"},
		{`ab?`, "a"},
		{`(ab)?`, ""},  // may be left out
		{`ab|\d+`, ""}, // a match can do without
		{`(?i)ab`, ""}, // capitals match too
	} {
		p := newPattern(c.expr)
		if got := strings.Join(p.pieces, " "); got != c.want {
			t.Errorf("%s: pieces %q, want %q", c.expr, got, c.want)
		}
	}
}

// sample writes a text that an expression describes, word ends left aside.
func sample(b *strings.Builder, re *syntax.Regexp, rnd *rand.Rand) {
	n := 1
	switch re.Op {
	case syntax.OpLiteral:
		b.WriteString(string(re.Rune))
		return
	case syntax.OpCharClass:
		k := 2 * rnd.Intn(len(re.Rune)/2)
		lo, hi := re.Rune[k], min(re.Rune[k+1], 'z')
		b.WriteRune(lo + rnd.Int31n(max(hi-lo, 0)+1))
		return
	case syntax.OpAnyChar, syntax.OpAnyCharNotNL:
		b.WriteByte('\'')
		return
	case syntax.OpAlternate:
		sample(b, re.Sub[rnd.Intn(len(re.Sub))], rnd)
		return
	case syntax.OpQuest, syntax.OpStar:
		n = rnd.Intn(2)
	case syntax.OpRepeat:
		n = max(re.Min, 1)
	}
	for range n {
		for _, sub := range re.Sub {
			sample(b, sub, rnd)
		}
	}
}
