package publish

import (
	"errors"
	"os"
)

// ways are the calls of the system that differ from one system to another, or
// that a disk may not have.
type ways struct {
	exchange func(a, b string) error                       // two folders change places at one stroke
	rename   func(from, to string) error                   // to must not be there
	lock     func(path string) (release func(), err error) // errTaken when another holds it, errNoLock when nobody can
}

var system = ways{exchange: exchange, rename: os.Rename, lock: lock}

// errNoExchange says that the system has no exchange at all.
var errNoExchange = errors.New("this system cannot exchange two folders")

// lostError says that a step failed and could not be undone.
type lostError struct{ first, second error }

func (l *lostError) Error() string   { return l.first.Error() + "; then " + l.second.Error() }
func (l *lostError) Unwrap() []error { return []error{l.first, l.second} }

// swap puts the new manual in the place of the old one. It returns where what
// is to be cleared away lies, and whether this was done at one stroke.
func (b *bench) swap(was state) (left string, whole bool, err error) {
	if was == absent {
		return b.fresh, true, b.rename(b.fresh, b.into)
	}
	err = b.exchange(b.fresh, b.into)
	if err == nil {
		return b.fresh, true, nil
	}
	if !cannotExchange(err) {
		return "", false, err
	}
	return b.aside, false, b.twoSteps()
}

// twoSteps moves the old manual aside and the new one into its place, and
// undoes the first step if the second fails.
func (b *bench) twoSteps() error {
	if err := b.rename(b.into, b.aside); err != nil {
		return err
	}
	err := b.rename(b.fresh, b.into)
	if err == nil {
		return nil
	}
	if back := b.rename(b.aside, b.into); back != nil {
		return &lostError{first: err, second: back}
	}
	return err
}
