//go:build !race

package trade

// raced: without the race detector the long runs are whole.
const raced = false
