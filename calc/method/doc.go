// Package method says what a method of the trade is, reads methods from
// their files, and runs them: at one point, along one or two values, and
// step by step for a worked line.
//
// A method file is YAML (see package record) whose working is formula text
// (see package formula). Reading one goes in three passes: every file is read
// for what it takes and gives; then the methods are linked, so that each
// knows which inputs it passes through to the methods it borrows from; then
// every formula is checked for names and kinds. No number is computed before
// all of it is sound.
//
// Running is lazy: a result works only the steps it rests on, so that a step
// that fails takes no other result with it. An input that nobody knows makes
// the results that rest on it "cannot tell", never a number.
package method
