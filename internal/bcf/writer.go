package bcf

import (
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"time"

	"embedcheck/internal/finding"
)

// Writer writes the findings of a check as an issue list, one topic a finding.
// It reads no clock: the same findings and fields give the same bytes.
type Writer struct {
	Version Version
	Author  string    // of topics and comments; the standard recommends a mail address
	Date    time.Time // of topics and comments
	Project Project   // optional

	// Scene gives what can be shown of a finding; nil for nothing. Optional. It
	// is called from several goroutines.
	Scene func(*finding.Finding) (*Scene, error)
}

// Words of the topics.
const (
	typeNotMet     = "Rule not met"
	typeNotChecked = "Not checked"
)

var (
	priorityWords = map[finding.Priority]string{finding.Hold: "Hold", finding.Review: "Review", finding.Note: "Note"}
	statusWords   = map[string]string{"": "Open", "open": "Open", "accepted": "Accepted", "closed": "Closed"}
)

// StatusWord is a finding's status as topics have it.
func StatusWord(status string) string {
	if w, ok := statusWords[strings.ToLower(status)]; ok {
		return w
	}
	return finding.Plain(status)
}

// Write writes the issue list of a run. Without findings it is a valid archive
// without topics.
func (w *Writer) Write(out io.Writer, run *finding.Run) error {
	run = run.Sorted()
	e, err := NewEncoder(out, w.Version, &Archive{Version: w.Version, Project: w.Project, Extensions: Words()})
	if err != nil {
		return err
	}
	err = w.Topics(run, func(_ int, t *Topic) error { return e.Topic(t) })
	if err != nil {
		return err
	}
	return e.Close()
}

// Words are the words that topics of a check may carry, also those that none
// carries yet: people choose from them when they settle a topic.
func Words() Extensions {
	return Extensions{
		TopicTypes:    []string{typeNotMet, typeNotChecked},
		TopicStatuses: []string{"Open", "Accepted", "Closed"},
		Priorities:    []string{"Hold", "Review", "Note"},
	}
}

// Topics makes the topics of a sorted run on all cores and gives them to use in
// their order, one at a time. Few are made ahead, so that memory does not grow
// with their number.
func (w *Writer) Topics(run *finding.Run, use func(i int, t *Topic) error) error {
	type made struct {
		topic *Topic
		err   error
	}
	queue := make(chan chan made, 2*runtime.GOMAXPROCS(0))
	stop := make(chan struct{})
	defer close(stop)
	go func() {
		defer close(queue)
		for i := range run.Findings {
			one := make(chan made, 1)
			select {
			case queue <- one:
			case <-stop:
				return
			}
			go func() {
				t, err := w.Topic(run, i)
				one <- made{t, err}
			}()
		}
	}()
	i := 0
	for one := range queue {
		m := <-one
		if m.err != nil {
			return fmt.Errorf("finding %s: %w", run.Findings[i].ID, m.err)
		}
		if err := use(i, m.topic); err != nil {
			return err
		}
		i++
	}
	return nil
}

// Topic is the topic about finding i of a sorted run.
func (w *Writer) Topic(run *finding.Run, i int) (*Topic, error) {
	f := &run.Findings[i]
	place := i + 1
	t := &Topic{
		GUID:           TopicGUID(f.ID),
		Type:           typeNotMet,
		Status:         StatusWord(f.Status),
		Title:          title(f),
		Priority:       priorityWords[f.Priority],
		Index:          &place,
		Labels:         labels(f),
		CreationDate:   dateText(w.Date),
		CreationAuthor: or(finding.Plain(w.Author), noAuthor),
		Models:         modelFiles(run, f),
	}
	if f.Rule == finding.NotChecked {
		t.Type = typeNotChecked
	}
	d := display(f)
	t.Description = describe(f, d)
	if err := w.addScene(t, f, d); err != nil {
		return nil, err
	}
	comment := Comment{Date: t.CreationDate, Author: t.CreationAuthor, Text: or(plainLines(f.Message), t.Title)}
	if len(t.Viewpoints) > 0 {
		comment.Viewpoint = t.Viewpoints[0].GUID
	}
	// What was said does not change: another text is another comment.
	comment.GUID = derivedGUID(t.GUID, "comment "+comment.Text)
	t.Comments = []Comment{comment}
	return t, nil
}

const maxTitle = 120 // characters; lists of topics cut at about that

func title(f *finding.Finding) string {
	for _, s := range [...]string{f.Title, f.Rule + " " + f.Set} {
		if p := finding.Plain(s); p != "" {
			return finding.Short(p, maxTitle)
		}
	}
	return noTitle
}

// labels are the rule and the kinds of item concerned.
func labels(f *finding.Finding) []string {
	var kinds []string
	for i := range f.Instances {
		if k := finding.Plain(f.Instances[i].Kind); k != "" && !slices.Contains(kinds, k) {
			kinds = append(kinds, k)
		}
	}
	slices.Sort(kinds)
	rule := finding.Plain(f.Rule)
	if rule == "" {
		return kinds
	}
	return append([]string{rule}, slices.DeleteFunc(kinds, func(k string) bool { return k == rule })...)
}

// modelFiles are the models that the finding's elements come from, or all when
// that is not known.
func modelFiles(run *finding.Run, f *finding.Finding) []ModelFile {
	named := map[string]bool{f.Host.Model: true}
	for i := range f.Instances {
		named[f.Instances[i].Item.Model] = true
		for _, o := range f.Instances[i].Others {
			named[o.Model] = true
		}
	}
	delete(named, "")
	all := !slices.ContainsFunc(run.Models, func(m finding.ModelInfo) bool { return named[m.Name] })
	var list []ModelFile
	for _, m := range run.Models {
		file := ModelFile{Name: finding.Plain(m.Name), Date: m.Date, Project: m.Project}
		if known := file.Name != "" || isGlobalID(file.Project); known && (all || named[m.Name]) {
			list = append(list, file)
		}
	}
	return list
}

// fingerprint tells views apart: viewpoints must not change, so another view
// needs another GUID. Movements below a millimetre make no other view.
func (v *View) fingerprint() string {
	var b strings.Builder
	list := func(name string, components []Component) {
		b.WriteString(name)
		for _, c := range components {
			b.WriteString(" " + c.GlobalID)
		}
		b.WriteString("\n")
	}
	list("selection", v.Selection)
	list("exceptions", v.Exceptions)
	for _, c := range v.Coloring {
		list(c.Color, c.Components)
	}
	numbers := func(list ...float64) {
		for _, x := range list {
			b.WriteString(" " + decimal(x, 3))
		}
	}
	if c := v.Camera; c != nil {
		numbers(c.Eye.X, c.Eye.Y, c.Eye.Z, c.Direction.X, c.Direction.Y, c.Direction.Z, c.Up.X, c.Up.Y, c.Up.Z, c.Field, c.Scale, c.Aspect)
	}
	for _, p := range v.Planes {
		numbers(p.At.X, p.At.Y, p.At.Z, p.Direction.X, p.Direction.Y, p.Direction.Z)
	}
	return b.String()
}
