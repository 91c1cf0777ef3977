package publish

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// asOthers does something without the powers of the system's keeper, whom no
// folder refuses. Only this thread gives them up, and it ends here.
func asOthers(t *testing.T, do func()) {
	t.Helper()
	done := make(chan error)
	go func() {
		runtime.LockOSThread() // and never unlocked: the thread is thrown away
		head := unix.CapUserHeader{Version: unix.LINUX_CAPABILITY_VERSION_3}
		var none [2]unix.CapUserData
		err := unix.Capset(&head, &none[0])
		if err == nil {
			do()
		}
		done <- err
	}()
	if err := <-done; err != nil {
		t.Fatalf("the powers could not be given up: %v", err)
	}
}

func shut(t *testing.T, dir string) {
	t.Helper()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(dir, 0o755) })
}

// A folder above that nobody may write in: the old manual stays.
func TestFolderAboveIsShut(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shelf")
	into := filepath.Join(dir, "manual")
	mustPublish(t, into, "old", 1)
	shut(t, dir)
	files, stamp := pressed("new", 1)
	asOthers(t, func() {
		_, err := Publish(into, files, stamp)
		want := into + ": stop: nothing may be written beside it: permission denied; what stood there is as it was\n  try: see that you may write there"
		if !errors.Is(err, ErrUnwritten) || !errors.Is(err, os.ErrPermission) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("told:\n%v\nwanted:\n%s", err, want)
		}
		_, err = Publish(filepath.Join(dir, "new", "manual"), files, stamp)
		if !errors.Is(err, ErrUnwritten) || !strings.Contains(err.Error(), "no folder could be made at \""+filepath.Join(dir, "new")+"\": permission denied; no manual was made") {
			t.Errorf("told: %v", err)
		}
	})
	stands(t, into, "old", 1)
	alone(t, dir, "manual")
}

// A part of the old manual that may not be removed: the new one stands, and
// the author hears of what is left. The next press cannot clear it either.
func TestOldManualIsShut(t *testing.T) {
	dir := t.TempDir()
	into := filepath.Join(dir, "manual")
	mustPublish(t, into, "old", 1)
	left := filepath.Join(dir, ".manual.new-bindpost")
	shut(t, filepath.Join(into, "guides"))
	t.Cleanup(func() { os.Chmod(filepath.Join(left, "guides"), 0o755) })
	files, stamp := pressed("new", 1)
	asOthers(t, func() {
		report, err := Publish(into, files, stamp)
		if err != nil || len(report.Says) != 1 || report.Says[0] != "the new manual is in place, but the old one could not be removed and lies at \""+left+"\": permission denied" {
			t.Errorf("report %+v, error %v", report, err)
		}
		_, err = Publish(into, files, stamp)
		if !errors.Is(err, ErrUnwritten) || !strings.Contains(err.Error(), "what stands at \""+left+"\" is in the way and could not be removed: permission denied") {
			t.Errorf("told: %v", err)
		}
	})
	stands(t, into, "new", 1)
	os.Chmod(filepath.Join(left, "guides"), 0o755)
	mustPublish(t, into, "next", 1)
	alone(t, dir, "manual")
}

// Folders that one may not even look into.
func TestCheckOfWhatIsShut(t *testing.T) {
	dir := t.TempDir()
	makeFolders(t, filepath.Join(dir, "dark", "deep"))
	if err := os.Chmod(filepath.Join(dir, "dark"), 0); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(filepath.Join(dir, "dark"), 0o755) })
	asOthers(t, func() {
		for into, want := range map[string]string{
			"dark":             "could not be looked into: permission denied",
			"dark/manual":      "could not be looked at: permission denied",
			"dark/deep/manual": "the folder above it could not be looked at: permission denied",
		} {
			f := Check(filepath.Join(dir, into), "")
			if f == nil || !errors.Is(f, ErrUnwritten) || !strings.Contains(f.Error(), want) {
				t.Errorf("%s: told %v", into, f)
			}
		}
	})
}

// A whole disk cannot be replaced, and its owner is told what to name instead.
func TestWholeDisk(t *testing.T) {
	if !mounted("/proc") || mounted(t.TempDir()) || mounted("/") || mounted("/none/at/all") {
		t.Fatal("disks are not told from folders")
	}
	if Check("/proc", "") == nil {
		t.Fatal("a manual may be made of the system's own tables")
	}
	b, f := newBench(system, "/proc")
	if f != nil {
		t.Fatal(f)
	}
	told := b.refused("nothing may be written beside it", syscall.EACCES).Error()
	if !strings.Contains(told, "try: this is a whole disk, which cannot be replaced; name a folder on it with --into") {
		t.Errorf("told: %s", told)
	}
}
