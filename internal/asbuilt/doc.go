// Package asbuilt compares values that people took (with a tape on the form, or
// with an instrument after the pour) with the dimensions that a host was set out
// by. It makes the forms that they fill in, reads them back, fits surveys to
// their host, and says of each value whether it is within the stated tolerance.
//
// A blank is not measured and never counts as passed. What cannot be read or
// compared is told with its place in the sheet.
package asbuilt
