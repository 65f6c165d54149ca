// Package survey brings points that a surveyor measured, in whatever frame the
// instrument stood, to where the model has them: the rigid motion of least
// squares through reference points, what each of them misses it by, how well it
// holds at a place, and what looks as if the sheet was filled in wrongly.
//
// Lengths are mm. Nothing is corrected: what looks wrong is said in words, and a
// person decides.
package survey
