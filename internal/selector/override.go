package selector

// As is what an element is to be taken for.
type As int

const (
	Host As = iota
	Item
	Bar
	Ignore
)

var asNames = [...]string{"host", "item", "bar", "ignore"}

func (a As) String() string { return asNames[a] }

// ParseAs reads one of the names in AsNames.
func ParseAs(s string) (As, bool) {
	for i, n := range asNames {
		if n == s {
			return As(i), true
		}
	}
	return 0, false
}

// AsNames are all names that ParseAs reads.
func AsNames() []string { return asNames[:] }

// Override says what the elements that match are, against the judgement of
// recognition. Of several that match one element the last one wins.
type Override struct {
	Match Selector
	As    As
	Kind  string // of an item; "" leaves it to recognition
	Line  int    // in the rule file, to name it as the reason
}

// Choose is the last override that matches s, nil when none does.
func Choose(list []Override, s *Subject) *Override {
	for i := len(list) - 1; i >= 0; i-- {
		if list[i].Match.Match(s) {
			return &list[i]
		}
	}
	return nil
}
