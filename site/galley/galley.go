package galley

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"net"
	"sync/atomic"

	"bindpost/calc/fault"
	"bindpost/site/press"
)

// Galley is a live proof of one copy.
type Galley struct {
	order    press.Order
	make     maker
	watch    *watcher // nil where the copy came with the program and cannot change
	listener net.Listener
	pages    *template.Template
	tell     func(Pressing)

	proof     atomic.Pointer[proof]
	listeners listeners
	closing   chan struct{} // closed when the galley begins to close
}

// Pressing is what one press of a galley came to.
type Pressing struct {
	Number  int // from 1
	Changes Changes
	Faults  *fault.List
	Fresh   bool // its pages are shown; else those of the last good press
	Shown   bool // there are pages to show
}

// Open presses a copy for the first time and takes a port that the system gives.
// Nobody is answered before [Galley.Run]. Tell is called after each press, the
// first one too, from one goroutine at a time. The error is for what the system
// would not do; faults of the guides are told.
func Open(o press.Order, tell func(Pressing)) (*Galley, error) {
	return open(o, incremental(o), tell)
}

func open(o press.Order, presses maker, tell func(Pressing)) (*Galley, error) {
	pages, err := template.ParseFS(o.Templates, "slip.html")
	if err != nil {
		return nil, fmt.Errorf("reading the page templates: %w", err)
	}
	g := &Galley{order: o, make: presses, pages: pages, tell: tell, closing: make(chan struct{})}
	g.proof.Store(&proof{})
	if g.listener, err = net.Listen("tcp4", "127.0.0.1:0"); err != nil {
		return nil, fmt.Errorf("the system gives no port on this machine to show the pages at: %w", err)
	}
	if o.Root == "" {
		g.press(Changes{Whole: true})
		return g, nil
	}
	if g.watch, err = watch(o.Root); err != nil {
		g.listener.Close()
		return nil, err
	}
	g.watch.heap = heap{} // all that was found is in the first press
	g.press(Changes{Whole: true})
	return g, nil
}

// Address returns where the pages are shown, for a browser on this machine.
func (g *Galley) Address() string { return "http://" + g.listener.Addr().String() + "/" }

// Run shows the pages and presses again after each burst of changes, until it is
// told to end. Then it tells every open page, and leaves nothing running.
func (g *Galley) Run(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	parts := []func(context.Context) error{g.serve}
	var changed <-chan Changes
	if g.watch != nil {
		parts, changed = append(parts, g.watch.run), g.watch.out
	}
	ended := make(chan error, len(parts))
	for _, part := range parts {
		go func() { ended <- part(ctx) }()
	}
	var first error
	for left := len(parts); left > 0; {
		select {
		case c := <-changed:
			g.press(c)
		case err := <-ended:
			left--
			first = errors.Join(first, err)
			cancel() // one part alone is of no use
		}
	}
	return first
}

// press makes one press and shows what it came to.
func (g *Galley) press(c Changes) {
	m := g.make(c)
	next := g.proof.Load().after(m, c.writing(g.order.Copy), g.order.Copy)
	g.proof.Store(next)
	g.listeners.tell()
	g.tell(Pressing{Number: next.number, Changes: c, Faults: m.faults, Fresh: !next.stale(), Shown: next.sheets != nil})
}
