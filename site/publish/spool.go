package publish

import (
	"os"
	"sync"
)

// Spool is a file beside the manual that is being written, for what is made
// piece by piece and wanted once more at the end. Pieces may be added by several
// goroutines. It is no part of the manual, and is gone with its job.
type Spool struct {
	mu   sync.Mutex
	file *os.File
	end  int64
}

// Stretch is where a piece lies in its spool.
type Stretch struct {
	from int64
	size int
}

// Spool opens the spool of the job. What was added can still be had after
// [Job.Finish], until [Job.Discard].
func (j *Job) Spool() (*Spool, error) {
	_ = os.Remove(j.bench.spool) // a press that was killed left it
	f, err := os.OpenFile(j.bench.spool, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, j.bench.refused("the manual could not be written", err)
	}
	_ = os.Remove(j.bench.spool) // most systems let a file without a name be used until it is closed
	j.spool = &Spool{file: f}
	return j.spool, nil
}

// close gives the spool up.
func (s *Spool) close() {
	_ = s.file.Close()
	_ = os.Remove(s.file.Name())
}

// Add puts a piece into the spool.
func (s *Spool) Add(piece []byte) (Stretch, error) {
	s.mu.Lock()
	at := Stretch{s.end, len(piece)}
	s.end += int64(len(piece))
	s.mu.Unlock()
	_, err := s.file.WriteAt(piece, at.from)
	return at, err
}

// Get returns a piece that was added.
func (s *Spool) Get(at Stretch) ([]byte, error) {
	piece := make([]byte, at.size)
	_, err := s.file.ReadAt(piece, at.from)
	return piece, err
}
