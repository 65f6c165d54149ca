package setout

import "embedcheck/internal/model"

// ToleranceKind says what a tolerance is for.
type ToleranceKind string

const (
	Position ToleranceKind = "position" // from the datum to an axis or a plate's side
	Centres  ToleranceKind = "centres"  // axis to axis in a set, also across it
	Level    ToleranceKind = "level"    // of a thread's end, a plate, an item in a side
	Depth    ToleranceKind = "depth"    // embedment
	Cover    ToleranceKind = "cover"    // concrete left behind
)

// Tolerance is how far a measured value may be from the stated one, in mm.
type Tolerance struct {
	Kind        ToleranceKind
	Minus, Plus float64 // both positive
	Source      string  // where it comes from, and how well that is known
}

// Holds reports whether a deviation, measured less stated, is within the
// tolerance.
func (t *Tolerance) Holds(deviation float64) bool {
	const noise = 1e-6
	return deviation >= -t.Minus-noise && deviation <= t.Plus+noise
}

// ToleranceFor names what a tolerance applies to.
type ToleranceFor struct {
	Kind ToleranceKind
	Item model.Kind
}

// Tolerances are those of items of a kind; of all other items where there is
// none for theirs.
type Tolerances struct {
	Any  map[ToleranceKind]Tolerance
	Item map[ToleranceFor]Tolerance
}

// of is the tolerance for an item; nil when none is stated.
func (t Tolerances) of(kind ToleranceKind, item model.Kind) *Tolerance {
	v, ok := t.Item[ToleranceFor{kind, item}]
	if !ok {
		if v, ok = t.Any[kind]; !ok {
			return nil
		}
	}
	v.Kind = kind
	return &v
}

// How well a source is known.
const (
	secondary = " (read in a secondary copy)"
	memory    = " (from memory, clause not re-read)"
	practice  = "common practice, no published source"
)

// DefaultTolerances are general values from published tolerances for cast-in
// items. They are a screening: the project's documents decide.
func DefaultTolerances() Tolerances {
	even := func(mm float64, source string) Tolerance { return Tolerance{Minus: mm, Plus: mm, Source: source} }
	return Tolerances{
		Any: map[ToleranceKind]Tolerance{
			Position: even(25, "ACI 117-90 2.3, embedded items"+secondary),
			Centres:  even(5, practice),
			Level:    even(6, "ACI 117-10, surface of an embedded item to its plane"+memory),
			Depth:    even(6, "ACI 117-10, surface of an embedded item to its plane"+memory),
			Cover:    even(10, "EN 1992-1-1 4.4.1.3, deviation of cover"+secondary),
		},
		Item: map[ToleranceFor]Tolerance{
			{Position, model.Bolt}:   even(6, "AISC 303-10 7.5.1 (e), group to its line"+secondary),
			{Centres, model.Bolt}:    even(3, "AISC 303-10 7.5.1 (a), any two rods of a group"+secondary),
			{Level, model.Bolt}:      even(13, "AISC 303-10 7.5.1 (c), top of a rod"+secondary),
			{Depth, model.Bolt}:      even(13, "follows the top of the rod: AISC 303-10 7.5.1 (c)"+secondary),
			{Position, model.Socket}: even(13, "PCI MNL-135, inserts of structural connections"+memory),
			{Position, model.Plate}:  even(25, "PCI MNL-135, embedded plates"+memory),
			{Level, model.Plate}:     even(6, "PCI MNL-135, tipping and flushness of plates"+memory),
			{Position, model.Lifter}: even(20, "AS 3850.2:2015 table 2.7, lifting inserts"+secondary),
			{Level, model.Lifter}:    even(5, "AS 3850.2:2015 table 2.7, edge lifting inserts across the thickness"+secondary),
		},
	}
}
