package mutate

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
)

// finder walks the files of a package and notes what can be changed.
type finder struct {
	pkg     *source
	file    *parsed
	wraps   wrapping
	mutants []*Mutant
	within  string // the function or variable that is walked
	fixed   int    // depth of nodes in which a number must stay a constant
	seen    map[string]int
}

// find gives the mutants of a package in the order of its files and lines. Those
// of a file are also put together in its instrumented text.
func find(pkg *source) []*Mutant {
	f := &finder{pkg: pkg, seen: map[string]int{}}
	for _, p := range pkg.files {
		f.file, f.wraps = p, wrapping{}
		for _, d := range p.ast.Decls {
			f.decl(d)
		}
		p.together = f.wraps.edits()
	}
	return f.mutants
}

func (f *finder) decl(d ast.Decl) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		f.within = d.Name.Name
		if d.Recv != nil {
			f.within = strings.TrimPrefix(types.ExprString(d.Recv.List[0].Type), "*") + "." + f.within
		}
		if d.Body != nil {
			f.walk(d.Body)
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			v, ok := s.(*ast.ValueSpec)
			if !ok {
				continue
			}
			f.within = v.Names[0].Name
			if d.Tok == token.CONST {
				f.fixed++
			}
			for _, e := range v.Values {
				f.walk(e)
			}
			if d.Tok == token.CONST {
				f.fixed--
			}
		}
	}
}

func (f *finder) walk(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		if e, ok := n.(ast.Expr); ok && f.calculated(e) {
			f.limit(e)
			return false
		}
		switch n := n.(type) {
		case *ast.BinaryExpr:
			f.binary(n)
		case *ast.UnaryExpr:
			if n.Op == token.SUB {
				f.sign(n, n.X)
			}
		case *ast.AssignStmt:
			if (n.Tok == token.ADD_ASSIGN || n.Tok == token.SUB_ASSIGN) && f.number(n.Rhs[0]) {
				f.note(Sign, n, n.Rhs[0], "flip", []edit{f.swap(n.TokPos, n.Tok, opposite[n.Tok])})
			}
		case *ast.IfStmt:
			f.guard(n)
		case *ast.CallExpr:
			if t, ok := f.typeOf(n).(*types.Basic); ok && t.Info()&types.IsBoolean != 0 {
				f.negate(n)
			}
		case *ast.IndexExpr:
			f.walk(n.X)
			return false // a wrong index panics, which any test notices
		case *ast.SliceExpr:
			f.walk(n.X)
			return false
		case *ast.ArrayType, *ast.FuncType:
			return false
		}
		return true
	})
}

// guard notes an if whose body only leaves.
func (f *finder) guard(n *ast.IfStmt) {
	if len(n.Body.List) != 1 || n.Else != nil {
		return
	}
	switch n.Body.List[0].(type) {
	case *ast.BranchStmt, *ast.ReturnStmt:
		f.note(Guard, n.Cond, n.Cond, "never", []edit{{f.at(n.Cond.Pos()), f.at(n.Cond.End()), "false && (" + f.text(n.Cond) + ")", 0}})
	}
}

func (f *finder) negate(n ast.Expr) {
	f.note(Negation, n, n, "not", []edit{{f.at(n.Pos()), f.at(n.End()), "!(" + f.text(n) + ")", 0}})
}

// sign notes that the sign of an operand, or a sign before it, is changed.
func (f *finder) sign(whole, operand ast.Expr) {
	switch n := whole.(type) {
	case *ast.BinaryExpr:
		f.note(Sign, n, operand, "flip", []edit{f.swap(n.OpPos, n.Op, opposite[n.Op])})
	case *ast.UnaryExpr:
		f.note(Sign, n, operand, "flip", []edit{{f.at(n.OpPos), f.at(n.OpPos) + 1, "+", 0}})
	}
}

// note adds a mutant that is made by putting an expression into a call of one of
// the helpers.
func (f *finder) note(k Kind, whole ast.Node, put ast.Expr, helper string, alone []edit) {
	m := f.add(k, whole, alone)
	if m.separate {
		return
	}
	typed := ""
	if helper != "not" && helper != "never" {
		typed = "[" + f.typeName(put) + "]"
	}
	f.wrapCall(m, put, fmt.Sprintf("mutant%s%s(%d, ", strings.ToUpper(helper[:1])+helper[1:], typed, m.ID))
}

func (f *finder) wrapCall(m *Mutant, put ast.Node, before string) {
	f.wraps.wrap(m, f.at(put.Pos()), f.at(put.End()), before, ")")
}

func (f *finder) add(k Kind, whole ast.Node, alone []edit) *Mutant {
	pos := f.pkg.fset.Position(whole.Pos())
	from, to := f.at(whole.Pos()), f.at(whole.End())
	moved := make([]edit, len(alone))
	for i, e := range alone {
		moved[i] = edit{from: e.from - from, to: e.to - from, text: e.text}
	}
	m := &Mutant{
		ID: len(f.mutants) + 1, File: filepath.Base(pos.Filename), Line: pos.Line, Func: f.within, Kind: k,
		Was: oneLine(f.file.src[from:to]), Becomes: oneLine(apply(f.file.src[from:to], moved)), alone: alone, separate: f.fixed > 0,
	}
	f.seen[m.Key()]++
	m.Nth = f.seen[m.Key()]
	f.mutants = append(f.mutants, m)
	return m
}

func oneLine(b []byte) string { return strings.Join(strings.Fields(string(b)), " ") }

func (f *finder) at(p token.Pos) int           { return f.pkg.fset.Position(p).Offset }
func (f *finder) text(n ast.Node) string       { return string(f.file.src[f.at(n.Pos()):f.at(n.End())]) }
func (f *finder) typeOf(e ast.Expr) types.Type { return f.pkg.info.TypeOf(e) }

// swap replaces an operator.
func (f *finder) swap(pos token.Pos, was, becomes token.Token) edit {
	return edit{f.at(pos), f.at(pos) + len(was.String()), becomes.String(), 0}
}
