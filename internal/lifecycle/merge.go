package lifecycle

import (
	"cmp"
	"slices"
	"strings"

	"embedcheck/internal/bcf"
	"embedcheck/internal/finding"
)

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
	if d.Status == "open" {
		s = "Decided: open again"
	}
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
