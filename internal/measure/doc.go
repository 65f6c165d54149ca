// Package measure takes the dimensions that rules compare: where an anchor
// enters its host, its edge distance, spacing and clear distances. Each
// function is pure; the definitions are those of the contributors' guide.
package measure
