// Package report writes what a check found: findings.json for programs, the
// summary and the inventory for people. It knows findings, not models or rules.
//
// Every writer sorts first, so the same run gives the same bytes, in whatever
// order the findings come.
package report
