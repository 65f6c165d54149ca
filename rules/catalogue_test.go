package rules

import (
	"os"
	"strings"
	"testing"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

func TestCatalogue(t *testing.T) {
	if err := Validate(All); err != nil {
		t.Fatal(err)
	}
	for _, r := range All {
		file := strings.ReplaceAll(r.ID, "-", "_") + ".go"
		if _, err := os.Stat(file); err != nil {
			t.Errorf("rule %s is not in %s", r.ID, file)
		}
		if Find(r.ID) != r {
			t.Errorf("rule %s is not found", r.ID)
		}
		if page := r.Doc.String(); strings.Count(page, "\n\n") != 3 {
			t.Errorf("rule %s: the page has not four paragraphs", r.ID)
		}
	}
	if Find("edge_distance") != nil {
		t.Error("found a rule that is none")
	}
}

// No text says that something is good enough: the tool reports, it approves
// nothing. And what was not read is not worded as a requirement.
func TestCatalogueApprovesNothing(t *testing.T) {
	for _, r := range All {
		texts := strings.ToLower(r.Title + " " + r.Doc.String())
		for _, bad := range []string{" ok ", "adequate", "sufficient", "complies", "compliant", " safe", "acceptable"} {
			if strings.Contains(texts, bad) {
				t.Errorf("rule %s says %q", r.ID, bad)
			}
		}
		for _, c := range r.Default.Cites {
			if s := c.String(); c.Confidence >= Memory && (strings.Contains(s, "requires") || strings.Contains(s, "shall")) {
				t.Errorf("rule %s words %q as a requirement", r.ID, s)
			}
		}
	}
}

func TestValidateFindsMistakes(t *testing.T) {
	good := func() *Rule {
		r := *EdgeDistance
		return &r
	}
	for _, c := range []struct {
		want  string
		spoil func(r *Rule)
	}{
		{"lower-case words", func(r *Rule) { r.ID = "Edge_Distance" }},
		{"no title", func(r *Rule) { r.Title = "" }},
		{"no function", func(r *Rule) { r.Run = nil }},
		{"lacks a paragraph", func(r *Rule) { r.Doc.Blind = "" }},
		{"without a relation", func(r *Rule) { r.Relation = finding.None }},
		{"without the name of what is measured", func(r *Rule) { r.Measured = "" }},
		{"unknown limit entry feet", func(r *Rule) { r.Entries = []Unit{MM, Diameters, "feet"} }},
		{"cannot work out 3 bar diameters", func(r *Rule) { r.Default.Limit = Limit{{BarDiameters, 3}} }},
		{"out of order", func(r *Rule) { r.Default.Limit = Limit{{Diameters, 6}, {MM, 50}} }},
		{"one without the other", func(r *Rule) { r.Default.Limit = nil }},
		{"no source for 6 diameters", func(r *Rule) { r.Default.Cites = []Citation{{MM, "", Practice}} }},
		{"not common practice", func(r *Rule) { r.Default.Cites = []Citation{{"", "", Read}} }},
		{"no confidence", func(r *Rule) { r.Default.Cites = []Citation{{"", "a book", 'X'}} }},
		{"no source", func(r *Rule) { r.Default.Cites = nil }},
		{"does not look at", func(r *Rule) { r.ForKinds = []KindParams{{[]model.Kind{model.Template}, r.Default}} }},
		{"a key without details", func(r *Rule) { r.Details.Key = "stack" }},
		{"without a name or a text", func(r *Rule) { r.Details = Details{"stack", "", []Detail{{"grout", "", nil}}} }},
		{"detail grout: unknown entry feet", func(r *Rule) { r.Details = Details{"stack", "", []Detail{{"grout", "Height.", []Unit{"feet"}}}} }},
		{"for no kind", func(r *Rule) { r.ForKinds = []KindParams{{nil, r.Default}} }},
	} {
		r := good()
		c.spoil(r)
		if err := Validate([]*Rule{r}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want an error with %q, got %v", c.want, err)
		}
	}
	if err := Validate([]*Rule{good(), good()}); err == nil || !strings.Contains(err.Error(), "listed twice") {
		t.Errorf("a rule listed twice: got %v", err)
	}
}
