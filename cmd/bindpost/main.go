// Command bindpost turns a folder of Markdown guides about home two-channel
// stereo, with calculation blocks in them, into an offline manual of plain
// pages in which every figure is computed.
package main

import (
	"os"
)

func main() {
	os.Exit(run(os.Args[1:], desk{
		out: os.Stdout, err: os.Stderr, talkative: isTerminal(os.Stdout),
	}))
}

// isTerminal reports whether somebody is likely to be looking on.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
