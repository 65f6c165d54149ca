// Package recognise turns building elements into the words of the trade: what
// is concrete, what is cast in and of which kind, where its anchors are, what
// works together, what is reinforcement. It decides by evidence, not by class
// alone, and every decision carries its evidence.
package recognise
