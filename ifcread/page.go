package ifcread

import "golang.org/x/text/encoding/charmap"

// pages are the parts of ISO 8859 that \PA\ to \PI\ select.
var pages = [...]*charmap.Charmap{
	charmap.ISO8859_1, charmap.ISO8859_2, charmap.ISO8859_3, charmap.ISO8859_4, charmap.ISO8859_5,
	charmap.ISO8859_6, charmap.ISO8859_7, charmap.ISO8859_8, charmap.ISO8859_9,
}

// fromPage is a character of a page; an unknown page counts as the first one.
func fromPage(page, c byte) rune {
	i := int(page) - 'A'
	if i < 0 || i >= len(pages) {
		i = 0
	}
	return pages[i].DecodeByte(c)
}
