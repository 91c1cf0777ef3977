package publish

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

const tracer = "strace" // the Debian package of that name

// traced are the calls that name a file, and those that do something with an
// open one. What is left out (fcntl, epoll) has nothing to do with a disk.
const traced = "trace=%file,read,write,pread64,pwrite64,writev,close,fsync,fdatasync,sync,syncfs,ftruncate,fallocate,fchmod,fchown,flock,getdents64,copy_file_range,sendfile,splice"

// killCase is a state of the disk in which a publish begins.
type killCase struct {
	name    string
	steps   bool // the disk has no exchange
	absent  bool // there is no old manual
	half    bool // a killed press has left its half
	changes bool // kill only at calls that change the disk: the others were met in the first case
}

var killCases = []killCase{
	{name: "over an old manual"},
	{name: "first publish", absent: true, changes: true},
	{name: "over what a killed press left", half: true, changes: true},
	{name: "on a disk with no exchange", steps: true, changes: true},
}

const fewPages = 1

// lay makes the state in a new folder, and returns where the manual is to be.
func (c killCase) lay(t *testing.T) (into string) {
	t.Helper()
	into = filepath.Join(quickDir(t), "manual")
	if !c.absent {
		mustPublish(t, into, "old", fewPages)
	}
	if c.half {
		leaveHalf(t, into)
	}
	return into
}

// quickDir is a folder on a disk in memory, if there is one: what a killed
// process leaves is the same there, and nothing waits for a real disk.
func quickDir(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "publish-test-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// leaveHalf leaves what a press leaves that is killed while it writes.
func leaveHalf(t *testing.T, into string) {
	t.Helper()
	b, _ := newBench(system, into)
	files, stamp := pressed("half", fewPages)
	s, _ := collate(files, stamp)
	if _, err := s.write(b.fresh); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(b.lock, nil, 0o644); err != nil {
		t.Fatal(err)
	}
}

// A publish is killed at each of its calls of the system in turn, before the
// system does what is asked: so the disk is seen as it is after every call.
func TestKilledAtEachCall(t *testing.T) {
	for _, c := range killCases {
		t.Run(c.name, func(t *testing.T) {
			calls := c.record(t)
			var kills, gaps atomic.Int32
			t.Run("killed at", func(t *testing.T) {
				for n, one := range calls {
					if c.changes && !one.changes {
						continue
					}
					t.Run(fmt.Sprintf("%03d %s", n+1, one.name), func(t *testing.T) {
						t.Parallel()
						kills.Add(1)
						if c.killAt(t, calls[:n+1]) {
							gaps.Add(1)
						}
					})
				}
			})
			t.Logf("killed at %d of %d calls; no manual stood after %d of them", kills.Load(), len(calls), gaps.Load())
			if kills.Load() < 19 {
				t.Errorf("a publish cannot do with %d calls", kills.Load())
			}
			// On a disk with no exchange there must be a moment without a manual.
			// Were none found, this test could not find one where none may be.
			if c.steps && gaps.Load() == 0 {
				t.Error("no moment without a manual was found, though there must be one")
			}
		})
	}
}

// call is one call of the system: which, and the how many-eth of its kind
// since the process began.
type call struct {
	name    string
	nth     int
	changes bool // it may change the disk
}

// record has a publish run to its end and returns the calls it made.
func (c killCase) record(t *testing.T) []call {
	t.Helper()
	into := c.lay(t)
	lines, err := c.trace(t, into, "-f", "-e", traced)
	if err != nil {
		t.Fatalf("the publish failed: %v", err)
	}
	stands(t, into, "new", fewPages)
	alone(t, filepath.Dir(into), "manual")
	// All threads were followed, each line headed by its number: only the
	// first may do the work, for it is the only one that will be killed.
	first, _, _ := strings.Cut(lines[0], " ")
	var own []string
	for _, line := range lines {
		thread, rest, _ := strings.Cut(line, " ")
		if rest = strings.TrimSpace(rest); thread == first {
			own = append(own, rest)
		} else if strings.Contains(rest, filepath.Dir(into)) {
			t.Fatalf("another thread works on the manual: %s", line)
		}
	}
	calls := sinceMark(own)
	return calls
}

// sinceMark counts the calls of a trace, and returns those from the mark of
// the beginning up to the mark of the end or to the end of the trace.
func sinceMark(lines []string) (calls []call) {
	begun := false
	seen := map[string]int{}
	for _, line := range lines {
		name, rest, ok := strings.Cut(line, "(")
		if !ok || strings.ContainsAny(name, " <+-") {
			continue
		}
		seen[name]++
		switch {
		case strings.Contains(rest, markBegin):
			begun = true
		case strings.Contains(rest, markEnd):
			return calls
		case begun:
			calls = append(calls, call{name, seen[name], changes(name, rest)})
		}
	}
	return calls
}

// changes tells calls that only look from all others.
func changes(name, args string) bool {
	switch name {
	case "newfstatat", "fstat", "statx", "read", "pread64", "close", "getdents64", "readlinkat", "faccessat2":
		return false
	case "openat":
		return strings.Contains(args, "O_CREAT") || strings.Contains(args, "O_TRUNC")
	}
	return true
}

// trace runs a publish under the tracer and returns what it noted.
func (c killCase) trace(t *testing.T, into string, args ...string) ([]string, error) {
	t.Helper()
	notes := filepath.Join(t.TempDir(), "trace")
	args = append(args, "-o", notes, os.Args[0])
	cmd := exec.Command(tracer, args...)
	cmd.Env = append(os.Environ(), child{into: into, text: "new", pages: fewPages, steps: c.steps}.env(),
		"GODEBUG=asyncpreemptoff=1", "GOGC=off", "GORACE=atexit_sleep_ms=0") // a publish makes the same calls each time
	out, err := cmd.CombinedOutput()
	noted, readErr := os.ReadFile(notes)
	if readErr != nil {
		t.Fatalf("this test needs the program %s, and leave to trace its own children: %v\n%s", tracer, err, out)
	}
	if err != nil {
		err = fmt.Errorf("%w\n%s", err, out)
	}
	return strings.Split(strings.TrimSpace(string(noted)), "\n"), err
}

// All is on the disk before the swap, and the swap before the old is removed:
// a power cut spares what a kill spares.
func TestOnTheDiskBeforeTheSwap(t *testing.T) {
	c := killCases[0]
	files, stamp := pressed("new", fewPages)
	sheets, f := collate(files, stamp)
	if f != nil {
		t.Fatal(f)
	}
	var order []string
	for _, one := range c.record(t) {
		switch one.name {
		case "write", "fsync", "syncfs", "renameat2", "unlinkat":
			order = append(order, one.name)
		}
	}
	swap := slices.Index(order, "renameat2")
	if swap < 0 {
		t.Fatalf("no exchange in %v", order)
	}
	// The stamp and its folder first, then all files, then the whole disk at once.
	if got := strings.Join(order[:4], " "); got != "write fsync fsync write" {
		t.Errorf("it begins with %s", got)
	}
	written := 0
	for _, name := range order[4:swap] {
		if name == "write" {
			written++
		}
	}
	if order[swap-1] != "syncfs" || written != len(sheets.files)-1 {
		t.Errorf("%d of %d files were written before the swap: %v", written+1, len(sheets.files), order)
	}
	if rest := order[swap:]; rest[1] != "fsync" || slices.Contains(rest, "write") {
		t.Errorf("after the swap: %v", rest)
	}
}

// killAt kills a publish at the last of some calls, sees that the old or the
// new manual stands, and that the next publish sets all right. It reports
// whether there was no manual where there had been one.
func (c killCase) killAt(t *testing.T, calls []call) (gap bool) {
	t.Helper()
	into := c.killed(t, calls)
	got, err := tree(into)
	if err != nil {
		t.Fatal(err)
	}
	fromOld, fromNew := differs(got, wantTree("old", fewPages)), differs(got, wantTree("new", fewPages))
	switch {
	case fromNew == "" || fromOld == "" && !c.absent:
	case got == nil && c.absent:
	case got == nil && c.steps:
		b, _ := newBench(system, into)
		stands(t, b.aside, "old", fewPages)
		gap = true
	default:
		t.Errorf("neither manual stands whole; from the old: %s; from the new: %s", fromOld, fromNew)
	}
	mustPublish(t, into, "next", fewPages)
	stands(t, into, "next", fewPages)
	alone(t, filepath.Dir(into), "manual")
	return gap
}

// killed kills a publish at the last of some calls, and returns where the
// manual was to be. Before it comes to its own work, the language's runtime
// now and then makes a call more or less and shifts the count; then the
// publish is killed elsewhere, and is tried again on a new disk.
func (c killCase) killed(t *testing.T, calls []call) (into string) {
	t.Helper()
	const tries = 20
	last := calls[len(calls)-1]
	inject := fmt.Sprintf("inject=%s:signal=KILL:when=%d", last.name, last.nth)
	var lines []string
	var err error
	for range tries {
		into = c.lay(t)
		lines, err = c.trace(t, into, "-e", traced, "-e", inject)
		if made := sinceMark(lines); killed(err) && slices.Equal(made, calls) {
			return into
		}
	}
	t.Fatalf("was not killed at the call it was to be killed at: %v\n%s", err, strings.Join(lines, "\n"))
	return ""
}

// killed reports whether a command, or what the tracer ran, was killed.
func killed(err error) bool {
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		return false
	}
	status, ok := exit.Sys().(syscall.WaitStatus)
	return ok && status.Signaled() && status.Signal() == syscall.SIGKILL
}

// A publish is killed a hundred times, at moments drawn by lot.
func TestKilledAtRandom(t *testing.T) {
	const pages, times = 8, 100
	into := filepath.Join(t.TempDir(), "manual")
	mustPublish(t, into, "old", pages)
	publishNew := child{into: into, text: "new", pages: pages, wait: true}
	usual := usualTime(t, publishNew)
	mustPublish(t, into, "old", pages)
	lot := rand.New(rand.NewPCG(1, 2))
	midway, news := 0, 0
	// The machine is now faster and now slower than it was at first: the reach
	// of the lot follows, so that most are killed midway and some at the end.
	reach := 1.2 * float64(usual)
	for range times {
		after := time.Duration(lot.Float64() * reach)
		if killAfter(t, after, publishNew) {
			midway++
			reach *= 1.02
		} else {
			reach *= 0.9
		}
		got, err := tree(into)
		if err != nil {
			t.Fatal(err)
		}
		fromOld, fromNew := differs(got, wantTree("old", pages)), differs(got, wantTree("new", pages))
		if fromOld != "" && fromNew != "" {
			t.Fatalf("killed after %v, neither manual stands whole; from the old: %s; from the new: %s", after, fromOld, fromNew)
		}
		if fromNew == "" {
			news++
		}
		mustPublish(t, into, "old", pages)
		stands(t, into, "old", pages)
		alone(t, filepath.Dir(into), "manual")
	}
	t.Logf("of %d, %d were killed before their end; %d left the new manual; one takes %v", times, midway, news, usual)
	if midway < times/4 {
		t.Errorf("only %d of %d were killed before their end", midway, times)
	}
}

// usualTime is how long a publish takes a child here, the middle of five.
func usualTime(t *testing.T, c child) time.Duration {
	t.Helper()
	var took []time.Duration
	for range 5 {
		cmd, out := beginChild(t, c)
		begin := time.Now()
		io.Copy(io.Discard, out)
		took = append(took, time.Since(begin))
		if err := cmd.Wait(); err != nil {
			t.Fatalf("the child failed: %v", err)
		}
	}
	slices.Sort(took)
	return took[2]
}

// killAfter kills a child some time after it has begun to publish, and reports
// whether that came before its end.
func killAfter(t *testing.T, after time.Duration, c child) bool {
	t.Helper()
	cmd, out := beginChild(t, c)
	time.Sleep(after)
	cmd.Process.Kill()
	io.Copy(io.Discard, out)
	err := cmd.Wait()
	if err != nil && !killed(err) {
		t.Fatalf("the child failed: %v", err)
	}
	return err != nil
}

// beginChild starts a child and returns when it is about to publish.
func beginChild(t *testing.T, c child) (*exec.Cmd, io.Reader) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), c.env(), "GORACE=atexit_sleep_ms=0")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	rest := bufio.NewReader(out)
	if line, err := rest.ReadString('\n'); line != "ready\n" {
		t.Fatalf("the child said %q, %v", line, err)
	}
	return cmd, rest
}
