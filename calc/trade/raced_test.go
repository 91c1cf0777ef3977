//go:build race

package trade

// raced: the race detector makes the long runs ten times longer, so under it
// they are shorter; `.ci/test` runs them whole without it.
const raced = true
