package publish

import (
	"fmt"
	"strings"

	"bindpost/site/folder"
)

// Stamp is what a manual says of itself in the file that marks it as one. It
// holds no time of day, so that the same copy gives the same bytes.
type Stamp struct {
	Title   string // of the manual
	Program string // name and version of what made it
}

// stampFormat goes up when the lines of a stamp change their meaning.
const stampFormat = 1

// text returns the stamp as a file. What it says first is how every later
// press knows the folder, see [folder.StampHead].
func (s Stamp) text() string {
	return fmt.Sprintf("%s; the next press replaces all that is in it.\nformat: %d\ntitle: %s\nprogram: %s\n",
		folder.StampHead, stampFormat, oneLine(s.Title), oneLine(s.Program))
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
