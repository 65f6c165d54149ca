// Package ifcread reads the clear text of ISO 10303-21 files that carry IFC:
// IFC2X3, IFC4 and IFC4X3, plain or zipped.
//
// One pass over the bytes finds where every instance stands and what entity it
// is; nothing is decoded and no tree is built. Attributes are decoded when they
// are asked for, out of the bytes of the file. A bad instance costs that
// instance and is reported as a Problem; Open fails only when nothing can be
// used.
//
// A File is read-only and safe for use by many goroutines.
package ifcread
