// Package ifcbuild writes IFC files for tests, the demo and benchmarks.
//
// A model is built by adding elements; each is written at once, so that a file
// of any size needs little memory:
//
//	b := ifcbuild.New(ifcbuild.IFC4, ifcbuild.MM)
//	wall := b.Wall("WP-01", ifcbuild.At(0, 0, 0), ifcbuild.Block(ifcbuild.V(0, 0, 0), ifcbuild.V(6000, 180, 3200)))
//	wall.Made("Concrete 40 MPa").Open("Door", ifcbuild.At(1000, 0, 0), ifcbuild.Block(ifcbuild.V(0, -1, 0), ifcbuild.V(900, 181, 2100)))
//	b.WriteTo(file)
//
// All lengths given are true lengths in mm, whatever unit the file is in;
// angles are degrees where a name says so. The output depends on the calls
// alone: there is no clock and no chance, and GlobalIds are hashes of a text.
//
// Attribute lists follow the EXPRESS schemas IFC2X3 TC1, IFC4 ADD2 TC1 and
// IFC4X3 ADD2; the clear text encoding follows ISO 10303-21. What a schema does
// not have is written in the nearest form that it has: in IFC2X3 face sets
// become faceted breps and indexed curves composite curves.
//
// The package shares no code with the readers that it tests.
package ifcbuild
