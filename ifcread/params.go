package ifcread

// params walks over the parameters of a list in brackets. It decodes nothing and
// allocates nothing.
type params struct {
	f     *File
	i     int // of the opening bracket or of the comma before the next parameter
	value Value
	done  bool
	torn  bool // the list has no closing bracket
}

// list is the parameters of the list that opens at an offset; none when at is
// negative.
func (f *File) list(at int) params { return params{f: f, i: at, done: at < 0} }

// next finds the next parameter.
func (p *params) next() bool {
	if p.done {
		return false
	}
	b := p.f.data
	before := b[p.i]
	from := skipBlank(b, p.i+1)
	i, depth, comments := from, 0, false
scan:
	for {
		for i < len(b) && class[b[i]] <= blank {
			i++
		}
		if i == len(b) {
			break
		}
		switch class[b[i]] {
		case open:
			depth++
		case shut:
			if depth == 0 {
				break scan
			}
			depth--
		case comma:
			if depth == 0 {
				break scan
			}
		case quote:
			i = skipString(b, i+1) - 1
		case slash:
			if isComment(b, i) {
				i = skipComment(b, i) - 1
				comments = true
			}
		case semicolon: // the statement ends before its brackets do
			break scan
		}
		i++
	}
	p.i = i
	p.torn = i >= len(b) || b[i] == ';'
	p.done = p.torn || b[i] == ')'
	end := trim(b, from, i, comments)
	p.value = Value{p.f, uint32(from), uint32(end - from)}
	return end > from || !p.done || before == ',' // "(1,)" has two parameters, "()" has none
}

// trim is the end of b[from:end] without blanks and comments behind it.
func trim(b []byte, from, end int, comments bool) int {
	if !comments {
		for end > from && b[end-1] <= ' ' {
			end--
		}
		return end
	}
	last := from
	for i := from; i < end; {
		switch {
		case b[i] <= ' ':
			i++
		case isComment(b, i):
			i = skipComment(b, i)
		case b[i] == '\'':
			i = skipString(b, i+1)
			last = i
		default:
			i++
			last = i
		}
	}
	return min(last, end)
}
