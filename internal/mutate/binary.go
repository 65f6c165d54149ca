package mutate

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"strconv"
)

var opposite = map[token.Token]token.Token{
	token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR, token.EQL: token.NEQ, token.NEQ: token.EQL,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN, token.LAND: token.LOR, token.LOR: token.LAND,
}

var beside = map[token.Token]token.Token{token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR}

// joining are the helpers that take both operands of an operator.
var joining = map[token.Token]string{
	token.LSS: "Lss", token.LEQ: "Leq", token.GTR: "Gtr", token.GEQ: "Geq", token.LAND: "And", token.LOR: "Or",
}

func (f *finder) binary(n *ast.BinaryExpr) {
	swap := []edit{f.swap(n.OpPos, n.Op, opposite[n.Op])}
	switch n.Op {
	case token.EQL, token.NEQ:
		f.note(Negation, n, n, "not", swap)
	case token.LSS, token.LEQ, token.GTR, token.GEQ:
		f.note(Negation, n, n, "not", swap)
		f.join(n, f.add(Boundary, n, []edit{f.swap(n.OpPos, n.Op, beside[n.Op])}), "", "")
	case token.LAND, token.LOR:
		// Without brackets the other operator would take in what stands around it.
		from, to := f.at(n.Pos()), f.at(n.End())
		m := f.add(Connective, n, []edit{{from, from, "(", 0}, swap[0], {to, to, ")", 0}})
		f.join(n, m, "func() bool { return (", ") }")
	case token.ADD, token.SUB:
		if f.number(n) {
			f.sign(n, n.Y)
		}
	case token.MUL, token.QUO:
		if f.number(n) && !f.integer(n) {
			f.note(Factor, n, n.Y, "invert", swap)
		}
	}
}

// join puts both operands into a call of a helper, the second one between two
// texts.
func (f *finder) join(n *ast.BinaryExpr, m *Mutant, before, after string) {
	if m.separate {
		return
	}
	f.wrapCall(m, n, fmt.Sprintf("mutant%s(%d, ", joining[n.Op], m.ID))
	f.wraps.replace(m, f.at(n.OpPos), f.at(n.OpPos)+len(n.Op.String()), ",")
	if before != "" {
		f.wraps.wrap(m, f.at(n.Y.Pos()), f.at(n.Y.End()), before, after)
	}
}

// leastNumber is the smallest number that is changed: what is smaller is a
// tolerance of the arithmetic, and a hundredth of it moves nothing but ties.
const leastNumber = 1e-3

// calculated reports whether an expression is a number that is written down: a
// literal, or made of literals.
func (f *finder) calculated(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return f.number(e) && e.Kind != token.CHAR
	case *ast.UnaryExpr, *ast.BinaryExpr:
		return f.number(e) && f.pkg.info.Types[e].Value != nil
	}
	return false
}

// limit notes that a number is a little more or less: by 1 %, or by 1 where it
// is an integer. The 0 of a float stays: it is the sign of something, which the
// comparison around it tests.
func (f *finder) limit(n ast.Expr) {
	v, _ := constant.Float64Val(constant.ToFloat(f.pkg.info.Types[n].Value))
	from, to := f.at(n.Pos()), f.at(n.End())
	if f.integer(n) {
		f.note(More, n, n, "more", []edit{{from, to, strconv.FormatInt(int64(v)+1, 10), 0}})
		f.note(Less, n, n, "less", []edit{{from, to, strconv.FormatInt(int64(v)-1, 10), 0}})
		return
	}
	if math.Abs(v) < leastNumber {
		return
	}
	f.note(More, n, n, "more", []edit{{from, to, strconv.FormatFloat(v*1.01, 'g', 12, 64), 0}})
	f.note(Less, n, n, "less", []edit{{from, to, strconv.FormatFloat(v*0.99, 'g', 12, 64), 0}})
}

func (f *finder) number(e ast.Expr) bool  { return f.is(e, types.IsNumeric) }
func (f *finder) integer(e ast.Expr) bool { return f.is(e, types.IsInteger) }

func (f *finder) is(e ast.Expr, what types.BasicInfo) bool {
	t := f.typeOf(e)
	if t == nil {
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&what != 0
}

// typeName is the type of an expression as the package writes it.
func (f *finder) typeName(e ast.Expr) string {
	return types.TypeString(types.Default(f.typeOf(e)), func(p *types.Package) string {
		if p == f.pkg.types {
			return ""
		}
		return p.Name()
	})
}
