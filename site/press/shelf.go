package press

import (
	"maps"
	"slices"
	"sync"

	"bindpost/site/bind"
	"bindpost/site/render"
)

// shelf holds what was set of guides. What the pages of the book need of each is
// small, and is held of all; pages of guides are large, and are held of those
// that were asked for last.
type shelf struct {
	mu     sync.Mutex
	sets   map[string]*shelved      // by the guide's file
	recent []string                 // files whose pages are held, the last asked for at the end
	whole  map[string]*bind.Outline // guides that were made last, whole, by file
	latest []string                 // their files, the last made at the end

	most, mostWhole int // how many pages of guides and how many whole guides are held; 0 for all
}

// shelved is what was set of a guide under the key of its leaf.
type shelved struct {
	key string
	set *render.Set // without its pages where these are not held
}

// How many guides are held with their pages, and how many whole. Somebody who
// writes turns to few guides.
const (
	mostPages = 128
	mostWhole = 32
)

func newShelf() *shelf {
	return &shelf{sets: map[string]*shelved{}, whole: map[string]*bind.Outline{}, most: mostPages, mostWhole: mostWhole}
}

// hold keeps a whole guide for a while: its pages are likely to be asked for.
func (s *shelf) hold(o *bind.Outline) {
	s.mu.Lock()
	defer s.mu.Unlock()
	file := o.Guide.File
	if s.whole[file] != nil {
		s.latest = slices.DeleteFunc(s.latest, func(f string) bool { return f == file })
	}
	s.whole[file], s.latest = o, append(s.latest, file)
	for s.mostWhole > 0 && len(s.latest) > s.mostWhole {
		delete(s.whole, s.latest[0])
		s.latest = s.latest[1:]
	}
}

// held returns a guide whole, if it is held; nil where it is not.
func (s *shelf) held(file, hash string) *bind.Outline {
	s.mu.Lock()
	defer s.mu.Unlock()
	if o := s.whole[file]; o != nil && o.Guide.Hash == hash {
		return o
	}
	return nil
}

// get returns what was set of a guide under a key, and nil where that is not
// held; paged asks for its pages too.
func (s *shelf) get(file, key string, paged bool) *render.Set {
	s.mu.Lock()
	defer s.mu.Unlock()
	held := s.sets[file]
	if held == nil || held.key != key || paged && held.set.Page.Body == nil {
		return nil
	}
	if paged {
		s.asked(file)
	}
	return held.set
}

// put holds what was set of a guide, with its pages.
func (s *shelf) put(file, key string, set *render.Set) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.sets[file] = &shelved{key, set}
	if set.Page.Body != nil {
		s.asked(file)
	}
}

// asked notes that the pages of a guide were asked for, and lets go of those
// that were not for longest.
func (s *shelf) asked(file string) {
	if s.most == 0 {
		return
	}
	s.recent = append(slices.DeleteFunc(s.recent, func(f string) bool { return f == file }), file)
	for len(s.recent) > s.most {
		if gone := s.sets[s.recent[0]]; gone != nil {
			gone.set = gone.set.Unpaged()
		}
		s.recent = s.recent[1:]
	}
}

// only lets go of all but the guides of a book.
func (s *shelf) only(b *bind.Book) {
	s.mu.Lock()
	defer s.mu.Unlock()
	there := map[string]bool{}
	for _, l := range b.Leaves {
		there[l.Guide.File] = true
	}
	for file := range s.sets {
		if !there[file] {
			delete(s.sets, file)
		}
	}
	gone := func(file string) bool { return !there[file] }
	s.recent = slices.DeleteFunc(s.recent, gone)
	s.latest = slices.DeleteFunc(s.latest, gone)
	maps.DeleteFunc(s.whole, func(file string, _ *bind.Outline) bool { return gone(file) })
}
