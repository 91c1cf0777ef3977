package galley

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log"
	"net"
	"net/http"
	"net/url"
	"path"
	"strconv"
	"strings"
	"time"
)

// The paths of the galley's own files. No page of a manual has a name that begins
// with a dot.
const (
	toldPath   = "/.told"
	scriptPath = "/.galley.js"
	stylePath  = "/.galley.css"
	plainPath  = "/.style.css" // the manual's own style sheet, for pages that no manual has
)

// own are the templates behind the galley's own files.
var own = map[string]string{scriptPath: "galley.js", stylePath: "galley.css", plainPath: "style.css"}

// kinds say what a file of a manual is, by the end of its name. The system is not
// asked: it may have been told otherwise.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg",
}

// serve answers browsers on this machine until it is told to end.
func (g *Galley) serve(ctx context.Context) error {
	server := &http.Server{
		Handler: g, ReadHeaderTimeout: 10 * time.Second,
		ErrorLog: log.New(io.Discard, "", 0), // what a browser breaks off is nothing to tell an author
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(g.listener) }()
	select {
	case err := <-ended:
		close(g.closing)
		return fmt.Errorf("the pages cannot be shown any more: %w", err)
	case <-ctx.Done():
	}
	close(g.closing)
	patience, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	if server.Shutdown(patience) != nil {
		server.Close()
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// ServeHTTP implements [http.Handler].
func (g *Galley) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	switch {
	case !g.meant(r.Host):
		// A page from elsewhere, under a name that leads here, is not to read the guides.
		http.Error(w, "This galley answers only under the address that bindpost printed: "+g.Address(), http.StatusMisdirectedRequest)
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "A galley only shows pages: nothing can be sent to it.", http.StatusMethodNotAllowed)
	case r.URL.Path == toldPath:
		g.serveTold(w, r)
	case own[r.URL.Path] != "":
		data, err := fs.ReadFile(g.order.Templates, own[r.URL.Path])
		if err != nil {
			http.Error(w, "This part of the program is missing.", http.StatusInternalServerError)
			return
		}
		send(w, r, own[r.URL.Path], data)
	default:
		g.servePage(w, r)
	}
}

// meant reports whether a request was meant for this galley, by the name under
// which it came.
func (g *Galley) meant(host string) bool {
	_, port, err := net.SplitHostPort(g.listener.Addr().String())
	return err == nil && (host == "127.0.0.1:"+port || host == "localhost:"+port)
}

// servePage sends a page of the last good manual, or a file beside it.
func (g *Galley) servePage(w http.ResponseWriter, r *http.Request) {
	p := g.proof.Load()
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = p.entry
		if r.URL.Query().Has("writing") && p.writing != "" {
			w.Header().Set("Cache-Control", "no-store")
			http.Redirect(w, r, (&url.URL{Path: "/" + p.writing, RawQuery: "writing"}).String(), http.StatusFound)
			return
		}
	}
	data, there := p.page(name)
	switch isPage := path.Ext(name) == ".html" || name == ""; {
	case there && isPage:
		send(w, r, name, g.laid(data, p, name))
	case there:
		send(w, r, name, data)
	case isPage:
		h := w.Header()
		h.Set("Content-Type", kinds[".html"])
		h.Set("Cache-Control", "no-store")
		w.WriteHeader(http.StatusNotFound)
		if r.Method != http.MethodHead {
			w.Write(g.bare(p, name))
		}
	default:
		http.Error(w, fmt.Sprintf("There is no %q in this manual.", name), http.StatusNotFound)
	}
}

// send sends a file, which a browser may keep if it asks each time whether it is
// still the same.
func send(w http.ResponseWriter, r *http.Request, name string, data []byte) {
	kind, known := kinds[path.Ext(name)]
	if !known {
		kind = "application/octet-stream"
	}
	sum := sha256.Sum256(data)
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Cache-Control", "no-cache")
	h.Set("ETag", strconv.Quote(hex.EncodeToString(sum[:16])))
	http.ServeContent(w, r, "", time.Time{}, strings.NewReader(string(data)))
}

// told is what an open page hears of a press.
type told struct {
	Press   string `json:"press"`
	Writing string `json:"writing"` // the page of the guide written last; "" where none was
}

// longestWrite is how long a browser may take to take in an event.
const longestWrite = 5 * time.Second

// serveTold tells of the last press at once and of each one that follows, until
// the browser leaves or the galley closes.
func (g *Galley) serveTold(w http.ResponseWriter, r *http.Request) {
	heard, leave := g.listeners.join()
	defer leave()
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	if r.Method == http.MethodHead {
		return
	}
	for {
		p := g.proof.Load()
		text, err := json.Marshal(told{Press: strconv.Itoa(p.number), Writing: p.writing})
		if err != nil || say(w, "data: "+string(text)) != nil {
			return
		}
		select {
		case <-heard:
		case <-r.Context().Done():
			return
		case <-g.closing:
			say(w, "event: closed\ndata: closed") // who cannot be told any more has left
			return
		}
	}
}

// say sends one event.
func say(w http.ResponseWriter, event string) error {
	c := http.NewResponseController(w)
	if err := c.SetWriteDeadline(time.Now().Add(longestWrite)); err != nil {
		return err
	}
	if _, err := io.WriteString(w, event+"\n\n"); err != nil {
		return err
	}
	return c.Flush()
}
