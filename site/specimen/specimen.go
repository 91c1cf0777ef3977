// Package specimen makes copies of as many guides as are wanted, all alike in
// size and none the same, for tests and benchmarks of the press. The program
// does not import it. What it says is filling: its figures are real, its
// sentences only stand for an author's.
package specimen

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing/fstest"
)

// Topics are the topics of a specimen's contents.
var Topics = []string{"wire", "loudness", "lines", "loads", "room"}

// Copy returns a copy of guides 0 to n-1, with the workings or without.
func Copy(n int, workings bool) fstest.MapFS {
	files := fstest.MapFS{"imprint.yaml": &fstest.MapFile{Data: []byte(Imprint(workings))}}
	for i := range n {
		files[File(i)] = &fstest.MapFile{Data: []byte(Guide(i))}
	}
	return files
}

// Imprint returns the imprint of a specimen.
func Imprint(workings bool) string {
	told := "no"
	if workings {
		told = "yes"
	}
	return fmt.Sprintf(`title: The Long Shelf
publisher: The Bench Across the Yard
language: en-GB
date: "2026-11-26"
paper: A4
type: 12 pt
measures: metric
topics: [%s]
workings: %s
format: 1
`, strings.Join(Topics, ", "), told)
}

// File returns the file of guide i in its copy. A folder holds at most a
// hundred guides.
func File(i int) string { return fmt.Sprintf("shelf-%03d/guide-%05d.md", i/100, i) }

// Code returns the page code of guide i.
func Code(i int) string { return fmt.Sprintf("S%d", i) }

// Guide returns the text of guide i: some 8 kB of prose, five blocks of twenty
// cells, a chart, and ten figures in prose, one of them in every tenth guide
// that of the guide before.
func Guide(i int) string { return written(i, computed) }

// Typed returns guide i as somebody would write it who has no press: plain
// Markdown with the same prose, its tables and figures typed in. The numbers are
// as long as the computed ones, and are not the same.
func Typed(i int) string { return written(i, typed) }

// mode says how a guide gives its figures.
type mode bool

const (
	computed mode = true
	typed    mode = false
)

func written(i int, m mode) string {
	r := rand.New(rand.NewPCG(uint64(i), 0x5bec))
	g := &text{i: i, mode: m, r: r}
	g.docket()
	g.prose(6)
	for k, b := range blocks {
		g.line("## %s\n", heads[k])
		g.prose(6)
		b(g)
		g.figures(k)
		g.prose(6)
	}
	g.line("## Where to go on\n")
	if i > 0 {
		g.line("The guide before this one is [on the shelf too](%s).", relative(i, i-1))
	}
	g.prose(6)
	return g.b.String()
}

// relative returns the way from one guide's folder to another guide.
func relative(from, to int) string {
	if from/100 == to/100 {
		return File(to)[strings.IndexByte(File(to), '/')+1:]
	}
	return "../" + File(to)
}
