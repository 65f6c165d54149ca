// Package sheet makes setting-out sheets: for each host the pages that a
// precaster takes to the form, with the elevation as it is cast, the sets in
// detail, a schedule of marks and a checklist with a box for each value that is
// measured before the pour.
//
// Lines follow ISO 128, dimensions ISO 129-1 (running dimensions from one
// corner), lettering ISO 3098, sheets ISO 5457, scales ISO 5455 with 1:25, all
// from memory. Sheets are black and white.
package sheet
