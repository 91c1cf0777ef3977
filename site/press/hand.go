package press

import (
	"sync"

	"bindpost/site/publish"
	"bindpost/site/render"
)

// hand writes the pages of guides beside those who make them: writing waits for
// the disk, and who makes pages shall not.
type hand struct {
	job  *publish.Job
	sets chan *render.Set
	note func(error) // is told each error
	done sync.WaitGroup
}

// mostSets is how many guides wait for the hand before those who make them wait
// too.
const mostSets = 8

func newHand(job *publish.Job, note func(error)) *hand {
	h := &hand{job: job, sets: make(chan *render.Set, mostSets), note: note}
	h.done.Go(h.work)
	return h
}

// write takes the pages of a guide, which are let go of when they are written.
func (h *hand) write(s *render.Set) { h.sets <- s }

// rest returns when all pages that were taken are written. It takes no more.
func (h *hand) rest() {
	close(h.sets)
	h.done.Wait()
}

func (h *hand) work() {
	for s := range h.sets {
		h.put(&s.Page)
		h.put(s.Workings)
		s.LetGo()
	}
}

// put writes a page; none where it is nil.
func (h *hand) put(page *render.Page) {
	if page != nil {
		h.note(h.job.Put(publish.File{Path: page.Path, Data: page.HTML()}))
	}
}
