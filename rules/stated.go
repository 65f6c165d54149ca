package rules

import "embedcheck/internal/model"

// missing reports the items that state nothing.
func (p *Pass) missing(what string, says func(*model.Item) bool) error {
	for it := range p.Items() {
		if !it.Twin && !says(it) {
			p.Report(Hit{
				Item: it, At: it.Box.Center(),
				Text: "the model does not state the " + what + " of " + itemName(it) + sizeWords(it),
			})
		}
	}
	return nil
}

// sizeWords is the size of an item in brackets, unless its name is made of it.
func sizeWords(it *model.Item) string {
	if it.Size == "" || refName(&it.Ref) == "" {
		return ""
	}
	return " (" + it.Size + ")"
}
