package rules

import (
	"fmt"
	"regexp"
	"strings"

	"embedcheck/internal/finding"
	"embedcheck/internal/model"
)

// FinishExposure finds items that are stated to be bare steel or thinly plated in
// concrete that is stated to be outside, or of which nothing is stated.
//
// Lifters are not asked: they have done their work when the recess is filled.
var FinishExposure = &Rule{
	ID:    "finish-exposure",
	Title: "Finish for dry rooms only",
	Doc: Doc{
		Wrong:    "A bare or zinc-plated item stands in the weather: it rusts within a few winters, stains the face and loses its thread.",
		Measured: "The finish that the model states, when it is one for dry rooms: bare steel or electroplated zinc. The concrete is outside when its IsExternal is true or its exposure class is other than X0, XC1 or A1; it is dry when they say so. Where the models state neither for any such item, that is one note.",
		Do:       "State hot-dip galvanised or stainless, or state that the concrete is in a dry room.",
		Blind:    "Which face of an element is the outer one. Items whose finish is not stated: finish-stated tells them. Paint, and how thick zinc is.",
	},
	Kinds: []model.Kind{model.Bolt, model.Socket, model.Plate, model.Channel},
	Default: Params{
		Priority: finding.Review,
		Cites:    []Citation{{"", "EN 1992-4 Annex B: electroplated zinc in dry rooms only", Memory}},
	},
	Run: finishExposure,
}

// exposure is where concrete is, as far as the model states it.
type exposure int

const (
	unknownExposure exposure = iota
	dry
	outdoors
)

var (
	thinZinc = regexp.MustCompile(`(?i)zinc[- ]?plated|electro[- ]?(plated|zinc|galvani[sz]ed)|galvanisch|\biso 4042\b|\bzp\b`)
	// bareSteel are whole texts: "plain" in a longer one may mean something else.
	bareSteel = regexp.MustCompile(`(?i)^(none|no (finish|coating)|bare( steel)?|black( steel)?|plain( steel)?|self[- ]colou?r(ed)?|mill( finish)?|uncoated|untreated|unprotected|unbehandelt|blank|onbehandeld|brut|sin tratar|grezzo)$`)
	dampClass = regexp.MustCompile(`(?i)\b(xc[2-4]|x[dsaf][1-4]|a2|b[12]|c[12])\b`)
	dryClass  = regexp.MustCompile(`(?i)^(x0|xc1|a1)$`)
)

func finishExposure(p *Pass) error {
	var unknown []*model.Item
	for it := range p.Items() {
		f := strings.TrimSpace(it.Stated.Finish)
		if it.Host == nil || it.Twin || !thinZinc.MatchString(f) && !bareSteel.MatchString(f) {
			continue
		}
		switch e, says := exposureOf(it.Host); e {
		case outdoors:
			p.Report(Hit{
				Item: it, At: it.Middle(),
				Text: fmt.Sprintf("%s is stated to be %s, which is for dry rooms; %s is stated to be %s",
					itemName(it), finishWord(f), hostName(it.Host), says),
			})
		case unknownExposure:
			unknown = append(unknown, it)
		}
	}
	if len(unknown) > 0 {
		p.tellUnknownExposure(unknown)
	}
	return nil
}

// tellUnknownExposure tells once, as a note, the items of which the models do not
// say whether they are outside.
func (p *Pass) tellUnknownExposure(items []*model.Item) {
	all := &group{
		key: "exposure unknown", label: plural(len(items), "item"), items: items, note: true,
		text: fmt.Sprintf("%s bare or zinc-plated, finishes for dry rooms, in concrete of which the models do not state whether it is outside", isAre(len(items))),
	}
	for _, it := range items {
		p.hits = append(p.hits, hit{Hit{
			Item: it, At: it.Middle(),
			Text: fmt.Sprintf("%s is stated to be %s; whether %s is outside is not stated", itemName(it), finishWord(it.Stated.Finish), hostName(it.Host)),
		}, all})
	}
}

func isAre(n int) string {
	if n == 1 {
		return "1 item is"
	}
	return fmt.Sprintf("%d items are", n)
}

// finishWord is a finish inside a sentence.
func finishWord(f string) string {
	f = strings.ToLower(finding.Plain(f))
	switch f {
	case "none", "no finish", "no coating":
		return "without a finish"
	}
	return f
}

// exposureOf is where a host is, and which statement says so.
func exposureOf(h *model.Host) (exposure, string) {
	if h.Property == nil {
		return unknownExposure, ""
	}
	e := unknownExposure
	if v, ok := h.Property("IsExternal"); ok {
		switch strings.ToLower(v) {
		case "true":
			return outdoors, "external"
		case "false":
			e = dry
		}
	}
	for _, name := range []string{"ExposureClass", "EnvironmentalClass"} {
		v, _ := h.Property(name)
		switch v = strings.TrimSpace(v); {
		case dampClass.MatchString(v):
			return outdoors, "of exposure class " + finding.Plain(v)
		case dryClass.MatchString(v):
			e = dry
		}
	}
	return e, ""
}
