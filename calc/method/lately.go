package method

import "sync/atomic"

// mostKept is how many findings of one kind a method keeps, so that blocks of
// many kinds do not fill the memory.
const mostKept = 24

// lately are the last findings of one kind about a method, the newest first.
// They are read far more often than they change, by all guides at once.
type lately[T any] struct{ kept atomic.Pointer[[]*T] }

func (l *lately[T]) all() []*T {
	if kept := l.kept.Load(); kept != nil {
		return *kept
	}
	return nil
}

// keep puts a finding before the others. Where two are kept at the same moment
// one may be lost, and is found again when it is wanted.
func (l *lately[T]) keep(found *T) {
	old := l.all()
	kept := append([]*T{found}, old[:min(len(old), mostKept-1)]...)
	l.kept.Store(&kept)
}
