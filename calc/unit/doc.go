// Package unit holds kinds, units and typed values: what may be added to
// what, how a value is read from an author's text, and how it is printed.
package unit
