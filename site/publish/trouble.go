package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"bindpost/calc/fault"
	"bindpost/site/folder"
)

// about makes a fault about a folder, or a file of the manual, as a whole.
func about(name, format string, args ...any) *fault.Fault {
	if name == "" {
		name = "the manual"
	}
	return fault.At(fault.NewText(folder.Shown(name), "").All(), format, args...)
}

// unwritten gives a fault its cause.
func unwritten(f *fault.Fault, err error) *fault.Fault {
	f.Err = fmt.Errorf("%w: %w", ErrUnwritten, err)
	return f
}

// refused tells that the system would not do something, and that nothing was
// lost by it.
func (b *bench) refused(format string, err error, args ...any) *fault.Fault {
	f := about(b.typed, "%s: %s; %s", fmt.Sprintf(format, args...), reason(err), b.stands())
	unwritten(f, err).Fix("see that you may write there and that the disk is not full; or name another folder with --into")
	if mounted(b.into) {
		f.Fix("this is a whole disk, which cannot be replaced; name a folder on it with --into")
	}
	return f
}

// stands says what a reader finds in the folder now.
func (b *bench) stands() string {
	if _, err := os.Lstat(b.into); errors.Is(err, fs.ErrNotExist) {
		return "no manual was made"
	}
	return "what stood there is as it was"
}

func (b *bench) taken() *fault.Fault {
	f := about(b.typed, "another press is writing into this folder; this one has written nothing")
	f.Fix("wait until the other is done, and press again")
	if _, err := os.Lstat(b.busy); err == nil {
		f.Fix("wait until the other is done, and press again; if no other is at work, delete %q", b.busy)
	}
	return unwritten(f, errTaken)
}

// unswapped tells that the new manual could not be put in place.
func (b *bench) unswapped(err error) *fault.Fault {
	var lost *lostError
	if errors.As(err, &lost) {
		f := about(b.typed, "the new manual could not be put in place: %s; nor could the old one be put back: %s",
			reason(lost.first), reason(lost.second))
		return unwritten(f, err).Fix("rename the folder %q to %q by hand", b.aside, b.into)
	}
	sweep(b.fresh)
	f := b.refused("the system refused to put the new manual in place", err)
	if !mounted(b.into) {
		f.Fix("close every program that shows the old manual, see that you may rename the folder, and press again")
	}
	return f
}

// reason is what the system said, without paths and names of calls.
func reason(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}
