package finding

import "regexp"

// YardMark is what the yard calls the element: its mark, unless a program made
// that up and there is a name; without a mark what Label says.
func (r Ref) YardMark() string {
	m := Plain(r.Mark)
	if m == "" || madeUp.MatchString(m) && Plain(r.Name) != "" {
		return r.Label()
	}
	return m
}

// madeUp are the tags that programs give to elements without a mark.
var madeUp = regexp.MustCompile(`^(ID)?[0-9A-Fa-f]{8}-[0-9A-Fa-f]{4}-[0-9A-Fa-f]{4}-|^[0-9]{6,}$`)
