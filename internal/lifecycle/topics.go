package lifecycle

import (
	"io"
	"slices"
	"strings"

	"github.com/google/uuid"

	"embedcheck/internal/bcf"
	"embedcheck/internal/finding"
)

// Words of topics.
const (
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
	words := bcf.Words()
	a.Extensions.TopicStatuses = with(a.Extensions.TopicStatuses, words.TopicStatuses...)
	a.Extensions.Priorities = with(a.Extensions.Priorities, words.Priorities...)
	a.Extensions.TopicTypes = with(a.Extensions.TopicTypes, words.TopicTypes...)
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
