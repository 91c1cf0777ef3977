// Package formula is the language in which the rules of the trade are written:
// text is read to a tree, checked for names and kinds before any number
// exists, and worked in float64 with nothing rounded on the way. The same tree
// is written as plain text, as MathML and as a script, and worked over ranges.
//
// # From text to value
//
// [ParseStep], [ParseBody] and [ParseCond] read a stretch of an author's text
// to a tree; every piece of it knows the bytes it came from. [Check] settles
// what the names stand for and that the kinds fit, and returns a [Formula].
// [Formula.Eval] works it with the values that an [Env] answers for, in base
// units; [Formula.Answer] and [Formula.Truth] answer a condition.
//
// Whatever an author may write ends in a fault and never in a panic. Hostile
// text does too, within milliseconds: at most 4 KB are read, nested at most 64
// deep, and a formula has at most 2,000 pieces with its own functions written
// out.
//
// # Grammar
//
//	step    = name [ "(" name {"," name} ")" ] "=" body  [ "[" reference {"," reference} "]" ]
//	        | name "=" result "of" method [ "with" input "=" (expr | choice) {"," ...} ] .
//	body    = { outcome "when" cond "," } [ "else" ] outcome .
//	outcome = expr | "none" text | "unknown" text .
//	cond    = conj {"or" conj} .      conj = test {"and" test} .
//	test    = "not" test | name "is" ("given" | choice | value) | expr rel (expr | value) .
//	rel     = "<" | "<=" | "=" | ">=" | ">" | "at most" | "at least" | "below" | "above" .
//	expr    = term {("+"|"-") term} .  term = signed {("*"|"/") signed} .
//	signed  = "-" signed | power .     power = primary ["^" signed] .
//	primary = number [unit] | name | name "(" (expr | cond) {"," ...} ")" | "(" expr ")" .
//
// A name is a letter, then letters, digits and _. A unit or a word of the
// language names nothing ([ReservedName] says what else may not name an input
// or a result), so that 1 m/s can only be a speed. Methods, references and the
// words of a choice may also hold "-". There is no implied product.
//
// A unit stands only straight behind its number, and takes all unit symbols it
// can: 2 m^2 is two square metres, (2 m)^2 four. 1/2 m can be read in two ways
// and is refused; so is max(1,5), which max(1, 5) is not. A minus before a reading on a scale belongs to it: -10 dBV.
// A power binds closest and to the right, closer than a minus: -2^2 is -4 and
// 2^3^2 is 512. × · − ≤ ≥ ² ³ µ Ω are read for * * - <= >= ^2 ^3 u ohm.
//
// A typed value (5 ft 6 in, 33 1/3 rpm, 1/0 AWG) stands only in conditions of
// a block, which [ParseCond] reads. After a "when" the last case must be
// "else". Conditions hold no brackets: "not" binds closest, then "and".
//
// # Kinds
//
// A kind is a dimension and, for a point, its scale ([unit.Kind]); a [Type]
// adds the words of a choice, and the list that a value is one member of.
//
//   - amounts are added when they are of one kind; a point takes and gives its
//     step; two points of one scale have a step between them, and no sum
//   - amounts are multiplied and divided; no point is, and no decibels are by
//     decibels
//   - an exponent is a plain number; of what has a unit it is a constant,
//     whole or half
//   - log10 log2 ln exp sinc round roundup rounddown take a plain number; sin
//     cos tan an angle; asin acos atan give one; sqrt halves a kind; abs and
//     a minus take no point
//   - min, max, comparisons and the cases of one step are of one kind; none
//     and unknown fit any
//   - what is worked with a member of a list is one for each member; two lists
//     do not meet; sum, count, min and max make one value of a list
//   - 10 dB go with powers and energies, 20 dB with voltages, currents and
//     pressures; a point that is written as a number is joined only by the
//     quantity and the reference of its own scale
//
// # Values
//
// A [Value] is known, none (there is no such value, and why), unknown (a fact
// is missing, and which) or failed (a fault at the piece that could not be
// worked). Failed goes before unknown, unknown before none. Conditions have
// three values: a case is chosen only if all before it are surely false, so
// that a missing fact never makes anything fit. What stands in for a missing
// fact after "x is given" carries x along in [Value.Assumed].
//
// Two values within one part in 10⁹ of the larger are equal in a comparison.
// x^2 is worked as x*x. Nothing comes out as -0.
//
// # Limits of the check
//
// Kinds do not tell a frequency from a speed of turning, or a percentage from
// a ratio: both pairs have one kind. Bounds and sense words of a method catch
// what they can of these.
package formula
