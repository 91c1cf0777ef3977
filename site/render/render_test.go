package render_test

import (
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	copyfolder "bindpost/site/folder"
	"bindpost/site/guide"
	"bindpost/site/render"
	"bindpost/templates"
)

var update = flag.Bool("update", false, "rewrite the golden pages")

// TestGolden compares the pages of the hand-made guides with those that were
// looked at and found right.
func TestGolden(t *testing.T) {
	got := pages(t, book(t))
	delete(got, render.StyleSheet)
	for _, name := range slices.Sorted(maps.Keys(got)) {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join("testdata", "golden", name)
			if *update {
				if err := os.WriteFile(file, []byte(got[name]), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got[name] != string(want) {
				t.Errorf("the page is not as it was; if it is right, run the test with -update\n%s", firstDifference(got[name], string(want)))
			}
		})
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return fmt.Sprintf("line %d\ngot:  %s\nwant: %s", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("%d lines instead of %d", len(g), len(w))
}

// TestPageKeepsPolicy looks for what the content security policy forbids or a
// page must not lean on.
func TestPageKeepsPolicy(t *testing.T) {
	policy := `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; img-src 'self'; font-src 'self'; script-src 'self'; form-action 'none'; base-uri 'none'">`
	for name, page := range pages(t, book(t)) {
		if name == render.StyleSheet {
			if m := regexp.MustCompile(`url\(|@import|https?:`).FindString(page); m != "" {
				t.Errorf("the style sheet reaches out: %q", m)
			}
			continue
		}
		if !strings.Contains(page, policy) {
			t.Errorf("%s does not carry the policy", name)
		}
		for _, forbidden := range []string{"style=", "<style", "<script>", " onclick", "<iframe", "<form", "<base"} {
			if strings.Contains(page, forbidden) {
				t.Errorf("%s holds %q", name, forbidden)
			}
		}
		for _, m := range regexp.MustCompile(`(?:href|src)="([^"]*)"`).FindAllStringSubmatch(page, -1) {
			if strings.Contains(strings.Split(m[1], "#")[0], ":") || strings.HasPrefix(m[1], "/") {
				t.Errorf("%s leads out of the manual: %q", name, m[1])
			}
		}
	}
}

// TestIDs holds every id to be unique in the whole manual, and every link to
// lead to a page and a place that exist.
func TestIDs(t *testing.T) {
	all := pages(t, book(t))
	owner := map[string]string{}
	ids := regexp.MustCompile(` id="([^"]*)"`)
	for name, page := range all {
		for _, m := range ids.FindAllStringSubmatch(page, -1) {
			if other, twice := owner[m[1]]; twice {
				t.Errorf("the id %q stands in %s and in %s", m[1], other, name)
			}
			owner[m[1]] = name
		}
	}
	links := 0
	for name, page := range all {
		for _, m := range regexp.MustCompile(`<a href="([^"]*)"`).FindAllStringSubmatch(page, -1) {
			links++
			file, mark, _ := strings.Cut(m[1], "#")
			if file == "" {
				file = name
			}
			file = path.Join(path.Dir(name), file)
			if _, ok := all[file]; !ok {
				t.Errorf("%s: the link %q leads nowhere", name, m[1])
			}
			if mark != "" && owner[mark] != file {
				t.Errorf("%s: the link %q leads to no place", name, m[1])
			}
		}
	}
	if len(owner) < 20 || links < 20 {
		t.Errorf("only %d ids and %d links were looked at", len(owner), links)
	}
}

// TestFolders makes pages that lie in folders of the manual.
func TestFolders(t *testing.T) {
	deep := made(t, "plugs/how-to-read.md", guide.Docket{Code: "P1", Question: "Which plug?", Topics: []string{"wire"}},
		"See [the wire](../wire/speaker-wire.md).", guide.Guide{})
	wire := wireGuide(t)
	wire.File = "wire/speaker-wire.md"
	pairs := loadGuide(t)
	pairs.File = "wire/two-pairs.md"
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{deep, wire, pairs}, Edition: edition()})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	all := pages(t, b)
	for name, wants := range map[string][]string{
		"plugs/how-to-read.html": {`href="../style.css"`, `<a href="../wire/speaker-wire.html">the wire</a>`, `<a href="../index.html">the contents</a>`},
		"wire/speaker-wire.html": {`<a href="two-pairs.html">two pairs on one amplifier</a>`},
		"index.html":             {`href="style.css"`, `<a href="wire/speaker-wire.html">the wire</a>`, `<a href="plugs/how-to-read.html">Which plug?</a>`},
	} {
		for _, want := range wants {
			if !strings.Contains(all[name], want) {
				t.Errorf("%s does not hold %s", name, want)
			}
		}
	}
}

// TestBodies puts the bodies of all pages one after another, as an edition in
// one file will: whole elements, and a list of what each page needs.
func TestBodies(t *testing.T) {
	r := renderer(t, templates.Files)
	for _, l := range book(t).Leaves {
		p, err := r.Guide(l)
		if err != nil {
			t.Fatal(err)
		}
		body := string(p.Body)
		if !strings.HasPrefix(body, "<article") || !strings.HasSuffix(body, "</article>\n") {
			t.Errorf("%s: the body is no whole article", p.Path)
		}
		for _, tag := range []string{"article", "section", "div", "table", "tr", "td", "th", "dl", "ol", "ul", "p", "span", "data", "a"} {
			opened := len(regexp.MustCompile("<"+tag+"[ >]").FindAllString(body, -1))
			if closed := strings.Count(body, "</"+tag+">"); opened != closed {
				t.Errorf("%s: <%s> is opened %d times and closed %d times", p.Path, tag, opened, closed)
			}
		}
		if !slices.Equal(p.Needs, []string{render.StyleSheet}) {
			t.Errorf("%s needs %q", p.Path, p.Needs)
		}
		for _, need := range p.Needs {
			if _, err := fs.Stat(templates.Files, need); err != nil {
				t.Errorf("%s needs %q, which the templates do not hold", p.Path, need)
			}
		}
	}
}

// TestDrawings makes a page that shows drawings of the copy.
func TestDrawings(t *testing.T) {
	g := made(t, "wire/how-to-read.md", guide.Docket{Code: "A1", Question: "How?"},
		"![left](../drawings/a.svg) ![The *red* plug](../drawings/b%20c.png) ![left again](../drawings/a.svg)", guide.Guide{})
	drawn := func(path, source string) copyfolder.Drawing {
		return copyfolder.Drawing{Path: path, Data: []byte(source), Text: fault.NewText(path, source)}
	}
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{g}, Edition: edition(), Drawings: []copyfolder.Drawing{
		drawn("drawings/a.svg", "<svg xmlns='http://www.w3.org/2000/svg'/>"), drawn("drawings/b c.png", "\x89PNG\r\n\x1a\n"),
	}})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	p, err := renderer(t, templates.Files).Guide(b.Leaves[0])
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"drawings/a.svg", "drawings/b c.png"}; !slices.Equal(p.Drawings, want) {
		t.Errorf("the page shows %q, want %q", p.Drawings, want)
	}
	want := `<p><img class="drawing" src="../drawings/a.svg" alt="left"> <img class="photo" src="../drawings/b%20c.png" alt="The red plug"> ` +
		`<img class="drawing" src="../drawings/a.svg" alt="left again"></p>`
	if !strings.Contains(string(p.Body), want) {
		t.Errorf("the page does not show %s:\n%s", want, p.Body)
	}
}

// TestTogether sets pages at the same time; the race detector watches.
func TestTogether(t *testing.T) {
	b, r := book(t), renderer(t, templates.Files)
	alone := pages(t, b)
	var wait sync.WaitGroup
	for range 4 {
		for _, l := range b.Leaves {
			wait.Go(func() {
				p, err := r.Guide(l)
				if err != nil || string(p.HTML()) != alone[l.Path] {
					t.Errorf("%s differs when pages are set together: %v", l.Path, err)
				}
			})
		}
	}
	wait.Wait()
}

func renderer(t *testing.T, files fs.FS) *render.Renderer {
	t.Helper()
	r, err := render.New(files)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// withPhrases returns the templates with another file of phrases beside them,
// or in the place of one.
func withPhrases(t *testing.T, name, text string) fs.FS {
	t.Helper()
	files := fstest.MapFS{}
	err := fs.WalkDir(templates.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(templates.Files, path)
		files[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	files["phrases/"+name] = &fstest.MapFile{Data: []byte(text)}
	return files
}
