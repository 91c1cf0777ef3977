package galley

import "sync"

// listeners are those who want to hear of each press. The zero value has none,
// and is ready.
type listeners struct {
	lock sync.Mutex
	all  map[chan struct{}]bool
}

// join returns a channel on which is told that something is new, and how to leave
// again. Whoever is slow is told once of all that happened meanwhile.
func (l *listeners) join() (heard <-chan struct{}, leave func()) {
	c := make(chan struct{}, 1)
	l.lock.Lock()
	defer l.lock.Unlock()
	if l.all == nil {
		l.all = map[chan struct{}]bool{}
	}
	l.all[c] = true
	return c, func() {
		l.lock.Lock()
		defer l.lock.Unlock()
		delete(l.all, c)
	}
}

// tell tells all of them, and waits for none.
func (l *listeners) tell() {
	l.lock.Lock()
	defer l.lock.Unlock()
	for c := range l.all {
		select {
		case c <- struct{}{}:
		default: // it has yet to hear of the press before, and will see this one
		}
	}
}
