package galley

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"bindpost/calc/fault"
	"bindpost/site/press"
)

// edits returns how many edits an author's hour has, and how many files one of
// them brings at once: a short hour, unless BINDPOST_EDITS asks for a whole one.
func edits(t *testing.T) (edits, atOnce int) {
	asked := os.Getenv("BINDPOST_EDITS")
	if asked == "" {
		return 24, 100
	}
	n, err := strconv.Atoi(asked)
	must(t, err)
	return n, 1000
}

// author plays an author's hour: one edit after the other, in the ways that
// editors and file managers have. Files is what the copy should hold.
type author struct {
	t     *testing.T
	rolls *rand.Rand
	root  string
	files map[string]string
	made  int    // guides, for names that were not there yet
	many  int    // files that come at once
	away  string // where the copy lies that is not in its place; "" where it is
	kinds int    // of edits that were played in their turn

	stops, goods, inARow int // presses that stopped, that did not, that stopped since one did not
}

// TestAuthorsHour holds what is served, whenever the copy has come to rest, to a
// cold press of it: every page to the byte, and the slip to the same faults.
// BINDPOST_EDITS=400 go test -v -run Hour ./site/galley plays all of an hour.
func TestAuthorsHour(t *testing.T) {
	n, atOnce := edits(t)
	a := &author{t: t, rolls: rand.New(rand.NewPCG(20, 26)), root: filepath.Join(t.TempDir(), "copy"), files: copyFiles(), many: atOnce}
	o := opening(t, a.root, a.files)
	good := a.compare(o, nil)
	var use []usage
	counts := map[string]int{}
	for range n {
		kind := a.edit()
		counts[kind]++
		before := good
		good = a.compare(o, good)
		for name := range before {
			if _, still := good[name]; !still && path.Ext(name) == ".html" && o.get("/"+name).StatusCode != 404 {
				t.Fatalf("after %s: %s is gone, and is shown", kind, name)
			}
		}
		if a.inARow == 0 && !a.manyThere() { // the copy is of its usual size, and one manual is held
			use = append(use, used())
		}
	}
	number := o.proof.Load().number
	t.Logf("%d edits, %d presses; compared %d times with a good manual, %d times with the last good one: %v", n, number, a.goods, a.stops, counts)
	flat(t, use)
}

// compare waits until what is served is what a cold press of the copy makes.
// Good is the last good manual; with a stop that is what is to be served.
func (a *author) compare(o *opened, good map[string]string) map[string]string {
	a.t.Helper()
	m, faults := press.Make(orderOf(a.root))
	a.stops, a.inARow = a.stops+1, a.inARow+1
	if m != nil {
		a.stops, a.goods, a.inARow = a.stops-1, a.goods+1, 0
		good = map[string]string{}
		for _, f := range m.Files {
			good[f.Path] = string(f.Data)
		}
	}
	for {
		differs := served(o, good, faults)
		if differs == "" {
			return good
		}
		select {
		case <-o.pressing:
		case <-time.After(guard):
			a.t.Fatalf("nothing is pressed any more, and %s", differs)
		}
	}
}

// served says what of the manual that is served differs from a good one with
// faults on its slip; "" where nothing does.
func served(o *opened, good map[string]string, faults *fault.List) string {
	want := quoted(faults)
	for _, name := range slices.Sorted(maps.Keys(good)) {
		page := o.get("/" + name)
		if page.StatusCode != 200 {
			return name + " is not there"
		}
		manual, told := page.body, want
		if path.Ext(name) == ".html" {
			manual, told = apart(page.body)
		}
		switch {
		case manual != good[name]:
			return name + " is not what a press makes"
		case told != want:
			return fmt.Sprintf("the slip of %s says\n%s\nand a proof says\n%s", name, told, want)
		}
	}
	return ""
}

// edit makes one edit, and says what it was. What stops a press is mended soon,
// but not at once.
func (a *author) edit() string {
	kinds := []func() string{
		a.bringMany, a.rewrite, a.rewrite, a.add, a.remove, a.rename, a.renameFolder, a.spoil, a.doubt, a.change, a.renew, a.vanish,
	}
	if a.away != "" {
		must(a.t, os.Rename(a.away, a.root))
		a.away = ""
		return "the copy back"
	}
	if a.manyThere() {
		return a.bringMany() // they go again, for each press takes long with them
	}
	if a.inARow > 1 || a.inARow > 0 && a.rolls.IntN(2) == 0 {
		return a.mend()
	}
	if a.kinds < len(kinds) { // each of them is played
		a.kinds++
		return kinds[a.kinds-1]()
	}
	return kinds[1+a.rolls.IntN(len(kinds)-1)]()
}

func (a *author) at(name string) string { return filepath.Join(a.root, filepath.FromSlash(name)) }

// guides returns the guides that compute the loss of a run.
func (a *author) guides() []string {
	var names []string
	for name, text := range a.files {
		if strings.HasSuffix(name, ".md") && strings.Contains(text, "calc speaker-wire") {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

func (a *author) broken() []string {
	return slices.DeleteFunc(a.guides(), func(name string) bool { return !strings.Contains(a.files[name], "load: 8 m\n") })
}

func (a *author) oneOf(names []string) string { return names[a.rolls.IntN(len(names))] }

// save writes a file in one of the ways that editors have.
func (a *author) save(name, text string) {
	a.t.Helper()
	a.files[name] = text
	at := a.at(name)
	must(a.t, os.MkdirAll(filepath.Dir(at), 0o777))
	write := func(at string) { must(a.t, os.WriteFile(at, []byte(text), 0o666)) }
	switch a.rolls.IntN(3) {
	case 0:
		write(at)
	case 1:
		write(at + ".tmp")
		must(a.t, os.Rename(at+".tmp", at))
	case 2:
		write(filepath.Join(filepath.Dir(at), ".hidden.swp"))
		must(a.t, os.Rename(filepath.Join(filepath.Dir(at), ".hidden.swp"), at))
	}
}

var longest = []string{"run: 3 m to 12 m", "run: 3 m to 15 m", "run: 3 m to 18 m", "run: 3 m to 21 m"}

// rewrite changes the longest run of a guide, and keeps the old one for a moment
// as some editors do.
func (a *author) rewrite() string {
	name := a.oneOf(a.guides())
	text := a.files[name]
	for _, l := range longest {
		text = strings.ReplaceAll(text, l, a.oneOf(longest))
	}
	if a.rolls.IntN(4) > 0 {
		a.save(name, text)
		return "a guide saved"
	}
	if slices.Contains(a.broken(), name) {
		text = strings.ReplaceAll(text, "load: 8 m\n", "load: 8 ohm\n") // or a moment without it would be a good one
	}
	a.files[name] = text
	must(a.t, os.WriteFile(a.at(name)+"~", []byte(text), 0o666))
	must(a.t, os.Rename(a.at(name)+"~", a.at(name)))
	return "a guide saved over a copy of it"
}

// add makes a guide in a folder that is new, or three folders deep.
func (a *author) add() string {
	if len(a.guides()) > 12 {
		return a.remove()
	}
	a.made++
	within := a.oneOf([]string{"", "rooms/", fmt.Sprintf("new-%d/", a.made), fmt.Sprintf("new-%d/deep/er/", a.made)})
	a.save(fmt.Sprintf("%sguide-%d.md", within, a.made), lossGuide(fmt.Sprintf("N%d", a.made), fmt.Sprintf("new-%d", a.made), 12))
	return "a guide added"
}

// remove takes away a guide, also one that others quote or lead to.
func (a *author) remove() string {
	guides := a.guides()
	if len(guides) < 3 {
		return a.add()
	}
	name := a.oneOf(guides)
	delete(a.files, name)
	must(a.t, os.Remove(a.at(name)))
	return "a guide removed"
}

func (a *author) rename() string {
	name := a.oneOf(a.guides())
	a.made++
	to := fmt.Sprintf("renamed-%d.md", a.made)
	a.files[to] = a.files[name]
	delete(a.files, name)
	must(a.t, os.Rename(a.at(name), a.at(to)))
	return "a guide renamed"
}

// renameFolder gives a folder of guides another name.
func (a *author) renameFolder() string {
	var folders []string
	for _, name := range a.guides() {
		if top, _, inside := strings.Cut(name, "/"); inside {
			folders = append(folders, top)
		}
	}
	if len(folders) == 0 {
		return a.add()
	}
	from := a.oneOf(folders)
	a.made++
	to := fmt.Sprintf("folder-%d", a.made)
	for name := range maps.Clone(a.files) {
		if rest, inside := strings.CutPrefix(name, from+"/"); inside {
			a.files[to+"/"+rest] = a.files[name]
			delete(a.files, name)
		}
	}
	must(a.t, os.Rename(a.at(from), a.at(to)))
	return "a folder renamed"
}

// spoil puts metres where ohms belong.
func (a *author) spoil() string {
	name := a.oneOf(a.guides())
	a.save(name, strings.ReplaceAll(a.files[name], "load: 8 ohm\n", "load: 8 m\n"))
	return "spoilt"
}

// mend puts right one guide that is spoilt; where there is none, what the overview
// leads to and quotes.
func (a *author) mend() string {
	if broken := a.broken(); len(broken) > 0 {
		name := a.oneOf(broken)
		a.save(name, strings.ReplaceAll(a.files[name], "load: 8 m\n", "load: 8 ohm\n"))
		return "mended"
	}
	to := a.oneOf(a.guides())
	_, block, _ := strings.Cut(a.files[to], "\nname: ")
	block, _, _ = strings.Cut(block, "\n")
	a.save("overview.md", guideOf("O1", "What is lost where?", "Here <figure:"+block+".lost>.", "wire",
		"![Two posts](drawings/posts.svg)\n\nSee [where it is]("+to+").\n"))
	return "mended"
}

// doubt types a figure by hand, which is warned of, or takes it out again.
func (a *author) doubt() string {
	const typed = "\nIt is 12.5 ohm.\n"
	name := a.oneOf(a.guides())
	if text := a.files[name]; strings.Contains(text, typed) {
		a.save(name, strings.ReplaceAll(text, typed, ""))
	} else {
		a.save(name, text+typed)
	}
	return "a figure typed"
}

// change changes what stands beside the guides.
func (a *author) change() string {
	n := 2 + a.rolls.IntN(7)
	switch a.rolls.IntN(4) {
	case 0:
		a.save("standing.yaml", fmt.Sprintf(standing, n))
	case 1:
		a.save("methods/wire-off-shelf.yaml", fmt.Sprintf(shelf, n))
	case 2:
		a.save("drawings/posts.svg", fmt.Sprintf(drawing, 80+n))
	case 3:
		a.save("imprint.yaml", strings.Replace(imprint, "Test Room", fmt.Sprintf("Test Room %d", n), 1))
	}
	return "what stands beside the guides"
}

// bringMany brings many guides at once, or takes them all away again.
func (a *author) bringMany() string {
	if a.manyThere() {
		for i := range a.many {
			delete(a.files, fmt.Sprintf("many/number-%d.md", i))
		}
		must(a.t, os.RemoveAll(a.at("many")))
		return "many files gone"
	}
	many := map[string]string{}
	for i := range a.many {
		many[fmt.Sprintf("many/number-%d.md", i)] = guideOf(fmt.Sprintf("M%d", i), fmt.Sprintf("What is number %d?", i), "One of many.", "speakers", "Nothing else.\n")
	}
	maps.Copy(a.files, many)
	must(a.t, lay(a.root, many))
	return "many files at once"
}

func (a *author) manyThere() bool {
	_, there := a.files["many/number-0.md"]
	return there
}

// renew removes the copy and makes it anew.
func (a *author) renew() string {
	must(a.t, os.Rename(a.root, a.root+" elsewhere")) // at one stroke: half a copy may be a good one
	must(a.t, os.RemoveAll(a.root+" elsewhere"))
	must(a.t, lay(a.root, a.files))
	return "the copy removed and made anew"
}

// vanish takes the copy away; the next edit puts it back.
func (a *author) vanish() string {
	a.away = a.root + " elsewhere"
	must(a.t, os.Rename(a.root, a.away))
	return "the copy away"
}

// usage is what the program holds.
type usage struct {
	heap       uint64
	goroutines int
}

func used() usage {
	noFollowing.CloseIdleConnections()
	var m runtime.MemStats
	runtime.GC()
	runtime.GC()
	runtime.ReadMemStats(&m)
	return usage{m.HeapAlloc, runtime.NumGoroutine()}
}

// flat holds what is used in the last third of an hour to what was in the first.
func flat(t *testing.T, use []usage) {
	t.Helper()
	third := len(use) / 3
	if third == 0 {
		t.Fatal("nothing was measured")
	}
	most := func(of []usage) (u usage) {
		for _, each := range of {
			u = usage{max(u.heap, each.heap), max(u.goroutines, each.goroutines)}
		}
		return u
	}
	first, last := most(use[:third]), most(use[len(use)-third:])
	t.Logf("at most held, first third and last: %.1f and %.1f MB, %d and %d goroutines",
		float64(first.heap)/1e6, float64(last.heap)/1e6, first.goroutines, last.goroutines)
	if last.goroutines > first.goroutines+4 {
		t.Errorf("goroutines grow from %d to %d", first.goroutines, last.goroutines)
	}
	if last.heap > first.heap+first.heap/4+4<<20 {
		t.Errorf("memory grows from %d to %d bytes", first.heap, last.heap)
	}
}
