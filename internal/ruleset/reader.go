package ruleset

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/tidwall/gjson"

	"embedcheck/internal/finding"
	"embedcheck/rules"
)

// reader holds one rule file while it is read.
type reader struct {
	file string
	text string
	set  *rules.Set
	errs []error
}

// value is a JSON value with the key that it stands under; an element of a list
// has the key of the list.
type value struct {
	gjson.Result
	key string
	at  int // offset of the key, or of the element
}

// fields are the known keys of an object and what reads them.
type fields map[string]func(v value)

func (r *reader) fail(v value, format string, args ...any) {
	if len(r.errs) >= maxErrors {
		return
	}
	line := 1 + strings.Count(r.text[:min(max(v.at, 0), len(r.text))], "\n")
	r.errs = append(r.errs, &Error{r.file, line, v.key, fmt.Sprintf(format, args...)})
}

// object reads an object with known keys, each at most once.
func (r *reader) object(v value, known fields) {
	r.entries(v, func(e value) {
		read, ok := known[e.key]
		if !ok {
			r.fail(e, "unknown key%s", suggest(e.key, slices.Collect(maps.Keys(known))))
			return
		}
		read(e)
	})
}

// entries reads an object with any keys, each at most once.
func (r *reader) entries(v value, see func(e value)) {
	if !v.IsObject() {
		r.fail(v, "want an object, found %s", typeOf(v.Result))
		return
	}
	seen := map[string]bool{}
	v.ForEach(func(k, e gjson.Result) bool {
		w := value{e, k.String(), k.Index}
		if seen[w.key] {
			r.fail(w, "stated twice in one object")
			return true
		}
		seen[w.key] = true
		see(w)
		return true
	})
}

func (r *reader) list(v value, see func(v value)) {
	if !v.IsArray() {
		r.fail(v, "want a list, found %s", typeOf(v.Result))
		return
	}
	v.ForEach(func(_, e gjson.Result) bool {
		see(value{e, v.key, e.Index})
		return true
	})
}

func (r *reader) string(v value) (string, bool) {
	if v.Type != gjson.String {
		r.fail(v, "want a text, found %s", typeOf(v.Result))
		return "", false
	}
	return v.Str, true
}

func (r *reader) bool(v value) (bool, bool) {
	if !v.IsBool() {
		r.fail(v, "want true or false, found %s", typeOf(v.Result))
		return false, false
	}
	return v.Bool(), true
}

// number reads a limit: not negative and finite.
func (r *reader) number(v value) (float64, bool) {
	if v.Type != gjson.Number {
		r.fail(v, "want a number, found %s", typeOf(v.Result))
		return 0, false
	}
	switch {
	case v.Num < 0:
		r.fail(v, "a limit is not negative, found %s", v.Raw)
		return 0, false
	case v.Num > maxNumber || math.IsNaN(v.Num):
		r.fail(v, "larger than anything that is built, found %s", v.Raw)
		return 0, false
	}
	return v.Num, true
}

// maxNumber is above every limit that makes sense, in any unit.
const maxNumber = 1e6

func (r *reader) priority(v value) (finding.Priority, bool) {
	s, ok := r.string(v)
	if !ok {
		return 0, false
	}
	p, ok := finding.ParsePriority(s)
	if !ok {
		r.fail(v, "unknown priority %q%s", s, suggest(s, priorities()))
	}
	return p, ok
}

// priorities are the names of all priorities, the gravest first.
func priorities() []string {
	return []string{finding.Hold.String(), finding.Review.String(), finding.Note.String()}
}

func typeOf(v gjson.Result) string {
	switch {
	case v.IsObject():
		return "an object"
	case v.IsArray():
		return "a list"
	case v.IsBool():
		return v.Raw
	case v.Type == gjson.Number:
		return "a number"
	case v.Type == gjson.String:
		return "a text"
	}
	return "null"
}
