// Package decision keeps what people decided about findings, said about them,
// and whom they gave them to.
//
// The file is JSON and made to be merged: the first line names the schema, each
// further one is one entry and begins with a comma, so that entries added on
// two branches are lines added, and "keep both" is always right. Entries are
// never changed or removed: the last one about a finding is what holds, the
// others are its history. Last is the one with the latest date, then with the
// highest number; of two that are alike in both, as a merge may bring them, the
// one that leaves the finding open wins.
package decision

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/lockedfile"

	"embedcheck/internal/atomicfile"
	"embedcheck/internal/finding"
)

// What can be decided.
const (
	Open     = "open"
	Accepted = "accepted"
	Closed   = "closed"
)

// Entry is one act. Measured to Places are those of the finding's worst place
// at that time, nil where nothing was measured.
type Entry struct {
	Finding  string   `json:"finding"`
	Number   int      `json:"n"`                // counts the entries of a finding, from 1
	Status   string   `json:"status,omitempty"` // "" when nothing was decided: a comment, an assignment
	Reason   string   `json:"reason,omitempty"`
	By       string   `json:"by,omitempty"`
	Comment  string   `json:"comment,omitempty"`
	Assigned *string  `json:"assigned,omitempty"` // to whom; "" to nobody
	Date     string   `json:"date"`               // YYYY-MM-DD
	Until    string   `json:"until,omitempty"`    // last day that it holds
	Rule     string   `json:"rule,omitempty"`
	Host     string   `json:"host,omitempty"`
	Set      string   `json:"set,omitempty"`
	Measured *float64 `json:"measured,omitempty"`
	Required *float64 `json:"required,omitempty"`
	Unit     string   `json:"unit,omitempty"`
	Relation string   `json:"relation,omitempty"`
	Places   int      `json:"places,omitempty"`
}

// Log is all entries, sorted.
type Log struct{ Entries []Entry }

const (
	schema   = 1
	maxBytes = 64 << 20
	dateForm = "2006-01-02"
)

var rank = map[string]int{Closed: 0, Accepted: 1, Open: 2}

func (l *Log) sort() {
	slices.SortFunc(l.Entries, compare)
	l.Entries = slices.CompactFunc(l.Entries, func(a, b Entry) bool { return compare(a, b) == 0 })
}

// compare orders entries so that the last of a finding is what holds. Entries
// are equal only when they are the same in every member.
func compare(a, b Entry) int {
	c := cmp.Or(
		strings.Compare(a.Finding, b.Finding),
		strings.Compare(a.Date, b.Date),
		cmp.Compare(a.Number, b.Number),
		cmp.Compare(rank[a.Status], rank[b.Status]),
	)
	if c != 0 {
		return c
	}
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	return bytes.Compare(x, y)
}

// Last is what holds about a finding; nil when nothing was decided.
func (l *Log) Last(id string) *Entry {
	h := l.History(id)
	for i := len(h) - 1; i >= 0; i-- {
		if h[i].Status != "" {
			return &h[i]
		}
	}
	return nil
}

// History is all entries about a finding, oldest first.
func (l *Log) History(id string) []Entry {
	from, _ := slices.BinarySearchFunc(l.Entries, id, func(e Entry, id string) int { return strings.Compare(e.Finding, id) })
	to := from
	for to < len(l.Entries) && l.Entries[to].Finding == id {
		to++
	}
	return l.Entries[from:to]
}

// Read reads a decisions file; one that is not there is an empty log.
func Read(path string) (*Log, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return &Log{}, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxBytes {
		return nil, fmt.Errorf("%s: larger than %d MiB", path, maxBytes>>20)
	}
	l, err := parse(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return l, nil
}

func parse(data []byte) (*Log, error) {
	for i, line := range bytes.Split(data, []byte("\n")) {
		for _, mark := range [...]string{"<<<<<<<", "=======", ">>>>>>>", "|||||||"} {
			if bytes.HasPrefix(line, []byte(mark)) {
				return nil, fmt.Errorf("line %d: a merge was not finished; keep the lines of both sides and delete the marks", i+1)
			}
		}
	}
	var raw []json.RawMessage
	if err := json.Unmarshal(data, &raw); err != nil {
		return nil, fmt.Errorf("%s: %w", lineOf(data, err), err)
	}
	var head struct {
		Schema int `json:"decisions"`
	}
	if len(raw) == 0 || json.Unmarshal(raw[0], &head) != nil || head.Schema != schema {
		return nil, fmt.Errorf(`line 1: {"decisions":%d} wanted; this is no decisions file, or one of another version`, schema)
	}
	l := &Log{}
	for i, r := range raw[1:] {
		d := json.NewDecoder(bytes.NewReader(r))
		d.DisallowUnknownFields()
		var e Entry
		if err := d.Decode(&e); err != nil {
			return nil, fmt.Errorf("entry %d: %w", i+1, err)
		}
		if err := e.check(); err != nil {
			return nil, fmt.Errorf("entry %d: %w", i+1, err)
		}
		l.Entries = append(l.Entries, e)
	}
	l.sort()
	return l, nil
}

func lineOf(data []byte, err error) string {
	var s *json.SyntaxError
	if errors.As(err, &s) {
		return fmt.Sprintf("line %d", 1+bytes.Count(data[:min(int(s.Offset), len(data))], []byte("\n")))
	}
	return "no valid JSON"
}

func (e *Entry) check() error {
	if e.Finding == "" {
		return errors.New("finding: an id wanted, none found")
	}
	if e.Status == "" {
		if strings.TrimSpace(e.Comment) == "" && e.Assigned == nil {
			return errors.New("status: an entry needs a status, a comment or an assignment")
		}
	} else if _, ok := rank[e.Status]; !ok {
		return fmt.Errorf("status %q: open, accepted or closed wanted", e.Status)
	}
	if e.Status == Accepted && strings.TrimSpace(e.Reason) == "" {
		return errors.New("reason: accepting needs one")
	}
	if err := CheckDate(e.Date); err != nil {
		return fmt.Errorf("date: %w", err)
	}
	if e.Until != "" {
		if err := CheckDate(e.Until); err != nil {
			return fmt.Errorf("until: %w", err)
		}
	}
	return nil
}

// CheckDate takes a day as YYYY-MM-DD.
func CheckDate(s string) error {
	if _, err := time.Parse(dateForm, s); err != nil {
		return fmt.Errorf("%q: a day as 2026-03-31 wanted", s)
	}
	return nil
}

// Day is the day of a time, as entries have it.
func Day(t time.Time) string { return t.Format(dateForm) }

// Write writes the log.
func (l *Log) Write(w io.Writer) error {
	l.sort()
	var b bytes.Buffer
	fmt.Fprintf(&b, "[{\"decisions\":%d}\n", schema)
	for i := range l.Entries {
		b.WriteByte(',')
		e := json.NewEncoder(&b)
		e.SetEscapeHTML(false)
		if err := e.Encode(&l.Entries[i]); err != nil {
			return err
		}
	}
	b.WriteString("]\n")
	_, err := w.Write(b.Bytes())
	return err
}

// Update reads the file, lets act add to the log and writes it whole, while no
// other process does the same. The lock is the operating system's on a file
// beside it, so one whose holder was killed is free again. Nothing is written
// when act fails or adds nothing.
func Update(path string, act func(*Log) error) (err error) {
	unlock, err := lockedfile.MutexAt(path + ".lock").Lock()
	if err != nil {
		return fmt.Errorf("%s: the lock beside it cannot be taken: %w", path, err)
	}
	defer unlock()
	l, err := Read(path)
	if err != nil {
		return err
	}
	n := len(l.Entries)
	if err := act(l); err != nil {
		return err
	}
	if len(l.Entries) == n {
		return nil
	}
	return atomicfile.Write(path, l.Write)
}

// Add adds an act about a finding and gives the decision that held before, or
// nil. The number is set here; it moves on from all entries of the finding.
func (l *Log) Add(e Entry) (*Entry, error) {
	if err := e.check(); err != nil {
		return nil, err
	}
	history := l.History(e.Finding)
	e.Number = 1
	for _, h := range history {
		e.Number = max(e.Number, h.Number+1)
	}
	if n := len(history); n > 0 && e.Date < history[n-1].Date {
		return nil, fmt.Errorf("%s: date %s is before that of the last entry, %s", e.Finding, e.Date, history[n-1].Date)
	}
	var before *Entry
	if last := l.Last(e.Finding); last != nil {
		was := *last
		before = &was
	}
	at, _ := slices.BinarySearchFunc(l.Entries, e, compare)
	l.Entries = slices.Insert(l.Entries, at, e)
	return before, nil
}

// About is an entry about a finding, with its figures.
func About(f *finding.Finding) Entry {
	e := Entry{
		Finding: f.ID, Rule: f.Rule, Set: finding.Plain(f.Set), Places: len(f.Instances),
	}
	if f.Host != (finding.Ref{}) {
		e.Host = f.Host.Label()
	}
	if w := f.Worst(); w != nil && w.Relation != finding.None {
		if m, r := w.Rounded(); finite(m) && finite(r) {
			e.Measured, e.Required, e.Unit, e.Relation = &m, &r, w.Unit, string(w.Relation)
		}
	}
	return e
}

func finite(v float64) bool { return v-v == 0 }
