package shape

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"embedcheck/ifcread"
)

// number is the value as a float, NaN when it is none, so that a later test
// for a positive length fails on it.
func number(v ifcread.Value) float64 {
	if f, ok := v.Float(); ok {
		return f
	}
	return math.NaN()
}

// numberOr is the value, or def when it is unset.
func numberOr(v ifcread.Value, def float64) float64 {
	if v.IsNull() {
		return def
	}
	return number(v)
}

// text is the value as a string, "" when it is none.
func text(v ifcread.Value) string { s, _ := v.Str(); return s }

// truth is a boolean, def when it is unset or unknown.
func truth(v ifcread.Value, def bool) bool {
	if b, ok := v.Bool(); ok {
		return b
	}
	return def
}

// fault is an error about one instance.
type fault struct {
	in  ifcread.Inst
	why string
}

func (f *fault) Error() string { return fmt.Sprintf("#%d %s: %s", f.in.ID(), f.in.Name(), f.why) }

func bad(in ifcread.Inst, format string, args ...any) error {
	return &fault{in, fmt.Sprintf(format, args...)}
}

// reason is the text of err for a reader who already knows that it is about in.
func reason(in ifcread.Inst, err error) string {
	var f *fault
	if errors.As(err, &f) && f.in == in {
		return f.why
	}
	return err.Error()
}

// need is the instance that attribute n of in refers to.
func need(in ifcread.Inst, n int, what string) (ifcread.Inst, error) {
	v := in.Arg(n)
	if o, ok := v.Inst(); ok {
		return o, nil
	}
	if v.IsNull() {
		return ifcread.Inst{}, bad(in, "it has no %s", what)
	}
	return ifcread.Inst{}, bad(in, "its %s is not in the file", what)
}

// maxLength and maxCoord, in mm, are beyond any building and any map: what is
// larger is an error of the file.
const (
	maxLength = 1e9
	maxCoord  = 1e13
)

// positive is a length of in that must be greater than 0, in mm.
func (r *Reader) positive(in ifcread.Inst, n int, what string) (float64, error) {
	x := number(in.Arg(n)) * r.units.Length
	if !(x > 0 && x < maxLength) {
		return 0, bad(in, "its %s is no positive length", what)
	}
	return x, nil
}

// isLengthType reports whether a typed value is a length.
func isLengthType(kind string) bool {
	return strings.HasSuffix(strings.ToUpper(kind), "LENGTHMEASURE")
}
