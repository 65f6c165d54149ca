// Package ifcread reads files that carry IFC2X3, IFC4 or IFC4X3: the clear text of
// ISO 10303-21, or XML after ISO 10303-28 and after ifcXML4, plain or zipped.
//
// One pass over the bytes finds where every instance stands and what entity it
// is; nothing is decoded and no tree is built. Attributes are decoded when they
// are asked for, out of the bytes of the file. A bad instance costs that
// instance and is reported as a Problem; Open fails only when nothing can be
// used.
//
// XML is turned into clear text by a streaming decoder first, so that a File is
// the same whatever form its model came in.
//
// A File is read-only and safe for use by many goroutines.
package ifcread
