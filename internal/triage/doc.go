// Package triage serves the page of a checked folder to people who decide about
// its findings. It reads no model: figures come from findings.json, pictures and
// topics from issues.bcf, drawings from report.html. What people do is written at
// once to the decisions file, and nowhere else; the folder stays as the check
// left it.
//
// Only who knows the address can act: it holds a random token, and calls from
// pages of other origins or under other host names are turned away. An act states
// how many entries the person saw about each finding. They are compared while
// the decisions file is locked, so that of two people who act at once one is told
// what the other did, and nothing is lost.
package triage
