package rules

import (
	"fmt"
	"strconv"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// PartsComplete finds bolts that lack a nut, a washer or the plate that the others
// of their set have, or that the rule file asks for.
var PartsComplete = &Rule{
	ID:       "parts-complete",
	Title:    "Parts missing on bolts",
	Measured: "number of parts on the bolt that there should be",
	Doc: Doc{
		Wrong:    "Nuts and washers are ordered from the model: what is not in it is not in the bag, and the gang borrows it from the next set.",
		Measured: "Nuts and washers on each bolt outside the concrete, over and under the template or else the base plate, and whether it stands through a plate. What at least half of the like bolts of its set have, the others should have too; and what the rule file asks for, all should have. A nut is told from a washer by its height and width.",
		Do:       "Add what is missing to the model and to the schedule, or take the odd one away.",
		Blind:    "Models without hardware: with a rule file that asks for it this is told once, without one not at all. Sets in which one bolt stands for all. Whether a nut fits its bolt.",
	},
	Unit:     "count",
	Relation: finding.AtLeast,
	Kinds:    []model.Kind{model.Bolt},
	Details: Details{
		Key: "parts",
		Doc: "What each bolt is to have in the model.",
		List: []Detail{
			{"nuts", "Nuts over the plate, or anywhere outside the concrete where there is no plate.", nil},
			{"washers", "Washers over the plate.", nil},
			{"levelling_nuts", "Nuts under the plate.", nil},
			{"levelling_washers", "Washers under the plate.", nil},
			{"plates", "Template and base plate that it stands through.", nil},
		},
	},
	Default: Params{Priority: finding.Review, Cites: []Citation{{"", "", Practice}}},
	Run:     partsComplete,
}

// hardware counts what a bolt carries, in the order of the details of the rule.
type hardware [5]int

// hardwareWords are what stands in a sentence for each count.
var hardwareWords = [5]string{"nut", "washer", "nut", "washer", "plate"}

func partsComplete(p *Pass) error {
	b := p.newBill()
	if !b.some {
		p.tellNoHardware()
		return nil
	}
	for a := range p.Anchors() {
		have, twins, asked := b.counts[a], b.typical(a), p.asked(a.Item)
		var fewer, less []string // than the twins have, than the rule file asks for
		there, want := 0, 0
		for i, n := range have {
			w := max(twins[i], asked[i])
			want, there = want+w, there+min(n, w)
			switch {
			case n >= w:
			case twins[i] == w:
				fewer = append(fewer, b.lackWords(a, i, w-n))
			default:
				less = append(less, b.lackWords(a, i, w-n))
			}
		}
		if there == want {
			continue
		}
		var text []string
		r := Required{Value: float64(want), Governs: Count}
		if len(fewer) > 0 {
			text = append(text, "lacks "+strings.Join(fewer, " and ")+", which others of its set have")
		}
		if len(less) > 0 {
			text = append(text, "lacks "+strings.Join(less, " and ")+", which the rule file asks for")
			r.cite = p.Params(a.Item).DetailsFrom
		}
		p.Report(Hit{
			Item: a.Item, Anchor: a, Measured: float64(there), Required: r, At: a.Open, Normal: a.Entry.Normal,
			Text: fmt.Sprintf("%s carries %d of %d parts: it %s", anchorName(a), there, want, strings.Join(text, "; it ")),
		})
	}
	return nil
}

// asked is what the rule file asks of an item.
func (p *Pass) asked(it *model.Item) hardware {
	var out hardware
	for i, d := range p.Rule.Details.List {
		out[i], _ = p.Params(it).Details.count(d.Name)
	}
	return out
}

// tellNoHardware tells once that a rule file asks for parts that no bolt of the
// models shows.
func (p *Pass) tellNoHardware() {
	var asked []*model.Item
	for it := range p.Items() {
		if p.asked(it) != (hardware{}) && len(it.Anchors) > 0 {
			asked = append(asked, it)
		}
	}
	if len(asked) == 0 {
		return
	}
	bolts := fmt.Sprintf("all %d bolts", len(asked))
	all := &group{
		key: "no hardware", label: bolts, items: asked, note: true,
		text: "the rule file asks for parts on bolts; the models show no nut, washer or plate on any of " + strconv.Itoa(len(asked)),
	}
	for _, it := range asked {
		want := 0
		for _, n := range p.asked(it) {
			want += n
		}
		p.hits = append(p.hits, hit{Hit{
			Item: it, Required: Required{Value: float64(want), Governs: Count, cite: p.Params(it).DetailsFrom}, At: it.Middle(),
			Text: itemName(it) + " shows none of the parts that the rule file asks for",
		}, all})
	}
}
