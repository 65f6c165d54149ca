package lifecycle

import (
	"cmp"
	"io"
	"slices"
	"strings"

	"github.com/google/uuid"

	"embedcheck/internal/bcf"
	"embedcheck/internal/finding"
)

// Words of topics.
const (
	openWord     = "Open"
	acceptedWord = "Accepted"
	closedWord   = "Closed"
)

// maxRelated is how many topics a topic is related to at most.
const maxRelated = 20

// Listen takes over into the findings what others said about them in the
// issue list. Comments by author are the program's own.
func (e *Earlier) Listen(run *finding.Run, author string) {
	if e.Issues == nil {
		return
	}
	topics := byGUID(e.Issues.Topics)
	for i := range run.Findings {
		f := &run.Findings[i]
		if t := topics[strings.ToLower(topicGUID(f))]; t != nil {
			f.Life.Topic = talk(t, author)
		}
	}
}

func byGUID(list []*bcf.Topic) map[string]*bcf.Topic {
	m := map[string]*bcf.Topic{}
	for _, t := range list {
		m[strings.ToLower(t.GUID)] = t
	}
	return m
}

// topicGUID is the GUID of the topic about a finding.
func topicGUID(f *finding.Finding) string {
	if f.Life.Topic != nil && f.Life.Topic.GUID != "" {
		return f.Life.Topic.GUID
	}
	return bcf.TopicGUID(f.ID)
}

func talk(t *bcf.Topic, author string) *finding.Talk {
	k := &finding.Talk{
		GUID: t.GUID, Status: t.Status, AssignedTo: t.AssignedTo, DueDate: t.DueDate, Stage: t.Stage,
		Labels: slices.Clone(t.Labels),
	}
	for _, c := range t.Comments {
		if c.Author != author {
			k.Comments = append(k.Comments, finding.Said{Date: c.Date, Author: c.Author, Text: c.Text})
		}
	}
	return k
}

// WriteIssues writes the issue list of a run together with what the earlier
// list holds: topics of findings that were matched keep all that others added,
// topics of resolved findings are closed with a comment that says why, and
// topics that no check wrote stay as they are. Both e and c may be nil.
func WriteIssues(out io.Writer, w *bcf.Writer, run *finding.Run, e *Earlier, c *finding.Comparison) error {
	return (&merging{w: w, run: run.Sorted()}).write(out, e, c)
}

// WriteDecided writes the issue list of a run that was read from its files anew,
// with what people decided since: views and pictures stay those that the check
// wrote.
func WriteDecided(out io.Writer, w *bcf.Writer, e *Earlier, run *finding.Run) error {
	return (&merging{w: w, run: run.Sorted(), sameViews: true}).write(out, e, nil)
}

func (m *merging) write(out io.Writer, e *Earlier, c *finding.Comparison) error {
	w := m.w
	a := &bcf.Archive{Version: w.Version, Project: w.Project}
	if e != nil && e.Issues != nil {
		head := *e.Issues
		head.Topics, head.Warnings = nil, nil
		if w.Project != (bcf.Project{}) {
			head.Project = w.Project
		}
		a = &head
	}
	a.Extensions.TopicStatuses = with(a.Extensions.TopicStatuses, openWord, acceptedWord, closedWord)
	a.Extensions.Priorities = with(a.Extensions.Priorities, "Hold", "Review", "Note")
	a.Extensions.TopicTypes = with(a.Extensions.TopicTypes, "Rule not met", "Not checked")
	enc, err := bcf.NewEncoder(out, w.Version, a)
	if err != nil {
		return err
	}
	m.left = map[string]*bcf.Topic{}
	if e != nil && e.Issues != nil {
		m.left = byGUID(e.Issues.Topics)
	}
	if err := m.found(enc); err != nil {
		return err
	}
	if e != nil && c != nil {
		if err := m.resolved(enc, e, c); err != nil {
			return err
		}
	}
	if e != nil && e.Issues != nil {
		for _, t := range e.Issues.Topics {
			if m.left[strings.ToLower(t.GUID)] != t {
				continue
			}
			if err := enc.Topic(t); err != nil {
				return err
			}
		}
	}
	return enc.Close()
}

// with is list with those words that it has not.
func with(list []string, words ...string) []string {
	list = slices.Clone(list)
	for _, w := range words {
		if !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}

type merging struct {
	w    *bcf.Writer
	run  *finding.Run
	left map[string]*bcf.Topic // of the earlier list, not yet written; by GUID

	sameViews bool // the run is that of the earlier list
}

func (m *merging) take(guid string) *bcf.Topic {
	k := strings.ToLower(guid)
	t := m.left[k]
	delete(m.left, k)
	return t
}

func (m *merging) found(enc *bcf.Encoder) error {
	related := relatedTopics(m.run)
	return m.w.Topics(m.run, func(i int, t *bcf.Topic) error {
		f := &m.run.Findings[i]
		t.GUID = topicGUID(f)
		t.Related = related(f)
		if was := m.take(t.GUID); was != nil {
			m.merge(t, was, f)
		}
		m.people(t, f)
		return enc.Topic(t)
	})
}

// relatedTopics gives the topics of the same host, those of the same set first.
func relatedTopics(run *finding.Run) func(*finding.Finding) []string {
	hosts := map[finding.Ref][]*finding.Finding{}
	for i := range run.Findings {
		f := &run.Findings[i]
		hosts[f.Host] = append(hosts[f.Host], f)
	}
	return func(f *finding.Finding) []string {
		if f.Host == (finding.Ref{}) {
			return nil
		}
		var list []string
		for _, sameSet := range [...]bool{true, false} {
			for _, o := range hosts[f.Host] {
				if len(list) == maxRelated {
					return list
				}
				if o != f && (o.Set == f.Set) == sameSet {
					list = append(list, topicGUID(o))
				}
			}
		}
		return list
	}
}

// merge gives t what others, and earlier releases, put into was. What the check
// says anew (title, description, priority, models) is that of t.
func (m *merging) merge(t, was *bcf.Topic, f *finding.Finding) {
	t.GUID = was.GUID
	t.CreationDate, t.CreationAuthor = was.CreationDate, was.CreationAuthor
	t.ModifiedDate, t.ModifiedAuthor = was.ModifiedDate, was.ModifiedAuthor
	t.DueDate, t.AssignedTo, t.Stage, t.ServerID = was.DueDate, was.AssignedTo, was.Stage, was.ServerID
	t.Links, t.Snippet, t.Documents = was.Links, was.Snippet, documents(t, was)
	t.Extra = was.Extra
	t.Labels = with(was.Labels, t.Labels...)
	t.Related = with(was.Related, t.Related...)
	if m.sameViews && len(was.Viewpoints) > 0 {
		t.Viewpoints, t.Files = was.Viewpoints, was.Files
	} else {
		m.views(t, was)
	}
	said := was.Comments
	for _, c := range t.Comments {
		if !slices.ContainsFunc(said, func(o bcf.Comment) bool { return strings.EqualFold(o.GUID, c.GUID) }) {
			said = append(slices.Clone(said), c)
		}
	}
	t.Comments = said
	switch {
	case was.Status == "" || settled(f, was.Status):
	case strings.EqualFold(was.Status, closedWord):
		m.say(t, "Was closed in the issue list, but is found again: "+finding.Plain(f.Message))
	default:
		t.Status = was.Status
	}
}

// settled reports whether the decisions say what the status is. A finding that
// was opened again keeps any other word that others have for an open topic.
func settled(f *finding.Finding, was string) bool {
	d := f.Life.Decision
	return d != nil && (d.Status != "open" || strings.EqualFold(was, closedWord) || strings.EqualFold(was, acceptedWord))
}

// people adds what stands in the decisions. The person who said something is the
// comment's author.
func (m *merging) people(t *bcf.Topic, f *finding.Finding) {
	if d := f.Life.Decision; d != nil {
		m.sayOnce(t, decisionText(d), "")
	}
	for _, s := range f.Life.Comments {
		m.add(t, bcf.Comment{
			Date: s.Date + "T00:00:00Z", Author: cmp.Or(finding.Plain(s.Author), authorOf(m.w)), Text: finding.Plain(s.Text),
		}, s.Date+" "+s.Author)
	}
	if a := f.Life.Assigned; a != nil {
		t.AssignedTo = finding.Plain(*a)
	}
}

// views keeps the earlier views and adds those that are new: a view may not be
// changed. Other files, such as the drawing, take the place of earlier ones.
func (m *merging) views(t, was *bcf.Topic) {
	fresh, files := t.Viewpoints, t.Files
	t.Viewpoints, t.Files = slices.Clone(was.Viewpoints), slices.Clone(was.Files)
	take := func(name string) (bcf.File, bool) {
		i := slices.IndexFunc(files, func(f bcf.File) bool { return f.Name == name })
		if i < 0 {
			return bcf.File{}, false
		}
		f := files[i]
		files = slices.Delete(slices.Clone(files), i, i+1)
		return f, true
	}
	for _, v := range fresh {
		picture, pictured := take(v.Snapshot)
		if slices.ContainsFunc(was.Viewpoints, func(o bcf.Viewpoint) bool { return strings.EqualFold(o.GUID, v.GUID) }) {
			continue
		}
		if len(was.Viewpoints) > 0 {
			v.File, v.Snapshot = renamed(v.File, v.GUID), renamed(v.Snapshot, v.GUID)
		}
		t.Viewpoints = append(t.Viewpoints, v)
		if pictured {
			picture.Name = v.Snapshot
			t.Files = append(t.Files, picture)
		}
	}
	for _, f := range files {
		t.Files = slices.DeleteFunc(t.Files, func(o bcf.File) bool { return o.Name == f.Name })
		t.Files = append(t.Files, f)
	}
}

// documents keeps what others refer to; the check's own drawing is the new one.
func documents(t, was *bcf.Topic) []bcf.DocumentRef {
	kept := slices.DeleteFunc(slices.Clone(was.Documents), func(d bcf.DocumentRef) bool {
		return slices.ContainsFunc(t.Documents, func(o bcf.DocumentRef) bool { return strings.EqualFold(o.GUID, d.GUID) })
	})
	return append(kept, t.Documents...)
}

func renamed(name, guid string) string {
	at := strings.LastIndexByte(name, '.')
	if at < 0 {
		return name
	}
	return name[:at] + "-" + guid + name[at:]
}

// say adds a comment of this release.
func (m *merging) say(t *bcf.Topic, text string) { m.sayOnce(t, text, dateText(m.w)) }

// sayOnce adds a comment unless it stands there already: one of the same text
// that was made on the same occasion.
func (m *merging) sayOnce(t *bcf.Topic, text, occasion string) {
	m.add(t, bcf.Comment{Date: dateText(m.w), Author: authorOf(m.w), Text: text}, occasion)
}

func (m *merging) add(t *bcf.Topic, c bcf.Comment, occasion string) {
	c.GUID = commentGUID(t.GUID, occasion+" "+c.Text)
	if !slices.ContainsFunc(t.Comments, func(o bcf.Comment) bool { return strings.EqualFold(o.GUID, c.GUID) }) {
		t.Comments = append(slices.Clone(t.Comments), c)
	}
}

func decisionText(d *finding.Decision) string {
	s := "Decided: " + d.Status
	if d.By != "" {
		s += " by " + d.By
	}
	if d.Date != "" {
		s += " on " + d.Date
	}
	if d.Until != "" {
		s += " until " + d.Until
	}
	if d.Reason != "" {
		s += ": " + d.Reason
	}
	if d.Reopened != "" {
		s += ". Open again: " + d.Reopened
	}
	return finding.Plain(s)
}

// resolved writes the topics of findings that are gone, closed.
func (m *merging) resolved(enc *bcf.Encoder, e *Earlier, c *finding.Comparison) error {
	for i := range c.Resolved {
		r := &c.Resolved[i]
		guid := topicGUID(&r.Finding)
		if e.issuesOnly {
			guid = r.Finding.ID
		}
		t := m.take(guid)
		if t == nil {
			old := &finding.Run{Models: e.Run.Models, Findings: []finding.Finding{r.Finding}}
			var err error
			if t, err = m.w.Topic(old, 0); err != nil {
				return err
			}
			t.GUID = guid
		}
		closed := *t
		switch {
		case strings.EqualFold(t.Status, closedWord):
		case r.Unseen:
			m.say(&closed, "Not looked at in this run: "+finding.Plain(r.Reason))
		default:
			closed.Status = closedWord
			closed.ModifiedDate, closed.ModifiedAuthor = dateText(m.w), authorOf(m.w)
			m.say(&closed, "Resolved: "+finding.Plain(r.Reason))
		}
		if err := enc.Topic(&closed); err != nil {
			return err
		}
	}
	return nil
}

func dateText(w *bcf.Writer) string { return w.Date.UTC().Format("2006-01-02T15:04:05Z") }

func authorOf(w *bcf.Writer) string {
	if a := finding.Plain(w.Author); a != "" {
		return a
	}
	return "embedcheck"
}

func commentGUID(topic, text string) string {
	ns, err := uuid.Parse(topic)
	if err != nil {
		ns = uuid.NewSHA1(uuid.NameSpaceURL, []byte(topic))
	}
	return uuid.NewSHA1(ns, []byte("comment "+text)).String()
}
