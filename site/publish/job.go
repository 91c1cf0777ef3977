package publish

import (
	"io"
	"os"
	"path"
	"path/filepath"
	"sync"

	"bindpost/calc/fault"
	"bindpost/site/folder"
)

// Job is a manual that is written as its files are made. They may come from
// several goroutines. Until [Job.Finish] nothing of it is to be seen in the
// manual's folder, and what stood there stays as it was; a job that is not
// finished must be given up with [Job.Discard].
type Job struct {
	bench   *bench
	tray    *tray
	spool   *Spool // nil where none is wanted
	release func() // nil once it is finished or given up

	mu      sync.Mutex
	files   map[string]string // the path of each file, by [folder.SameName]
	folders map[string]string // likewise of each folder that holds one
}

// Begin makes ready to write a manual into a folder, in place of the one that
// stands there. Errors are as those of [Publish].
func Begin(into string, stamp Stamp) (*Job, error) {
	j, f := begin(system, into, stamp.text())
	if f != nil {
		return nil, f
	}
	return j, nil
}

func begin(w ways, into, stamp string) (*Job, *fault.Fault) {
	b, f := newBench(w, into)
	if f != nil {
		return nil, f
	}
	j := &Job{bench: b, files: map[string]string{folder.SameName(folder.StampName): ""}, folders: map[string]string{}}
	if j.release, f = b.open(); f != nil {
		return nil, f
	}
	var err error
	if j.tray, err = newTray(b.fresh, stamp); err != nil {
		j.Discard()
		return nil, b.refused("the manual could not be written", err)
	}
	return j, nil
}

// Put writes a file of the manual. One that was put there before under the same
// path gives way to it; a path that would leave the folder, or fall upon that of
// another file or folder, is refused.
func (j *Job) Put(f File) error {
	if bad := j.take(f.Path); bad != nil {
		return bad
	}
	if err := j.tray.put(f); err != nil {
		return j.bench.refused("the manual could not be written", err)
	}
	return nil
}

// take notes the path of a file, or refuses it.
func (j *Job) take(p string) *fault.Fault {
	if f := checkPath(p); f != nil {
		return f
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	key := folder.SameName(p)
	if other, is := j.files[key]; is && other != p {
		return fallsUpon(p, other)
	}
	if _, is := j.folders[key]; is {
		return about(p, "is to be a file, and falls upon a folder of the manual")
	}
	for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
		key := folder.SameName(dir)
		if other, is := j.folders[key]; is && other != dir {
			return liesIn(p, dir, other)
		}
		if other, is := j.files[key]; is {
			return onFile(dir, other)
		}
		j.folders[key] = dir
	}
	j.files[key] = p
	return nil
}

// Finish puts the manual in the place of the old one, when the disk has taken
// all of it.
func (j *Job) Finish() (Report, error) {
	report := Report{Into: j.bench.into, Files: len(j.files) - 1}
	f := j.bench.put(j.tray, &report)
	j.release()
	j.release = nil
	if f != nil {
		return Report{}, f
	}
	return report, nil
}

// Create begins a file of the manual that is written piece by piece. It is to be
// closed before the job is finished.
func (j *Job) Create(path string) (io.WriteCloser, error) {
	if bad := j.take(path); bad != nil {
		return nil, bad
	}
	f, err := j.tray.create(path)
	if err != nil {
		return nil, j.bench.refused("the manual could not be written", err)
	}
	return f, nil
}

// Hasten lets the disk begin to take what was put, while more is made.
func (j *Job) Hasten() { j.tray.disk.wrote(muchWritten) }

// Standing returns a file of the manual that stands in the folder now.
func (j *Job) Standing(path string) ([]byte, error) {
	return os.ReadFile(filepath.Join(j.bench.into, filepath.FromSlash(path)))
}

// Discard gives up a job that is not finished, and the spool of any. What it
// wrote is removed.
func (j *Job) Discard() {
	if j.spool != nil {
		j.spool.close()
		j.spool = nil
	}
	if j.release == nil {
		return
	}
	if j.tray != nil {
		j.tray.close()
	}
	_ = sweep(j.bench.fresh) // the next press tries again
	j.release()
	j.release = nil
}
