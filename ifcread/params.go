package ifcread

// params walks over the parameters of a bracketed list that b begins with. It
// decodes nothing and allocates nothing.
type params struct {
	b     []byte
	i     int // of the bracket, comma or blank before the next parameter
	value []byte
	done  bool
}

// next finds the next parameter: value is its text without blanks around it.
func (p *params) next() bool {
	if p.done || p.i >= len(p.b) {
		return false
	}
	b, i := p.b, p.i+1 // behind "(" or ","
	for i < len(b) && (b[i] <= ' ' || b[i] == '/' && commentAt(b, i)) {
		i = skip(b, i)
	}
	from, depth := i, 0
	end := -1 // of the parameter when a comment or blank follows it
	for i < len(b) {
		switch c := b[i]; {
		case c == ',' && depth == 0 || c == ')' && depth == 0:
			if end < 0 {
				end = i
			}
			p.i, p.done = i, c == ')'
			p.value = b[from:end]
			return len(p.value) > 0 || !p.done
		case c == '(':
			depth++
		case c == ')':
			depth--
			end = -1
		case c == '\'':
			for i++; i < len(b) && b[i] != '\''; i++ {
			}
		case c <= ' ' || c == '/' && commentAt(b, i):
			if depth == 0 && end < 0 {
				end = i
			}
			i = skip(b, i)
			continue
		case end >= 0 && depth == 0:
			end = -1 // a blank inside a parameter
		}
		i++
	}
	p.done = true
	return false
}

func commentAt(b []byte, i int) bool { return i+1 < len(b) && b[i+1] == '*' }

// skip passes one blank or comment.
func skip(b []byte, i int) int {
	if b[i] != '/' {
		return i + 1
	}
	for i += 2; i+1 < len(b); i++ {
		if b[i] == '*' && b[i+1] == '/' {
			return i + 2
		}
	}
	return len(b)
}

func split(f *File, b []byte, dst []Value) []Value {
	for p := (params{b: b}); p.next(); {
		dst = append(dst, Value{p.value, f})
	}
	return dst
}
