// Package mutate asks how much the tests of a package notice: it changes the
// package in one small place at a time, a comparison, a sign, a limit, a guard,
// and runs the tests. A change that no test notices is a gap in the tests, code
// that is not needed, or one of the few that change nothing.
//
// All changes are compiled into one test binary, and a variable of the environment
// says which of them is on, so that a change costs a run of the tests and no build.
// The source is handed to the compiler as an overlay; the tree is never touched.
package mutate

import "fmt"

// Kind says what a mutant changes.
type Kind string

// What is changed.
const (
	Boundary   Kind = "boundary"   // < to <=, and so on
	Negation   Kind = "negation"   // the opposite of a comparison, or of what a call answers
	Connective Kind = "connective" // && to ||, || to &&
	Sign       Kind = "sign"       // + to -, - to +, -x to x
	Factor     Kind = "factor"     // * to /, / to *, of numbers that are not integers
	More       Kind = "more"       // a number made larger: by 1 %, an integer by 1
	Less       Kind = "less"       // a number made smaller
	Guard      Kind = "guard"      // an early continue, break or return that is never taken
)

// Mutant is one small change of a source file.
type Mutant struct {
	ID      int    // counts from 1 within a package
	File    string // base name
	Line    int
	Func    string // the function or variable around it
	Kind    Kind
	Was     string // source text of the expression
	Becomes string
	Nth     int // counts those of a function that are alike in kind and text, from 1

	alone    []edit // as a change of the file by itself
	separate bool   // does not compile with the others
}

// Key names a mutant so that it is the same when lines move.
func (m *Mutant) Key() string {
	return fmt.Sprintf("%s | %s | %s | %s | %d", m.File, m.Func, m.Kind, m.Was, m.Nth)
}

// String is a line of a report.
func (m *Mutant) String() string {
	return fmt.Sprintf("%s:%d  %s: %s: %s  ->  %s", m.File, m.Line, m.Func, m.Kind, m.Was, m.Becomes)
}

// edit replaces the bytes of a file from one offset to another.
type edit struct {
	from, to int
	text     string
	owner    int // the mutant
}
