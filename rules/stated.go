package rules

import (
	"fmt"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// missing reports the items that state nothing. Where no item of a kind does,
// the models do not carry it at all: that is told once, with all items, and not
// again for each set.
func (p *Pass) missing(d model.Datum) error {
	what := string(d)
	silent := map[model.Kind][]*model.Item{}
	some := map[model.Kind]bool{}
	for it := range p.Items() {
		switch {
		case it.Twin:
		case it.States(d):
			some[it.Kind] = true
		default:
			silent[it.Kind] = append(silent[it.Kind], it)
		}
	}
	for _, k := range p.Rule.Kinds {
		items := silent[k]
		var all *group
		if n := len(items); n > 1 && !some[k] {
			all = &group{
				key:   "all|" + k.String(),
				label: fmt.Sprintf("all %d %ss", n, kindNoun(k)),
				items: items,
				text:  fmt.Sprintf("the models state the %s of none of their %d %ss", what, n, kindNoun(k)),
			}
		}
		for _, it := range items {
			h := Hit{
				Item: it, At: it.Middle(),
				Text: "the model does not state the " + what + " of " + itemName(it) + sizeWords(it),
			}
			if all != nil {
				p.hits = append(p.hits, hit{h, all})
			} else {
				p.Report(h)
			}
		}
	}
	return nil
}

// sizeWords is the size of an item in brackets, unless its name is made of it.
func sizeWords(it *model.Item) string {
	if it.Size == "" || refName(&it.Ref) == "" {
		return ""
	}
	return " (" + finding.Plain(it.Size) + ")"
}
