package publish

import (
	"errors"
	"hash/crc32"
	"io"
	"os"
	"sync"
)

// Spool is a file for what is made piece by piece and wanted once more later.
// Pieces may be added by several goroutines.
type Spool struct {
	mu      sync.Mutex
	file    *os.File
	written int64  // how much is in the file
	waiting []byte // what comes behind it: many small pieces are written at once
}

// mostWaiting is how much of a spool waits to be written, in bytes.
const mostWaiting = 256 << 10

// Stretch is where a piece lies in its spool, with the sum by which it is known
// to be that piece.
type Stretch struct {
	From int64
	Size int
	Sum  uint32
}

// NewSpool returns a spool in an empty file.
func NewSpool(f *os.File) *Spool { return &Spool{file: f} }

// Spool opens a spool beside the manual that is being written. It is no part of
// the manual; what was added can still be had after [Job.Finish], until
// [Job.Discard].
func (j *Job) Spool() (*Spool, error) {
	_ = os.Remove(j.bench.spool) // a press that was killed left it
	f, err := os.OpenFile(j.bench.spool, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, j.bench.refused("the manual could not be written", err)
	}
	_ = os.Remove(j.bench.spool) // most systems let a file without a name be used until it is closed
	j.spool = NewSpool(f)
	return j.spool, nil
}

// close gives the spool up.
func (s *Spool) close() {
	_ = s.file.Close()
	_ = os.Remove(s.file.Name())
}

// Add puts a piece into the spool. That the disk refuses it may be told later, by
// another call.
func (s *Spool) Add(piece []byte) (Stretch, error) {
	sum := Sum(piece)
	s.mu.Lock()
	defer s.mu.Unlock()
	at := Stretch{s.written + int64(len(s.waiting)), len(piece), sum}
	s.waiting = append(s.waiting, piece...)
	if len(s.waiting) < mostWaiting {
		return at, nil
	}
	return at, s.write()
}

// write writes what waits.
func (s *Spool) write() error {
	n, err := s.file.WriteAt(s.waiting, s.written)
	s.written += int64(n)
	s.waiting = s.waiting[:copy(s.waiting, s.waiting[n:])]
	return err
}

// Settle writes all that was added into the file.
func (s *Spool) Settle() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.write()
}

// Get returns a piece that was added.
func (s *Spool) Get(at Stretch) ([]byte, error) {
	s.mu.Lock()
	var err error
	if at.From+int64(at.Size) > s.written {
		err = s.write()
	}
	s.mu.Unlock()
	if err != nil {
		return nil, err
	}
	return at.Read(s.file)
}

// errOtherPiece is what stands where another piece should be.
var errOtherPiece = errors.New("another piece stands there")

// Read returns the piece out of the file of a spool; an error, where it is not
// that piece any more.
func (at Stretch) Read(from io.ReaderAt) ([]byte, error) {
	piece := make([]byte, at.Size)
	if _, err := from.ReadAt(piece, at.From); err != nil {
		return nil, err
	}
	if Sum(piece) != at.Sum {
		return nil, errOtherPiece
	}
	return piece, nil
}

// castagnoli is the table of a sum that processors work themselves.
var castagnoli = sync.OnceValue(func() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) })

// Sum returns a sum by which bytes are known again.
func Sum(data []byte) uint32 { return crc32.Checksum(data, castagnoli()) }
