package check_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
)

// A damage spoils the text of a model in one way, as disks, transfers, editors
// and people do.
type damage struct {
	name  string
	spoil func(text string, r *rand.Rand) string
}

// damages are all ways to spoil a model but cutting it off.
var damages = []damage{
	{"bytes flipped", flipBytes},
	{"a piece lost", losePiece},
	{"a piece twice", repeatPiece},
	{"an instance twice", repeatInstance},
	{"one number for two instances", sameNumber},
	{"a reference to another instance", swapReference},
	{"two instances that refer to each other", refersBack},
	{"an instance that refers to itself", refersToItself},
	{"a reference to nothing", refersToNothing},
	{"an absurd number", absurdNumber},
	{"all numbers of an instance absurd", absurdNumbers},
	{"equal points", equalMembers},
	{"an empty list", emptyList},
	{"a list a thousand times as long", longList},
	{"another entity", otherEntity},
	{"a value left out", noValue},
}

var (
	referencing = regexp.MustCompile(`#\d+`)
	numbers     = regexp.MustCompile(`([(,])(-?\d+(?:\.\d*(?:E[-+]?\d+)?)?)\b`)
	lists       = regexp.MustCompile(`\(((?:#\d+|-?[\d.]+(?:E[-+]?\d+)?)(?:,(?:#\d+|-?[\d.]+(?:E[-+]?\d+)?))+)\)`)
	entities    = regexp.MustCompile(`=\s*(IFC[A-Z0-9]+)\(`)
)

// absurd are numbers that no model has, and words for none.
var absurd = []string{
	"1.E308", "-1.E308", "1.E400", "-1.E400", "1.E-320", "0.", "-0.", "-1.", "NAN", "INF", "-1.#IND", "1.#QNAN", "1.E18", "-1.E18", "1.E9", "1.E-9",
	"9223372036854775807", "99999999999999999999999999", "-1", "0", "$", "*", "''", ".T.", "1..2", "--1.", "1,5",
}

func flipBytes(text string, r *rand.Rand) string {
	b := []byte(text)
	for range 1 + r.IntN(4) {
		b[r.IntN(len(b))] ^= byte(1 << r.IntN(8))
	}
	return string(b)
}

func losePiece(text string, r *rand.Rand) string {
	from := r.IntN(len(text))
	return text[:from] + text[min(len(text), from+1+r.IntN(1<<r.IntN(12))):]
}

func repeatPiece(text string, r *rand.Rand) string {
	from := r.IntN(len(text))
	to := min(len(text), from+1+r.IntN(1<<r.IntN(12)))
	return text[:to] + text[from:]
}

func repeatInstance(text string, r *rand.Rand) string {
	return atOne(instance, text, r, func(line string) string { return line + "\n" + line })
}

// sameNumber gives an instance the number of another one.
func sameNumber(text string, r *rand.Rand) string {
	other := anyNumber(text, r)
	return atOne(instance, text, r, func(line string) string { return referencing.ReplaceAllStringFunc(line, once(other)) })
}

func swapReference(text string, r *rand.Rand) string {
	other := anyNumber(text, r)
	return inOne(text, r, func(line string) string { return atOne(referencing, line, r, func(string) string { return other }) })
}

// refersBack makes an instance refer to one that refers to it.
func refersBack(text string, r *rand.Rand) string {
	from, to := "", ""
	inOne(text, r, func(args string) string {
		from = args
		to = oneOf(referencing.FindAllString(args, -1), r)
		return args
	})
	line := regexp.MustCompile(`(?m)^(#\d+)[ =].*$`)
	for _, m := range line.FindAllStringSubmatch(text, -1) {
		if to != "" && strings.HasSuffix(strings.TrimRight(m[0], "\r"), from) && from != "" {
			target := regexp.MustCompile(`(?m)^` + to + ` ?=.*$`)
			return target.ReplaceAllStringFunc(text, func(l string) string {
				head, args, _ := strings.Cut(l, "=")
				return head + "=" + atOne(referencing, args, r, func(string) string { return m[1] })
			})
		}
	}
	return text
}

func refersToItself(text string, r *rand.Rand) string {
	return atOne(instance, text, r, func(line string) string {
		head, args, _ := strings.Cut(line, "=")
		return head + "=" + atOne(referencing, args, r, func(string) string { return strings.TrimSpace(head) })
	})
}

func refersToNothing(text string, r *rand.Rand) string {
	return inOne(text, r, func(args string) string {
		return atOne(referencing, args, r, func(string) string { return fmt.Sprint("#", 1+r.Uint64()>>r.IntN(64)) })
	})
}

func absurdNumber(text string, r *rand.Rand) string {
	return inOne(text, r, func(args string) string {
		return atOne(numbers, args, r, func(s string) string { return s[:1] + oneOf(absurd, r) })
	})
}

func absurdNumbers(text string, r *rand.Rand) string {
	return inOne(text, r, func(args string) string {
		return numbers.ReplaceAllStringFunc(args, func(s string) string { return s[:1] + oneOf(absurd, r) })
	})
}

// equalMembers makes all members of a list the first one.
func equalMembers(text string, r *rand.Rand) string {
	return atOne(lists, text, r, func(s string) string {
		first, _, _ := strings.Cut(s[1:], ",")
		return "(" + strings.Repeat(first+",", strings.Count(s, ",")) + first + ")"
	})
}

func emptyList(text string, r *rand.Rand) string {
	return atOne(lists, text, r, func(string) string { return "()" })
}

func longList(text string, r *rand.Rand) string {
	return atOne(lists, text, r, func(s string) string {
		return "(" + strings.Repeat(s[1:len(s)-1]+",", 1000) + s[1:]
	})
}

// otherEntity makes an instance one of another entity in the file.
func otherEntity(text string, r *rand.Rand) string {
	other := oneOf(entities.FindAllString(text, -1), r)
	return atOne(entities, text, r, func(string) string { return other })
}

func noValue(text string, r *rand.Rand) string {
	return inOne(text, r, func(args string) string {
		parts := strings.Split(args, ",")
		parts[r.IntN(len(parts))] = "$"
		return strings.Join(parts, ",")
	})
}

// atOne changes one match of a pattern.
func atOne(p *regexp.Regexp, text string, r *rand.Rand, change func(string) string) string {
	all := p.FindAllStringIndex(text, -1)
	if len(all) == 0 {
		return text
	}
	at := all[r.IntN(len(all))]
	return text[:at[0]] + change(text[at[0]:at[1]]) + text[at[1]:]
}

// inOne changes what stands behind the "=" of one instance.
func inOne(text string, r *rand.Rand, change func(string) string) string {
	return atOne(instance, text, r, func(line string) string {
		head, args, _ := strings.Cut(line, "=")
		return head + "=" + change(args)
	})
}

func anyNumber(text string, r *rand.Rand) string {
	id, _, _ := strings.Cut(instance.FindString(text[r.IntN(len(text)):]+"\n#1="), "=")
	return strings.TrimSpace(id)
}

func oneOf(list []string, r *rand.Rand) string {
	if len(list) == 0 {
		return ""
	}
	return list[r.IntN(len(list))]
}

// once replaces the first of several matches.
func once(by string) func(string) string {
	return func(s string) string {
		if by != "" {
			s, by = by, ""
		}
		return s
	}
}
