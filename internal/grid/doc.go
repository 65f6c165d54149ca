// Package grid is the table that people take into a spreadsheet: columns with
// units, rows of texts and numbers. It is written as CSV, XLSX and JSON, and
// such files are read back from CSV and XLSX.
//
// Texts come out of models and files that anyone may have made. What is written
// holds nothing that a spreadsheet would run and nothing that steers a terminal;
// numbers stay numbers. The same table gives the same bytes on every run.
package grid
