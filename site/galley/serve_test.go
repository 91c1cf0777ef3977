package galley

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"bindpost/calc/fault"
)

// still is a galley on a copy that cannot change, which shows what a test gives it.
func still(t testing.TB) *opened {
	t.Helper()
	o := &opened{t: t, pressing: make(chan Pressing, 10000)}
	order := orderOf("")
	order.Copy = os.DirFS(t.TempDir())
	g, err := open(order, func(Changes) made { return page("first") }, func(p Pressing) { o.pressing <- p })
	must(t, err)
	o.Galley = g
	o.run()
	return o
}

// page is a press that came to one page.
func page(says string) made {
	text := "<html><head></head><body><main>" + says + "</main></body></html>"
	return made{sheets: files{"index.html": []byte(text), "style.css": []byte("p {}")}, entry: "index.html", faults: &fault.List{}}
}

// Only who asks under the galley's own name is answered, and may only read.
func TestRefused(t *testing.T) {
	o := still(t)
	port := o.listener.Addr().(*net.TCPAddr).Port
	for host, fine := range map[string]bool{
		fmt.Sprintf("127.0.0.1:%d", port): true, fmt.Sprintf("localhost:%d", port): true,
		"127.0.0.1": false, "localhost": false, fmt.Sprintf("guides.example:%d", port): false,
		fmt.Sprintf("127.0.0.1:%d", port+1): false, fmt.Sprintf("127.0.0.1.guides.example:%d", port): false,
	} {
		for _, path := range []string{"/", toldPath, scriptPath} {
			method := http.MethodHead // of the events too, which else do not end
			a := o.ask(method, path, func(r *http.Request) { r.Host = host })
			if answered := a.StatusCode == http.StatusOK; answered != fine {
				t.Errorf("%s of %s: %s", path, host, a.Status)
			}
		}
	}
	a := o.ask(http.MethodGet, "/", func(r *http.Request) { r.Host = "guides.example" })
	if a.StatusCode != http.StatusMisdirectedRequest || !strings.Contains(a.body, "This galley answers only under") || strings.Contains(a.body, "first") {
		t.Errorf("%s: %s", a.Status, a.body)
	}
	for _, method := range []string{http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions} {
		if a := o.ask(method, "/", nil); a.StatusCode != http.StatusMethodNotAllowed || a.Header.Get("Allow") != "GET, HEAD" {
			t.Errorf("%s is answered with %s", method, a.Status)
		}
	}
	if ip := o.listener.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() {
		t.Errorf("it can be reached at %v", ip)
	}
}

// What is sent says what it is, and is sent once as long as it is the same.
func TestSent(t *testing.T) {
	o := opening(t, filepath.Join(t.TempDir(), "copy"), copyFiles())
	for path, kind := range map[string]string{
		"/": "text/html", "/index.html": "text/html", "/rooms/far.html": "text/html", "/style.css": "text/css", "/own-numbers.js": "text/javascript",
		"/drawings/posts.svg": "image/svg+xml", scriptPath: "text/javascript", stylePath: "text/css", plainPath: "text/css",
	} {
		a := o.get(path)
		if a.StatusCode != 200 || !strings.HasPrefix(a.Header.Get("Content-Type"), kind) || a.Header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: %s %v", path, a.Status, a.Header)
		}
		again := o.ask(http.MethodGet, path, func(r *http.Request) { r.Header.Set("If-None-Match", a.Header.Get("ETag")) })
		if again.StatusCode != http.StatusNotModified || again.body != "" {
			t.Errorf("%s is sent again although it is the same: %s", path, again.Status)
		}
		head := o.ask(http.MethodHead, path, nil)
		if head.body != "" || head.ContentLength != int64(len(a.body)) {
			t.Errorf("of %s the head alone says %d bytes, and they are %d", path, head.ContentLength, len(a.body))
		}
	}
	old := o.get("/lost.html").Header.Get("ETag")
	o.write("lost.md", lossGuide("L1", "lost", 18))
	if a := o.ask(http.MethodGet, "/lost.html", func(r *http.Request) { r.Header.Set("If-None-Match", old) }); a.StatusCode != 200 {
		t.Errorf("a page that changed is not sent again: %s", a.Status)
	}
	if p := o.proof.Load(); !strings.Contains(string(must2(t, p, "lost.html")), "18") || strings.Contains(string(must2(t, p, "lost.html")), "galley") {
		t.Error("the manual itself holds something of the galley")
	}
	for _, path := range []string{"/galley.js", "/galley.css", "/slip.html", "/../copy/lost.md", "/lost.md", "/imprint.yaml"} {
		if a := o.get(path); a.StatusCode != http.StatusNotFound {
			t.Errorf("%s is sent: %s", path, a.Status)
		}
	}
}

func must2(t *testing.T, p *proof, name string) []byte {
	t.Helper()
	data, ok := p.page(name)
	if !ok {
		t.Fatalf("there is no %s", name)
	}
	return data
}

// Faults stand on the slip, and the last good page below it.
func TestSlip(t *testing.T) {
	o := opening(t, filepath.Join(t.TempDir(), "copy"), copyFiles())
	good := o.get("/lost.html").body
	if strings.Contains(good, `class="slip"`) {
		t.Fatal("a slip without a fault")
	}
	wrong := strings.Replace(copyFiles()["lost.md"], "load: 8 ohm", "load: 8 m", 1)
	o.write("lost.md", wrong)
	a := o.get("/lost.html")
	manual, told := apart(a.body)
	before, _ := apart(good)
	if manual != before {
		t.Error("the page below the slip is not the last good one")
	}
	want := "lost.md:12:9: stop: &#34;8 m&#34; is a length, and a resistance is wanted</p>"
	if !strings.Contains(a.body, want) || !strings.Contains(a.body, "<pre tabindex=\"0\" role=\"group\" aria-label=\"The line, with a mark below the place\">load: 8 m\n<span class=\"caret\">        ^</span></pre>") {
		t.Errorf("the slip says\n%s", told)
	}
	if !strings.Contains(a.body, `<p role="status">1 fault stops the press. The pages are those of the last good press.</p>`) {
		t.Errorf("the slip does not say what stands:\n%s", a.body)
	}
	o.write("new.md", strings.Replace(lossGuide("N1", "new", 12), "load: 8 ohm", "load: 8 m", 1))
	a = o.get("/new.html?writing")
	if a.StatusCode != 404 || !strings.Contains(a.body, "There is no page new.html") || !strings.Contains(a.body, "2 faults stop the press.") || !strings.Contains(a.body, scriptPath) {
		t.Errorf("the page of a guide that was never good: %s\n%s", a.Status, a.body)
	}
	o.write("new.md", lossGuide("N1", "new", 12))
	o.write("lost.md", copyFiles()["lost.md"]+"\nIt is 12.5 ohm.\n")
	a = o.get("/lost.html")
	if manual, _ := apart(a.body); manual == before || !strings.Contains(a.body, "1 warning stands. The pages are new: none of this stops a press.") {
		t.Errorf("a warning is told so:\n%s", a.body)
	}
}

// A copy that never pressed has a page that says so, and takes up the first good one.
func TestNeverGood(t *testing.T) {
	all := copyFiles()
	delete(all, "imprint.yaml")
	o := opening(t, filepath.Join(t.TempDir(), "copy"), all)
	a := o.get("/")
	if a.StatusCode != 404 || !strings.Contains(a.body, "There is no page yet") || !strings.Contains(a.body, "imprint.yaml: stop: is missing") ||
		!strings.Contains(a.body, "No page can be shown before that is mended.") {
		t.Errorf("%s\n%s", a.Status, a.body)
	}
	if p := o.write("imprint.yaml", imprint); !p.Fresh || !p.Shown {
		t.Errorf("the first good press is told as %+v", p)
	}
	if a := o.get("/"); a.StatusCode != 200 || !strings.Contains(a.body, "The Test Room Book") {
		t.Errorf("%s\n%s", a.Status, a.body)
	}
}

// Of many changes, the last to a guide that is still there is the one being written.
func TestGuideWritten(t *testing.T) {
	copied := fstest.MapFS{"a.md": {}, "b.md": {}, "phrases/notes.md": {}, "standing.yaml": {}, "sub/c.md/d.md": {}}
	for want, paths := range map[string][]string{
		"a.html": {"b.md", "a.md", "standing.yaml", "gone.md", "phrases/notes.md", "_a.md", "sub/c.md"},
		"b.html": {"a.md", "b.md"},
		"":       {"standing.yaml", "gone.md"},
	} {
		if got := (Changes{Paths: paths}).writing(copied); got != want {
			t.Errorf("of %v it is %q, and %q was wanted", paths, got, want)
		}
	}
}

// The page that goes along shows the guide that was written last.
func TestWriting(t *testing.T) {
	o := opening(t, filepath.Join(t.TempDir(), "copy"), copyFiles())
	if a := o.get("/?writing"); a.StatusCode != 200 || !strings.Contains(a.body, `data-page="index.html"`) {
		t.Errorf("before anything is written: %s", a.Status)
	}
	for _, c := range []struct{ name, page string }{
		{"rooms/far.md", "/rooms/far.html?writing"}, {"lost.md", "/lost.html?writing"}, {"two words.md", "/two%20words.html?writing"},
	} {
		o.write(c.name, lossGuide(fmt.Sprintf("W%d", len(c.name)), fmt.Sprintf("w-%d", len(c.name)), 12))
		if a := o.get("/?writing"); a.StatusCode != http.StatusFound || a.Header.Get("Location") != c.page {
			t.Errorf("after %s: %s %s", c.name, a.Status, a.Header.Get("Location"))
		}
	}
	o.write("standing.yaml", fmt.Sprintf(standing, 8)) // no guide
	must(t, os.Remove(filepath.Join(o.root, "lost.md")))
	o.next()
	if a := o.get("/?writing"); a.Header.Get("Location") != "/two%20words.html?writing" {
		t.Errorf("after a guide went: %s", a.Header.Get("Location"))
	}
	must(t, os.Remove(filepath.Join(o.root, "two words.md")))
	o.next()
	if a := o.get("/?writing"); a.StatusCode != http.StatusOK {
		t.Errorf("after the guide went that was written last: %s %s", a.Status, a.Header.Get("Location"))
	}
}

// listener is a client that hears of presses.
type listener struct {
	conn net.Conn
	in   *bufio.Reader
}

func (o *opened) listen() (*listener, error) {
	c, err := net.Dial("tcp", o.listener.Addr().String())
	if err != nil {
		return nil, err
	}
	if _, err := fmt.Fprintf(c, "GET %s HTTP/1.1\r\nHost: %s\r\n\r\n", toldPath, o.listener.Addr()); err != nil {
		return nil, err
	}
	return &listener{c, bufio.NewReaderSize(c, 512)}, nil
}

// hears reads on to the next event, and returns the press that it tells of; 0 for
// that the galley closes.
func (l *listener) hears() (int, error) {
	if err := l.conn.SetReadDeadline(time.Now().Add(guard)); err != nil {
		return 0, err
	}
	for {
		line, err := l.in.ReadString('\n')
		if err != nil {
			return 0, err
		}
		if strings.HasPrefix(line, "event: closed") {
			return 0, nil
		}
		if data, is := strings.CutPrefix(line, "data: "); is {
			var t told
			if err := json.Unmarshal([]byte(data), &t); err != nil {
				return 0, err
			}
			return strconv.Atoi(t.Press)
		}
	}
}

// listening waits until as many listen as are wanted.
func (o *opened) listening(want int) {
	o.t.Helper()
	n := 0
	for deadline := time.Now().Add(guard); time.Now().Before(deadline); time.Sleep(time.Millisecond) {
		o.listeners.lock.Lock()
		n = len(o.listeners.all)
		o.listeners.lock.Unlock()
		if n == want {
			return
		}
	}
	o.t.Fatalf("%d listen, and %d are to", n, want)
}

// Two hundred pages all hear of every edit, and of the end; then nothing is left.
func TestTwoHundredListeners(t *testing.T) {
	before := runtime.NumGoroutine()
	const clients, rounds = 200, 3
	o := opening(t, filepath.Join(t.TempDir(), "copy"), copyFiles())
	var all []*listener
	for range clients {
		l, err := o.listen()
		must(t, err)
		defer l.conn.Close()
		all = append(all, l)
	}
	hear := func(want int) {
		t.Helper()
		var wait sync.WaitGroup
		var lock sync.Mutex
		lost := 0
		for _, l := range all {
			wait.Go(func() {
				for {
					number, err := l.hears()
					if err == nil && number < want && number > 0 {
						continue
					}
					if err != nil || number != want {
						lock.Lock()
						lost++
						lock.Unlock()
					}
					return
				}
			})
		}
		if wait.Wait(); lost > 0 {
			t.Fatalf("%d of %d did not hear of press %d", lost, clients, want)
		}
	}
	hear(1)
	for i := range rounds {
		hear(o.write("lost.md", lossGuide("L1", "lost", 12+3*(i%2))).Number)
	}
	for _, l := range all[:50] { // some leave, and the rest hears on
		l.conn.Close()
	}
	all = all[50:]
	o.listening(len(all))
	hear(o.write("lost.md", lossGuide("L1", "lost", 21)).Number)
	go o.close()
	hear(0)
	o.close()
	for _, l := range all {
		if _, err := l.in.ReadString('\n'); err == nil {
			_, err = io.Copy(io.Discard, l.in)
			must(t, err)
		}
	}
	noFollowing.CloseIdleConnections()
	for deadline := time.Now().Add(guard); runtime.NumGoroutine() > before; time.Sleep(time.Millisecond) {
		if time.Now().After(deadline) {
			stacks := make([]byte, 1<<20)
			t.Fatalf("%d goroutines where %d were:\n%s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
		}
	}
	if _, err := net.Dial("tcp", o.listener.Addr().String()); err == nil {
		t.Error("the port is still open")
	}
}

// A galley that is told to end while it presses ends after that press.
func TestEndWhilePressing(t *testing.T) {
	g, err := open(orderOf(t.TempDir()), func(Changes) made { return page("one") }, func(Pressing) {})
	must(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	pressing, goOn := make(chan struct{}), make(chan struct{})
	g.make = func(Changes) made {
		close(pressing)
		<-goOn
		return page("two")
	}
	ended := make(chan error)
	go func() { ended <- g.Run(ctx) }()
	must(t, os.WriteFile(filepath.Join(g.order.Root, "a.md"), nil, 0o666))
	<-pressing
	cancel()
	close(goOn)
	must(t, <-ended)
}

// BenchmarkClients says what one more open page costs the galley. The other ends
// of the connections, which lie in the same program, cost a part of it.
//
//	go test ./site/galley -run '^$' -bench Clients -benchtime 10x
func BenchmarkClients(b *testing.B) {
	const clients = 500
	o := still(b)
	measure := func() (m runtime.MemStats, goroutines int) {
		runtime.GC()
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m, runtime.NumGoroutine()
	}
	before, few := measure()
	var all []*listener
	for range clients {
		l, err := o.listen()
		must(b, err)
		defer l.conn.Close()
		all = append(all, l)
	}
	hear := func() {
		for _, l := range all {
			if _, err := l.hears(); err != nil {
				b.Fatal(err)
			}
		}
	}
	hear()
	after, many := measure()
	for b.Loop() { // one press told to all, and heard by all
		o.press(Changes{})
		hear()
	}
	b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/clients, "heap-B/client")
	b.ReportMetric(float64(after.StackInuse-before.StackInuse)/clients, "stack-B/client")
	b.ReportMetric(float64(many-few)/clients, "goroutines/client")
}

// files are sheets that lie ready.
type files map[string][]byte

// Page implements sheets.
func (f files) Page(path string) ([]byte, bool) {
	data, ok := f[path]
	return data, ok
}
