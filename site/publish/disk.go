package publish

import (
	"cmp"
	"os"
	"sync"
)

// disk is the disk under a folder, where the system can bring all of it up to date
// in one call; nil where each file waits for the disk alone.
type disk struct {
	at *os.File // opened before anything is written: by it the system tells of all that failed since

	mu     sync.Mutex
	since  int  // how many bytes were written since the disk was last told to take them
	busy   bool // it is taking some
	taking sync.WaitGroup
	failed error // why it did not
}

func diskOf(dir string) (*disk, error) {
	if !canSyncDisk {
		return nil, nil
	}
	at, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	return &disk{at: at}, nil
}

// muchWritten is after how many bytes the disk is told to begin.
const muchWritten = 24 << 20

// wrote counts bytes that were written. When there are many the disk takes them
// while the next are made, so that little is left in the end.
func (d *disk) wrote(n int) {
	if d == nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.since += n; d.since < muchWritten || d.busy {
		return
	}
	d.since, d.busy = 0, true
	d.taking.Go(func() {
		err := syncDisk(d.at)
		d.mu.Lock()
		defer d.mu.Unlock()
		d.busy, d.failed = false, cmp.Or(d.failed, err)
	})
}

// settle returns when the disk has taken all that was written.
func (d *disk) settle() error {
	d.taking.Wait()
	return cmp.Or(d.failed, syncDisk(d.at))
}

// close lets go of the disk.
func (d *disk) close() {
	if d != nil {
		d.taking.Wait()
		_ = d.at.Close()
	}
}
