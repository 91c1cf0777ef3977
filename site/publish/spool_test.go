package publish

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// A piece can be had at once, whether it still waits to be written or not, and is
// in the file when the spool is settled.
func TestSpool(t *testing.T) {
	f, err := os.Create(filepath.Join(t.TempDir(), "spool"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	s := NewSpool(f)
	var pieces [][]byte
	var lie []Stretch
	for i, size := range []int{10, 0, mostWaiting - 20, 100, 3 * mostWaiting, 7} {
		piece := bytes.Repeat([]byte{'a' + byte(i)}, size)
		at, err := s.Add(piece)
		if err != nil {
			t.Fatal(err)
		}
		pieces, lie = append(pieces, piece), append(lie, at)
		if got, err := s.Get(at); err != nil || !bytes.Equal(got, piece) {
			t.Errorf("piece %d cannot be had at once: %v", i, err)
		}
	}
	last, err := s.Add([]byte("the last"))
	if err == nil {
		err = s.Settle()
	}
	if err != nil {
		t.Fatal(err)
	}
	for i, at := range append(lie, last) {
		got, err := at.Read(f)
		if want := append(pieces, []byte("the last"))[i]; err != nil || !bytes.Equal(got, want) {
			t.Errorf("piece %d is not in the file: %v", i, err)
		}
	}
}
