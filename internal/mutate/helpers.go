package mutate

// helpers is the file that is added to the package: what the changed places call,
// and which change is on.
const helpers = `package %s

import (
	"cmp"
	"os"
	"strconv"
)

var mutantOn = func() int { n, _ := strconv.Atoi(os.Getenv("` + variable + `")); return n }()

type mutantNumber interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~float32 | ~float64
}

func mutantLss[T cmp.Ordered](n int, a, b T) bool { return a < b || mutantOn == n && a == b }
func mutantLeq[T cmp.Ordered](n int, a, b T) bool { return a < b || mutantOn != n && a == b }
func mutantGtr[T cmp.Ordered](n int, a, b T) bool { return a > b || mutantOn == n && a == b }
func mutantGeq[T cmp.Ordered](n int, a, b T) bool { return a > b || mutantOn != n && a == b }

func mutantNot(n int, b bool) bool   { return b != (mutantOn == n) }
func mutantNever(n int, b bool) bool { return b && mutantOn != n }

func mutantAnd(n int, a bool, b func() bool) bool {
	if mutantOn == n {
		return a || b()
	}
	return a && b()
}

func mutantOr(n int, a bool, b func() bool) bool {
	if mutantOn == n {
		return a && b()
	}
	return a || b()
}

func mutantFlip[T mutantNumber](n int, v T) T {
	if mutantOn == n {
		return -v
	}
	return v
}

func mutantInvert[T ~float32 | ~float64](n int, v T) T {
	if mutantOn == n {
		return 1 / v
	}
	return v
}

func mutantMore[T mutantNumber](n int, v T) T {
	if mutantOn == n {
		return v + mutantStep(v)
	}
	return v
}

func mutantLess[T mutantNumber](n int, v T) T {
	if mutantOn == n {
		return v - mutantStep(v)
	}
	return v
}

func mutantStep[T mutantNumber](v T) T {
	half, hundredth := 0.5, 0.01
	if T(half) == 0 {
		return 1
	}
	return v * T(hundredth)
}
`

// variable of the environment holds the number of the mutant that is on.
const variable = "EMBEDCHECK_MUTANT"
