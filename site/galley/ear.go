package galley

import (
	"sync"

	"github.com/fsnotify/fsnotify"
)

// ear takes in what the system tells of folders as soon as it is told, and holds
// it until somebody asks. The system's own watcher waits for its teller while it
// is locked: whoever hears of a folder and at once wants to watch another would
// wait for it, and it for him.
type ear struct {
	signal chan struct{} // something is held

	mu     sync.Mutex
	events []fsnotify.Event
	lost   bool // events were lost, or what is told cannot be trusted any more
}

// listen hears a watcher until that is closed.
func listen(system *fsnotify.Watcher) *ear {
	e := &ear{signal: make(chan struct{}, 1)}
	go e.hear(system.Events, system.Errors)
	return e
}

func (e *ear) hear(events <-chan fsnotify.Event, errors <-chan error) {
	for events != nil || errors != nil {
		select {
		case event, open := <-events:
			if !open {
				events = nil
				continue
			}
			e.hold(func() { e.events = append(e.events, event) })
		case _, open := <-errors:
			if !open {
				errors = nil
				continue
			}
			e.hold(func() { e.lost = true })
		}
	}
}

// hold takes something in, and gives the signal.
func (e *ear) hold(take func()) {
	e.mu.Lock()
	take()
	e.mu.Unlock()
	select {
	case e.signal <- struct{}{}:
	default: // it was given, and nobody came yet
	}
}

// held returns what was told since it was asked last.
func (e *ear) held() (events []fsnotify.Event, lost bool) {
	e.mu.Lock()
	defer e.mu.Unlock()
	events, lost = e.events, e.lost
	e.events, e.lost = nil, false
	return events, lost
}
