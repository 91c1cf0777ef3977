package press_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/bind"
	"bindpost/site/folder"
	"bindpost/site/press"
	"bindpost/site/render"
	"bindpost/templates"
)

// made presses a copy into memory, without a fault, and returns its files. The
// demonstration is pressed once for all tests.
func made(t *testing.T, copied fs.FS) map[string]string {
	t.Helper()
	if copied == fs.FS(content.Files) {
		return demonstrationFiles(t)
	}
	m, faults := press.Make(press.Order{Copy: copied, Library: trade.Library(), Templates: templates.Files, Program: "test"})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	files := map[string]string{}
	for _, f := range m.Files {
		files[f.Path] = string(f.Data)
	}
	return files
}

// demonstrationFiles reads what the press wrote of the demonstration.
func demonstrationFiles(t *testing.T) map[string]string {
	t.Helper()
	manual, err := demonstration()
	must(t, err)
	files := map[string]string{}
	must(t, fs.WalkDir(os.DirFS(manual), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path == folder.StampName {
			return err
		}
		data, err := os.ReadFile(filepath.Join(manual, filepath.FromSlash(path)))
		files[path] = string(data)
		return err
	}))
	return files
}

func guideText(code, answer, rest string) *fstest.MapFile {
	return &fstest.MapFile{Data: []byte("```docket\ncode: " + code + "\nquestion: What does " + code + " say?\nanswer: " + answer +
		"\ntopics: wire\n```\n\n" + rest)}
}

func runBlock(name, run string) string {
	return "```calc speaker-wire\nname: " + name + "\ngauge: 14, 16 AWG\nrun: " + run + "\nload: 8 ohm\nrows: gauge\nshow: loss\n" +
		"figure: lost = loss when gauge is 16 AWG\nwork: gauge is 16 AWG\n```\n"
}

// TestOneValueMoves changes one value in a guide. Its table and every
// sentence, short answer and line of the contents that uses it follow; nothing
// else in the manual moves by a byte.
func TestOneValueMoves(t *testing.T) {
	copied := func(run string) fstest.MapFS {
		return fstest.MapFS{
			"imprint.yaml": &fstest.MapFile{Data: []byte(plainImprint)},
			"own.md":       guideText("A1", "It loses <figure:run.lost>.", runBlock("run", run)+"\n## Of <figure:run.lost>\n\nThat is <figure:run.lost>.\n"),
			"quotes.md":    guideText("B1", "As much as <figure:run.lost>.", "Read: <figure:run.lost>. See [there](own.md#A1-1).\n"),
			"block.md":     guideText("C1", "It loses <figure:alone.lost>.", runBlock("alone", "3 m")),
			"plain.md":     guideText("D1", "In words.", "Words, and a [link](own.md#A1-T1).\n"),
		}
	}
	was, is := made(t, copied("9 m")), made(t, copied("12 m"))
	// 0.2537 dB and 0.3376 dB: ngspice 39.3, 16 AWG into 8 ohm; rounded up.
	const before, after = "0.26", "0.34"
	for path, text := range is {
		moves := path == "own.html" || path == "quotes.html" || path == bind.ContentsPath || path == bind.ReadingPath || path == render.FindIndex
		if (text != was[path]) != moves {
			t.Errorf("%s: moved is %v, and should be %v", path, !moves, moves)
		}
		if strings.Contains(text, before) {
			t.Errorf("%s still holds %s", path, before)
		}
	}
	// own: answer, heading, sentence, cell, work; quotes: answer, sentence;
	// contents: an answer for each of the two. How to read shows another figure.
	for path, count := range map[string]int{"own.html": 5, "quotes.html": 2, bind.ContentsPath: 2} {
		if n := strings.Count(is[path], after); n != count {
			t.Errorf("%s holds %s %d times, want %d", path, after, n, count)
		}
		if n := strings.Count(was[path], before); n != count {
			t.Errorf("%s held %s %d times, want %d", path, before, n, count)
		}
	}
	if len(is) != len(was) {
		t.Errorf("%d files, and %d before", len(is), len(was))
	}
	id := `id="A1-1"`
	if !strings.Contains(is["own.html"], id) || !strings.Contains(was["own.html"], id) {
		t.Error("a figure in a heading changes the heading's id")
	}
}

// TestManyGuides presses 300 guides, and 600: the contents, the lists at the
// back and the lines of words on a page stay linear in size.
func TestManyGuides(t *testing.T) {
	sizes := map[string][]int{}
	longest := []int{}
	const n = 300
	for _, count := range []int{n, 2 * n} {
		files := made(t, manyGuides(count))
		const most = 30 // pages beside the guides, style and scripts
		if beside := len(files) - count; beside < 5 || beside > most {
			t.Fatalf("%d guides give %d files", count, len(files))
		}
		for _, path := range []string{bind.ContentsPath, bind.TablesPath, bind.ReferencesPath, bind.CautionsPath, bind.IndexPath, render.FindIndex} {
			sizes[path] = append(sizes[path], len(files[path]))
		}
		long := 0
		for path, text := range files {
			if strings.HasPrefix(path, "guide-") {
				long = max(long, len(text))
			}
		}
		longest = append(longest, long)
	}
	for path, s := range sizes {
		if s[1] > 2*s[0]+s[0]/20 {
			t.Errorf("%s has %d bytes with %d guides and %d with %d", path, s[0], n, s[1], 2*n)
		}
		if s[1] < s[0]*3/2 {
			t.Errorf("%s hardly grows: %v", path, s)
		}
	}
	if longest[1] > longest[0]+100 {
		t.Errorf("the page of a guide grows with the number of guides: %v", longest)
	}
}

// manyGuides is a copy in which every guide has a table, quotes its forerunner
// and leads to the next.
func manyGuides(count int) fstest.MapFS {
	copied := fstest.MapFS{"imprint.yaml": &fstest.MapFile{Data: []byte(plainImprint)}}
	for i := range count {
		next := (i + 1) % count
		text := runBlock(fmt.Sprintf("run-%04d", i), fmt.Sprintf("%d m", 3+i%20)) +
			fmt.Sprintf("\nMore than <figure:run-%04d.lost>; see [the next](guide-%04d.md).\n", next, next)
		copied[fmt.Sprintf("guide-%04d.md", i)] = guideText(fmt.Sprintf("A%04d", i), fmt.Sprintf("It loses <figure:run-%04d.lost>.", i), text)
	}
	return copied
}

// TestSpacesInNames leads to a guide whose name holds a space by an address
// that a browser understands.
func TestSpacesInNames(t *testing.T) {
	files := made(t, fstest.MapFS{
		"imprint.yaml": &fstest.MapFile{Data: []byte(plainImprint)},
		"a b.md":       guideText("A1", "This.", runBlock("run", "9 m")),
		"sub/c.md":     guideText("B1", "That.", "See [the other](../a%20b.md) and [its table](<../a b.md#A1-T1>).\n"),
	})
	for path, want := range map[string]string{
		bind.ContentsPath: `<a href="a%20b.html">`, bind.TablesPath: `<a href="a%20b.html#A1-T1">`,
		"sub/c.html": `<a href="../a%20b.html#A1-T1">`, "a b.html": `<a href="sub/c.html">`,
	} {
		if !strings.Contains(files[path], want) || strings.Contains(files[path], `a b.html"`) {
			t.Errorf("%s does not hold %s", path, want)
		}
	}
}
