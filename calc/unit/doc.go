// Package unit says what sort of quantity a value is, reads values as people
// type them, and prints them again.
//
// A [Kind] is a vector of dimensions (metre, kilogram, second, ampere,
// kelvin, radian, decibel, octave, bit, money) with a [Scale] for points: a
// temperature, a wire gauge, a level. Amounts of one kind can be added;
// points cannot, but their difference is a step. Kinds are compared before
// any number is worked out, so that ohms are never added to metres.
//
// A [Unit] is what a number is counted in. All units stand in one table, a
// row each; symbols compose as in "ohm/km", "Pa^2 h" or "dB/100 ft". Values
// are kept in base units: those of the SI, and on a scale °C, AWG, dB SPL,
// dBA, dBW, dBV, dBµV/m and dBi.
//
// [Read] and [ReadAs] read a typed value, such as "6 m", "5 ft 6 in",
// "33 1/3 rpm", "2.5 mm²", "1/0 AWG" or "−10 dBV". What is ambiguous is
// refused at its very character, with its mend: a decimal comma, a mark
// between thousands, a symbol in the wrong capitals, a missing unit, a value
// of another kind.
//
// A [Format] prints a value in a unit, to places or figures, rounded to the
// nearest or in one direction. The number is first cut to twelve figures, so
// that the noise of float64 arithmetic never moves a directed rounding, and
// the same text comes out on every processor. Reading what was printed gives
// [Format.Printed], to the bit.
//
// For the formula language, [ScanUnit], [ScanNumber] and [ScanValue] measure
// what stands at the head of a text, and [IsWord] tells which names the units
// have taken.
package unit
