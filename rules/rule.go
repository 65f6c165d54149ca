package rules

import (
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// Rule is one thing that can be wrong with a cast-in item.
type Rule struct {
	ID       string // "edge-distance": in rule files and findings
	Title    string // a few words, as a heading
	Doc      Doc
	Measured string // the quantity in words that follow "the"; "" when nothing is measured
	Unit     string // of measured and required value: mm, ratio, degrees, count; "" when nothing is measured
	Relation finding.Relation
	Kinds    []model.Kind // of the items that it looks at; nil when it looks at no items
	Entries  []Unit       // limit entries that it can work out; nil when it has no limit
	Details  Details      // what a rule file may state besides the limit
	Default  Params
	ForKinds []KindParams // instead of Default for some of Kinds
	Always   bool         // cannot be switched off
	Values   bool         // looks at values that people took, not at the models alone
	Run      func(*Pass) error
}

// Doc is the page of a rule, a paragraph a field.
type Doc struct {
	Wrong    string // what goes wrong on site
	Measured string // how it is measured
	Do       string // what to do about it
	Blind    string // what the rule does not see
}

// String is the page as plain text.
func (d Doc) String() string {
	return strings.Join([]string{d.Wrong, d.Measured, d.Do, "Not seen: " + d.Blind}, "\n\n")
}

// Params are what a rule goes by for one item.
type Params struct {
	Off      bool
	Priority finding.Priority
	Limit    Limit
	Cites    []Citation // where the built-in limit comes from
	Source   string     // where a rule file says that its limit comes from; "" for the built-in one
	Details  Given      // what a rule file states besides the limit; nil when it does not

	DetailsFrom string // where it says that the details come from
}

// KindParams are the built-in Params for items of some kinds.
type KindParams struct {
	Kinds []model.Kind
	Params
}

// Confidence says how well the source of a limit is known.
type Confidence byte

const (
	Read      Confidence = 'A' // the text itself was read
	Secondary Confidence = 'B' // read where somebody quotes it
	Memory    Confidence = 'C' // the clause was not opened again
	Practice  Confidence = 'D' // no published source
)

// String is the words that stand behind a source, so that nobody takes what was
// not read for a requirement.
func (c Confidence) String() string {
	switch c {
	case Read:
		return "text read"
	case Secondary:
		return "read in a secondary copy"
	case Memory:
		return "from memory, clause not re-read"
	case Practice:
		return "common practice, no published source"
	}
	return "source unknown"
}

// Citation is where one entry of a built-in limit comes from.
type Citation struct {
	Entry      Unit   // "" when it holds for the whole rule
	Text       string // document and clause; "" for common practice
	Confidence Confidence
}

func (c Citation) String() string {
	if c.Text == "" {
		return c.Confidence.String()
	}
	return c.Text + " (" + c.Confidence.String() + ")"
}

// source is where the entry that governs comes from.
func (p *Params) source(governs Unit) string {
	if governs == stated {
		return "stated in the model"
	}
	if p.Source != "" {
		return p.Source
	}
	for _, c := range p.Cites {
		if c.Entry == "" || c.Entry == governs {
			return c.String()
		}
	}
	return ""
}

// Sources are all sources of the limit, in the order of its entries.
func (p *Params) Sources() string {
	if p.Source != "" {
		return p.Source
	}
	var out []string
	for _, c := range p.Cites {
		text := c.String()
		if t, ok := p.Limit.term(c.Entry); ok {
			text = t.String() + ": " + text
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
