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
	mu   sync.Mutex
	file *os.File
	end  int64
}

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

// Add puts a piece into the spool.
func (s *Spool) Add(piece []byte) (Stretch, error) {
	s.mu.Lock()
	at := Stretch{s.end, len(piece), Sum(piece)}
	s.end += int64(len(piece))
	s.mu.Unlock()
	_, err := s.file.WriteAt(piece, at.From)
	return at, err
}

// Get returns a piece that was added.
func (s *Spool) Get(at Stretch) ([]byte, error) { return at.Read(s.file) }

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
