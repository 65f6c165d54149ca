package mutate

import (
	"bufio"
	"fmt"
	"os"
	"slices"
	"strings"
)

// Equivalents are mutants that no test can tell from the original, each with the
// reason why.
type Equivalents struct {
	path    string
	reasons map[string]string // by key
}

// ReadEquivalents reads a list: lines of a key, " # " and the reason; empty lines
// and lines that begin with # are skipped. A list that is not there is empty.
func ReadEquivalents(path string) (*Equivalents, error) {
	l := &Equivalents{path, map[string]string{}}
	data, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return l, nil
	}
	if err != nil {
		return nil, err
	}
	s := bufio.NewScanner(strings.NewReader(string(data)))
	for n := 1; s.Scan(); n++ {
		line := strings.TrimSpace(s.Text())
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		key, reason, ok := strings.Cut(line, " # ")
		if reason = strings.TrimSpace(reason); !ok || reason == "" {
			return nil, fmt.Errorf("%s:%d: a reason is wanted behind \" # \"", path, n)
		}
		if key = strings.TrimSpace(key); l.reasons[key] != "" {
			return nil, fmt.Errorf("%s:%d: listed twice", path, n)
		}
		l.reasons[key] = reason
	}
	return l, s.Err()
}

// Stale are the keys of the list that no mutant has any more, sorted.
func (l *Equivalents) Stale(mutants []*Mutant) []string {
	there := map[string]bool{}
	for _, m := range mutants {
		there[m.Key()] = true
	}
	var out []string
	for k := range l.reasons {
		if !there[k] {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return out
}

// Has reports whether a mutant is listed.
func (l *Equivalents) Has(m *Mutant) bool { return l.reasons[m.Key()] != "" }
