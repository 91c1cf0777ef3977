package main

import (
	"bufio"
	"bytes"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"bindpost/content"
)

// running is a galley that was started as its user starts it.
type running struct {
	t       *testing.T
	program *exec.Cmd
	address string
	err     bytes.Buffer
	said    <-chan string // what it prints after the address
}

// startGalley starts the built program and reads where its pages are.
func startGalley(t *testing.T, program string, args ...string) *running {
	t.Helper()
	g := &running{t: t, program: exec.Command(program, append([]string{"galley"}, args...)...)}
	g.program.Dir, g.program.Stderr = t.TempDir(), &g.err
	out, err := g.program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := g.program.Start(); err != nil {
		t.Fatal(err)
	}
	end := time.AfterFunc(2*time.Minute, func() { g.program.Process.Kill() }) // a guard
	t.Cleanup(func() {
		end.Stop()
		g.program.Process.Kill()
	})
	in := bufio.NewReader(out)
	line, err := in.ReadString('\n')
	if err != nil {
		t.Fatalf("it printed no address: %v\n%s", err, g.err.String())
	}
	g.address = strings.TrimSpace(line)
	said := make(chan string, 1)
	go func() {
		rest, _ := io.ReadAll(in)
		said <- string(rest)
	}()
	g.said = said
	return g
}

func (g *running) get(path string) string {
	g.t.Helper()
	a, err := http.Get(g.address + path)
	if err != nil {
		g.t.Fatal(err)
	}
	defer a.Body.Close()
	body, err := io.ReadAll(a.Body)
	if err != nil || a.StatusCode != http.StatusOK {
		g.t.Fatalf("%s: %s %v", path, a.Status, err)
	}
	return string(body)
}

// interrupt does what Ctrl-C does, and returns what was printed since.
func (g *running) interrupt() string {
	g.t.Helper()
	if err := g.program.Process.Signal(os.Interrupt); err != nil {
		g.t.Fatal(err)
	}
	rest := <-g.said
	if err := g.program.Wait(); err != nil {
		g.t.Fatalf("it does not end with 0: %v\n%s", err, g.err.String())
	}
	return rest
}

var builtOnce = sync.OnceValues(func() (string, error) {
	folder, err := os.MkdirTemp("", "bindpost-built-*")
	if err != nil {
		return "", err
	}
	out, err := exec.Command("go", "build", "-o", filepath.Join(folder, programFile()), ".").CombinedOutput()
	if err != nil {
		os.Stderr.Write(out)
	}
	return filepath.Join(folder, programFile()), err
})

// TestGalley starts the program, reads its address, opens a page, saves a guide,
// hears of the press, sees the page change, and ends it as Ctrl-C does. Into a
// pipe it prints its address and nothing else.
func TestGalley(t *testing.T) {
	program, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(filepath.Dir(program))
	t.Run("copy", func(t *testing.T) { galleyOfCopy(t, program) })
	t.Run("demonstration", func(t *testing.T) {
		g := startGalley(t, program)
		if page := g.get("speaker-wire.html"); !strings.Contains(page, `data-press="1"`) {
			t.Error("the demonstration is not shown")
		}
		if rest := g.interrupt(); rest != "" || !strings.HasPrefix(g.err.String(), "No copy is named") {
			t.Errorf("printed were %q and %q", rest, g.err.String())
		}
	})
}

func galleyOfCopy(t *testing.T, program string) {
	copied := filepath.Join(t.TempDir(), "copy")
	if err := os.CopyFS(copied, content.Blank()); err != nil {
		t.Fatal(err)
	}
	g := startGalley(t, program, copied)
	const page = "start-here.html"
	if before := g.get(page); !strings.Contains(before, "6 ohm") && !strings.Contains(before, "6&nbsp;ohm") && !strings.Contains(before, "6\u00a0ohm") {
		t.Errorf("the page does not show the guide:\n%s", before)
	}
	events, err := http.Get(g.address + ".told")
	if err != nil {
		t.Fatal(err)
	}
	defer events.Body.Close()
	heard := bufio.NewScanner(events.Body)
	hear := func(want string) {
		t.Helper()
		for heard.Scan() {
			if strings.Contains(heard.Text(), want) {
				return
			}
		}
		t.Fatalf("%q is not told: %v", want, heard.Err())
	}
	hear(`data: {"press":"1","writing":""}`)
	guide := filepath.Join(copied, "start-here.md")
	text, err := os.ReadFile(guide)
	if err != nil {
		t.Fatal(err)
	}
	save := func(text string) {
		t.Helper()
		if err := os.WriteFile(guide+".new", []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Rename(guide+".new", guide); err != nil {
			t.Fatal(err)
		}
	}
	save(strings.ReplaceAll(string(text), "load: 6 ohm", "load: 6 m"))
	hear(`data: {"press":"2","writing":"start-here.html"}`)
	if now := g.get(page); !strings.Contains(now, "1 fault stops the press. The pages are those of the last good press.") {
		t.Errorf("the slip does not stand on the page:\n%s", now)
	}
	save(strings.ReplaceAll(string(text), "An invented", "A made-up") + "\nA sentence that was not there.\n")
	hear(`data: {"press":"3"`)
	if now := g.get("?writing"); !strings.Contains(now, "A sentence that was not there.") {
		t.Errorf("the page does not follow its guide:\n%s", now)
	}
	rest := g.interrupt()
	hear("event: closed")
	if rest != "" || g.err.Len() > 0 {
		t.Errorf("into a pipe it prints %q and %q", rest, g.err.String())
	}
}
