package galley

import (
	"testing"

	"golang.org/x/sys/unix"
)

// Two folders change names at one stroke, as a press changes the old manual for
// the new: each is watched under the name that it has in the end.
func TestExchange(t *testing.T) {
	v := &watched{t: t, root: t.TempDir()}
	v.write("a/in/one.md", "b/in/two.md")
	v = watching(t, v.root)
	for range 10 {
		must(t, unix.Renameat2(unix.AT_FDCWD, v.at("a"), unix.AT_FDCWD, v.at("b"), unix.RENAME_EXCHANGE))
		v.until("a", "b")
		v.everyFolder()
		v.write("a/in/one.md")
		v.only(v.until("a/in/one.md"), "a/in/one.md")
	}
}
