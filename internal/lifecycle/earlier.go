package lifecycle

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"embedcheck/internal/bcf"
	"embedcheck/internal/finding"
	"embedcheck/internal/report"
)

// Earlier is a run to compare with.
type Earlier struct {
	Name   string
	Run    *finding.Run
	Issues *bcf.Archive // nil when there is no issue list

	issuesOnly bool // Run is made of the topics
}

// Close closes the issue list.
func (e *Earlier) Close() error {
	if e == nil || e.Issues == nil {
		return nil
	}
	return e.Issues.Close()
}

const (
	findingsName = "findings.json"
	issuesName   = "issues.bcf"
)

// Load reads an earlier run: a folder that a check wrote, a findings.json, or
// an issue list, which others may have edited. The one brings along the other
// when it lies beside it under its usual name. An issue list alone has no
// figures: its findings can be told as persisting, new or resolved only.
func Load(path string) (*Earlier, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	findings, issues := "", ""
	switch {
	case info.IsDir():
		findings, issues = filepath.Join(path, findingsName), beside(path, issuesName)
	case isIssueList(path):
		findings, issues = beside(filepath.Dir(path), findingsName), path
	default:
		findings, issues = path, beside(filepath.Dir(path), issuesName)
	}
	e := &Earlier{Name: finding.Plain(filepath.ToSlash(filepath.Clean(path)))}
	if issues != "" {
		if e.Issues, err = bcf.Open(issues); err != nil {
			return nil, err
		}
	}
	if findings == "" {
		e.Run, e.issuesOnly = fromIssues(e.Issues), true
		return e, nil
	}
	if e.Run, err = ReadFindings(findings); err != nil {
		return nil, errors.Join(err, e.Close())
	}
	return e, nil
}

// ReadFindings reads a findings.json; errors name the file.
func ReadFindings(path string) (*finding.Run, error) {
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s: is not there; embedcheck check MODEL --out DIR writes it", path)
		}
		return nil, err
	}
	defer f.Close()
	run, err := report.ReadJSON(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return run, nil
}

func beside(dir, name string) string {
	p := filepath.Join(dir, name)
	if _, err := os.Stat(p); err != nil {
		return ""
	}
	return p
}

func isIssueList(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".bcf", ".bcfzip":
		return true
	}
	return false
}

var ruleLine = regexp.MustCompile(`Rule ([a-z-]+), priority (note|review|hold)\.`)

// fromIssues makes findings of those topics that a check wrote and that are not
// closed. Their id is the GUID of the topic, which Compare knows to tell.
func fromIssues(a *bcf.Archive) *finding.Run {
	run := &finding.Run{}
	for _, t := range a.Topics {
		m := ruleLine.FindStringSubmatch(t.Description)
		if m == nil || strings.EqualFold(t.Status, closedWord) {
			continue
		}
		priority, _ := finding.ParsePriority(m[2])
		run.Findings = append(run.Findings, finding.Finding{
			ID: t.GUID, Rule: m[1], Priority: priority, Status: "open", Title: t.Title, Message: t.Title,
			Host: finding.Ref{GlobalID: anyHost}, Instances: selected(t),
		})
		for _, f := range t.Models {
			info := finding.ModelInfo{Path: f.Name, Name: f.Name, Date: f.Date, Project: f.Project}
			if !slices.Contains(run.Models, info) {
				run.Models = append(run.Models, info)
			}
		}
	}
	return run
}

// selected are the elements that a topic's first view selects, as instances
// without figures.
func selected(t *bcf.Topic) []finding.Instance {
	for _, v := range t.Viewpoints {
		if v.View == nil {
			continue
		}
		var list []finding.Instance
		for _, c := range v.View.Selection {
			list = append(list, finding.Instance{Item: finding.Ref{GlobalID: c.GlobalID}, Anchor: -1})
		}
		return list
	}
	return nil
}
