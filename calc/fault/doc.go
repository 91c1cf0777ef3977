// Package fault holds the one shape in which anything wrong is told: a named
// text, a place in it, and a fault that quotes the line, points at the place
// with a caret, says what was wanted and what to try.
//
// Faults are gathered in a [List], so that an author hears of everything that
// is wrong at once, in the order of the pages. A fault that would only follow
// from another is not made: the stage that finds a value broken marks the
// value as reported and later stages pass it over in silence.
package fault
