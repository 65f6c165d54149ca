package triage

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"embedcheck/internal/bcf"
)

// The issue list of the moment has decisions, comments and assignments, keeps
// views and documents of the check's, and a closed finding stays closed.
func TestIssueListOfTheMoment(t *testing.T) {
	d := open(t, folder(t, checked(5, "WP-1")))
	s := serve(t, d)
	for i, body := range []string{
		`{"act":"accept","by":"A. A.","text":"agreed",%s}`, `{"act":"close","by":"A. A.",%s}`,
		`{"act":"comment","by":"A. A.","text":"asked the precaster",%s}`, `{"act":"assign","by":"A. A.","to":"B. B.",%s}`,
	} {
		body = fmt.Sprintf(body, fmt.Sprintf(`"findings":[{"id":%q,"seen":0}]`, id(i)))
		if code, text := call(t, s, "POST", "act", body, nil); code != 200 {
			t.Fatal(code, text)
		}
	}
	code, data := call(t, s, "GET", "issues.bcf", "", nil)
	if code != 200 {
		t.Fatal(code, data)
	}
	a, err := bcf.Read(strings.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	was, err := bcf.Open(filepath.Join(d.Dir, "issues.bcf"))
	if err != nil {
		t.Fatal(err)
	}
	defer was.Close()
	topics := map[string]*bcf.Topic{}
	for _, topic := range a.Topics {
		topics[topic.GUID] = topic
	}
	for i, want := range []string{"Accepted", "Closed", "Open", "Open", "Open"} {
		topic := topics[bcf.TopicGUID(id(i))]
		if topic == nil || topic.Status != want {
			t.Fatalf("topic %d: %+v, want %s", i, topic, want)
		}
		if len(topic.Documents) != 1 || len(topic.Viewpoints) != len(was.Topics[0].Viewpoints) || len(topic.Viewpoints) == 0 {
			t.Errorf("topic %d: %d documents, %d views", i, len(topic.Documents), len(topic.Viewpoints))
		}
	}
	comments := topics[bcf.TopicGUID(id(2))].Comments
	if c := comments[len(comments)-1]; c.Author != "A. A." || c.Text != "asked the precaster" || !strings.HasPrefix(c.Date, "2026-03-03") {
		t.Errorf("comment is %+v", c)
	}
	if to := topics[bcf.TopicGUID(id(3))].AssignedTo; to != "B. B." {
		t.Errorf("assigned to %q", to)
	}
	if _, again := call(t, s, "GET", "issues.bcf", "", nil); again != data {
		t.Error("the same state gave other bytes")
	}
	os.Chtimes(filepath.Join(d.Dir, "findings.json"), today, today)
	if code, text := call(t, s, "GET", "issues.bcf", "", nil); code != 400 || !strings.Contains(text, "checked again") {
		t.Errorf("a folder that was checked again: %d", code)
	}
}

func TestFoldersThatCannotBeTriaged(t *testing.T) {
	good := folder(t, checked(2, "WP-1"))
	other := folder(t, checked(3, "WP-1"))
	copyFrom := func(name, from string) func(string) {
		return func(dir string) {
			data, _ := os.ReadFile(filepath.Join(from, name))
			os.WriteFile(filepath.Join(dir, name), data, 0o666)
		}
	}
	remove := func(name string) func(string) { return func(dir string) { os.Remove(filepath.Join(dir, name)) } }
	edit := func(from, to string) func(string) {
		return func(dir string) {
			data, _ := os.ReadFile(filepath.Join(dir, "report.html"))
			os.WriteFile(filepath.Join(dir, "report.html"), []byte(strings.Replace(string(data), from, to, 1)), 0o666)
		}
	}
	for name, c := range map[string]struct {
		spoil func(string)
		want  string
	}{
		"no page":          {remove("report.html"), "report.html: is not there"},
		"no findings":      {remove("findings.json"), "findings.json"},
		"no issue list":    {remove("issues.bcf"), "issues.bcf: is not there"},
		"page of another":  {copyFrom("report.html", other), "about other findings"},
		"another script":   {edit("'use strict';", "'use strict';alert(1);"), "this version"},
		"no page of a run": {func(dir string) { os.WriteFile(filepath.Join(dir, "report.html"), []byte("<p>"), 0o666) }, "this version"},
		"another priority": {edit(`data-fail-on="hold"`, `data-fail-on="never"`), "this version"},
		"hostile decisions": {func(dir string) {
			os.WriteFile(filepath.Join(filepath.Dir(dir), "decisions.json"), []byte("[1]"), 0o666)
		}, "decisions"},
	} {
		dir := folder(t, checked(2, "WP-1"))
		c.spoil(dir)
		_, err := Open(Options{Dir: dir, Decisions: filepath.Join(filepath.Dir(dir), "decisions.json"), Now: open(t, good).Now})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
