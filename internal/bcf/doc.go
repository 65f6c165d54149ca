// Package bcf writes and reads issue lists in the BIM Collaboration Format,
// versions 2.1 and 3.0 (buildingSMART BCF-XML): a zip archive with a folder for
// each topic, which holds its text and its viewpoints as XML.
//
// Writing goes topic by topic, so memory does not grow with their number, and
// the same input gives the same bytes. Reading takes what real programs write,
// in either version, and keeps what it does not know so that a topic can be
// written again; an archive that is made to do harm is refused.
//
// Lengths are metres and angles degrees here, as in the files.
package bcf
