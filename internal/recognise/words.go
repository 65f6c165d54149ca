package recognise

import (
	"strings"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"

	"embedcheck/internal/model"
)

// plain lowers a text and takes the accents off its letters, so that one
// pattern serves "Béton" and "BETON".
func plain(s string) string {
	ascii := true
	for i := range len(s) {
		ascii = ascii && s[i] < 0x80
	}
	if ascii {
		return strings.ToLower(s)
	}
	t := transform.Chain(norm.NFKD, runes.Remove(runes.In(unicode.Mn)), norm.NFC)
	if out, _, err := transform.String(t, s); err == nil {
		s = out
	}
	return bareLetters.Replace(strings.ToLower(s))
}

var bareLetters = strings.NewReplacer("ø", "o", "ß", "ss", "æ", "ae", "ł", "l")

// kindWord is a word of the trade that tells a kind.
type kindWord struct {
	kind model.Kind
	of   pattern
}

// kindWords are tried in order: a nut of an anchor is a fitting, a plate that
// sets out anchors is a template, a lifting anchor is a lifter. The words are
// those used on shop drawings in English, Dutch, German, French, Spanish,
// Italian, Portuguese, Swedish, Norwegian, Danish, Finnish and Polish, from
// memory of the trade.
var kindWords = []kindWord{
	word(model.Fitting, `\bnuts?\b|\bhex ?nut|washer|\bmoer(en)?(\b|_)|\bmutter(n)?\b|\becrous?\b|rondelle|\btuerca|arandela|\bdado\b|\bdadi\b|rosetta|sluitring|unterlegscheibe|\bporca\b|anilha|\bbricka|\bmutteri|aluslevy|nakretka|podkladka`),
	word(model.Template, `template|setting plate|setting-out plate|schablone|modelplaat|\bmalplaat|sjabloon|gabarit|plantilla|\bdima\b|gabarito|\bmall(en)?\b|asennuslevy|szablon`),
	word(model.Former, `recess former|void former|pocket former|blockout|block-out|box-out|aussparungskorper|aussparung|hemispher|halve_?bol|halbkugel|rubber former|\bformer\b|reservation|negativo|kolovaraus`),
	word(model.Lifter, `\blift(ing|er|s)?\b|\blifting|\bhoist|hijs|\bhebe(anker|ose|schlaufe)|transportanker|seilschlaufe|\blevage|levantamiento|izaje|\bizado|solleva|\bicamento|nostoankkuri|nostolenkki|\blyft|\bloft(e|ing)|kotwa transport|handling (loop|insert|anchor)|erection anchor`),
	word(model.Template, `\bpacker plate\b`),
	word(model.Channel, `cast[- ]in channel|anchor channel|anchor rail|\bchannel \d|ankerschiene|ankerrail|halterail|rail d.ancrage|carril de anclaje|profilo di ancoraggio|ankkurikisko|szyna kotw|\bchannel\d|\bslotted channel`),
	word(model.Socket, `ferrule|threaded (socket|insert)|fixing (socket|insert)|\bsocket|gewindehulse|schroefhuls|hulsanker|boutanker|douille|casquillo roscado|boccola|inserto filettato|kierrehylsy|tuleja gwint|gangehylse|\bcoil insert|brac(e|ing) insert|strongback insert|\binsert (m|d)? ?\d`),
	word(model.Sleeve, `grout (tube|sleeve|duct)|\bsleeve|\bduct\b|conduit|injectiebuis|\bbuis\b|huls\b|hullrohr|leerrohr|wellrohr|fourreau|\bgaine\b|\bvaina|\bguaina|\bbainha|suojaputki|pipe sleeve|corrugated tube|\bdrain|oslona`),
	word(model.Stud, `headed stud|shear (stud|connector)|weld(ed)? stud|\bstuds?\b|kopfbolzen|stiftdeuvel|\bgoujon|perno conector|piolo|\bpino conector|tappivaarna|trzpien`),
	word(model.Plate, `cast[- ]?in (plate|angle)|embed(ded|ment)? ?plate|\bembeds?\b|anchor(age)? plate|weld(ing)? plate|fixing plate|ingietstuk|instortplaat|instortvoorziening|ankerplaat|ankerplatte|einbauplatte|einbauteil|schweissplatte|platine (a|d|noyee)|plaque d.ancrage|placa (de anclaje|embebida)|piastra (di ancoraggio|annegata)|chapa de ancoragem|kiinnityslevy|marka stalowa|ingjuten|svetsplatta`),
	word(model.Bolt, `anchor[ -]?(bolt|rod)|hold(ing)?[ -]?down|foundation bolt|\b[ljhu][ -]?bolts?\b|\bhook(ed)? bolt|cast[- ]in bolt|\bhd[ -]?bolts?\b|starter bolt|ankerbolt|ankerbout|ankerstang|ankerschraube|steinschraube|fundamentanker|ankerbolzen|boulon d.ancrage|tige d.ancrage|\bcrosse d|perno de anclaje|barra de anclaje|tirafondo|tirante|barra di ancoraggio|chumbador|grundbult|grunnbolt|ankerbult|perustuspultti|kotwa fundament|anchors?\b|ankers?\b|\bancrage\b|\banclaje\b|\bancora\b|\bkotwa\b`),
}

func word(k model.Kind, expr string) kindWord {
	return kindWord{k, newPattern(expr)}
}

// kindByWords is the kind that a plain text tells, and the word that told it.
func kindByWords(s string) (model.Kind, string, bool) {
	for i := range kindWords {
		w := &kindWords[i]
		if m := w.of.find(s); m != "" {
			return w.kind, strings.TrimSpace(m), true
		}
	}
	return model.Other, "", false
}

// stuff is what an element is made of.
type stuff int

const (
	unknownStuff stuff = iota
	concrete
	steel
	otherStuff // timber, rubber, insulation, plastics: neither host nor steel
)

// stuffWords are tried in order: a material "concrete/insulation" is no host.
var stuffWords = []struct {
	is stuff
	of pattern
}{
	{otherStuff, newPattern(`timber|\bwood|plywood|holz\b|\bhout\b|\bbois\b|madera|legno|madeira|puuta?\b|neopre|rubber|elastomer|gummi|isolatie|insulat|isolat|dammung|polystyr|\beps\b|\bxps\b|\bpur?\b|mineral wool|steinwolle|foam|\bpvc\b|\bhdpe\b|plastic|kunststof|glas\b|\bglass|gypsum|\bgips|bitum|\bsand\b|gravel|\bsoil|mortar|grout\b|brick|masonry|metselwerk|mauerwerk`)},
	{concrete, newPattern(`concrete|beton|hormigon|calcestruzzo|concreto|\bc ?\d\d/\d\d|\blc\d\d|precast|prefab|reinforced c|stb\b|\brcc?\b|cast[- ]in[- ]place|in[- ]?situ|\bn(25|32|40|50)\b`)},
	{steel, newPattern(`steel|stahl|\bstaal|acier|acero|acciaio|\baco\b|stal\b|terasta?|metal|\biron\b|\bs ?(235|275|355|420|460)|\b(4\.6|5\.8|8\.8|10\.9)\b|\bgrade (36|55|105|250|300|350)|f1554|\ba(36|307|325|449|4|2)\b|stainless|inox|galvani|zinc|\bb ?500|rebar|\bst ?\d\d`)},
}

// stuffByWords reads a plain material name.
func stuffByWords(s string) stuff {
	for i := range stuffWords {
		w := &stuffWords[i]
		if w.of.find(s) != "" {
			return w.is
		}
	}
	return unknownStuff
}
