// Command bindpost turns a folder of Markdown guides about home two-channel
// stereo, with calculation blocks in them, into an offline manual of plain
// pages in which every figure is computed.
package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"time"
)

func main() {
	code := run(os.Args[1:], desk{
		out: os.Stdout, err: os.Stderr, talkative: isTerminal(os.Stdout), now: time.Now,
	})
	if len(os.Args) == 1 && ownsWindow() {
		linger(os.Stdin, os.Stdout)
	}
	os.Exit(code)
}

// linger keeps a window open that would close with the program.
func linger(in io.Reader, out io.Writer) {
	fmt.Fprint(out, "\nPress the Enter key to close this window.")
	bufio.NewReader(in).ReadString('\n')
}

// isTerminal reports whether somebody is likely to be looking on.
func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
