//go:build !windows

package main

// ownsWindow reports whether the terminal window was opened for this program
// alone. Elsewhere than on Windows a terminal does not close with what ran in
// it, or none is opened.
func ownsWindow() bool { return false }
