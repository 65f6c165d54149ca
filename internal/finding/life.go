package finding

import (
	"cmp"
	"slices"

	"embedcheck/internal/geom"
)

// State is what became of a finding since an earlier run.
type State string

const (
	New        State = "new"
	Persisting State = "persisting"
	Worse      State = "worse"
	Better     State = "better"
)

// Life is what is known of a finding beyond the run that found it. The zero
// value says that nothing was compared, placed or decided.
type Life struct {
	State    State
	Place    *Place
	Decision *Decision
	Topic    *Talk
	Assigned *string // to whom in the decisions, "" to nobody; nil when they do not say
	Comments []Said  // in the decisions
}

// To is to whom the finding is assigned, "" to nobody. What the decisions say goes
// before what the issue list says.
func (l *Life) To() string {
	switch {
	case l.Assigned != nil:
		return *l.Assigned
	case l.Topic != nil:
		return l.Topic.AssignedTo
	}
	return ""
}

// Said are the comments of people in the issue list and in the decisions, oldest
// first.
func (l *Life) Said() []Said {
	var list []Said
	if l.Topic != nil {
		list = append(list, l.Topic.Comments...)
	}
	for _, s := range l.Comments {
		if !slices.ContainsFunc(list, s.Same) {
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(a, b Said) int { return cmp.Compare(a.Day(), b.Day()) })
	return list
}

// Place is where a finding is in its host's own frame, in metres from the least
// corner of the host's box. It outlives a move of the whole project.
type Place struct {
	At   geom.Vec // of the worst instance
	Item geom.Vec // middle of its item's box
	Host geom.Vec // size of the host's box; zero without a host
}

// Decision is what a person decided about a finding, as far as it holds.
type Decision struct {
	Number   int    // of the entry in the decisions
	Status   string // open, accepted or closed, as decided
	Reason   string
	By       string
	Date     string
	Until    string
	Reopened string // why it does not hold any more; "" while it holds
}

// Talk is what others said about a finding in its topic of the issue list.
type Talk struct {
	GUID       string
	Status     string
	AssignedTo string
	DueDate    string
	Stage      string
	Labels     []string
	Comments   []Said
}

// Said is one comment.
type Said struct{ Date, Author, Text string }

// Day is the day that it was said on: issue lists have a time as well.
func (s Said) Day() string { return s.Date[:min(len(s.Date), len("2026-03-31"))] }

// Same reports whether two comments are one that went through an issue list.
func (s Said) Same(o Said) bool {
	return s.Day() == o.Day() && Plain(s.Author) == Plain(o.Author) && Plain(s.Text) == Plain(o.Text)
}

// Comparison is what an earlier run adds to this one.
type Comparison struct {
	Since    string // name of what was compared with
	Resolved []Resolved
}

// Resolved is a finding of the earlier run that this run does not have.
type Resolved struct {
	Finding Finding
	Reason  string
	Unseen  bool // this run did not look at it, so nobody knows whether it is settled
}

// States are the numbers of findings in each state.
func (r *Run) States() map[State]int {
	n := map[State]int{}
	for i := range r.Findings {
		if s := r.Findings[i].Life.State; s != "" {
			n[s]++
		}
	}
	return n
}

// Settled reports whether a person has accepted the finding and that still
// holds.
func (f *Finding) Settled() bool { return f.Status == "accepted" }
