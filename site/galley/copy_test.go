package galley

import (
	"fmt"
	"os"
	"path/filepath"

	"bindpost/calc/trade"
	"bindpost/site/press"
	"bindpost/templates"
)

// orderOf is the order to press the copy in a folder.
func orderOf(root string) press.Order {
	return press.Order{Copy: os.DirFS(root), Root: root, Library: trade.Library(), Templates: templates.Files, Program: "test"}
}

const imprint = `title: The Test Room Book
publisher: The test room
language: en-GB
date: "2026-11-26"
topics: [wire, speakers]
workings: yes
`

const standing = `kitchen:
  value: %d m
  says: the way to the kitchen, along the skirting
  sense: one way
  reference: the test room's tape
  mark: read
  date: "2026-11-02"
  review: "2028-11-02"
`

const shelf = `method: wire-off-shelf
asks: How much wire comes off our shelf?
takes:
  run: {unit: m, from: 0.5, to: 50, sense: one way, says: the way to the speaker}
  spare: {unit: m, from: 0, to: %d, says: the spare at each end}
working:
  - bought = 2*run + 2*spare   [our-rolls]
gives:
  bought: {unit: m, places: 1, round: up, says: wire to buy}
own references:
  our-rolls: {title: "Wire cut from our rolls, measured", date: "2026", mark: read}
cases:
  - {run: 9 m, spare: 0.5 m, bought: 19 m, within: 0.01 m, reference: our-rolls}
  - {run: 3 m, spare: 0 m, bought: 6 m, within: 0.01 m, reference: our-rolls}
  - {run: 20 m, spare: 1 m, bought: 42 m, within: 0.01 m, reference: our-rolls}
`

const drawing = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d 40"><title>Two posts</title><path d="M4 20h32"/></svg>
`

// copyFiles is a small copy: guides that compute, one that quotes another, a
// drawing, a standing figure, a method of its own.
func copyFiles() map[string]string {
	return map[string]string{
		"imprint.yaml":                imprint,
		"standing.yaml":               fmt.Sprintf(standing, 9),
		"methods/wire-off-shelf.yaml": fmt.Sprintf(shelf, 5),
		"drawings/posts.svg":          fmt.Sprintf(drawing, 80),
		"lost.md":                     lossGuide("L1", "lost", 15),
		"rooms/far.md":                lossGuide("L2", "far", 18),
		"rooms/upstairs/attic.md":     lossGuide("L3", "attic", 12),
		"shelf.md": guideOf("S1", "How much wire comes off the shelf?", "It is <figure:shelf.bought>.", "speakers",
			"```calc wire-off-shelf\nname: shelf\nrun: <figure:standing.kitchen>\nspare: 0.5 m, 1 m\nrows: spare\nshow: bought\nfigure: bought = bought when spare is 1 m\n```\n"),
		"overview.md": guideOf("O1", "What is lost where?", "In the far room <figure:far.lost>.", "wire",
			"![Two posts](drawings/posts.svg)\n\nSee [the attic](rooms/upstairs/attic.md), where it is <figure:attic.lost>.\n"),
	}
}

func guideOf(code, question, answer, topic, body string) string {
	return fmt.Sprintf("```docket\ncode: %s\nquestion: %s\nanswer: %s\ntopics: %s\n```\n\n%s", code, question, answer, topic, body)
}

// lossGuide is a guide with a table of what speaker wire loses, up to a run in
// metres that three divides.
func lossGuide(code, name string, longest int) string {
	return guideOf(code, "How much is lost on the way called "+name+"?", "It is <figure:"+name+".lost>.", "wire",
		fmt.Sprintf("```calc speaker-wire\nname: %s\ngauge: 12, 14, 16 AWG\nrun: 3 m to %d m by 3 m\nload: 8 ohm\nrows: gauge\ncolumns: run\nshow: loss\n"+
			"figure: lost = loss when gauge is 16 AWG and run is 9 m\n```\n", name, longest))
}

// lay writes files into a folder, the imprint last: without it there is no copy.
func lay(root string, files map[string]string) error {
	for _, last := range []bool{false, true} {
		for name, text := range files {
			if (name == "imprint.yaml") != last {
				continue
			}
			path := filepath.Join(root, filepath.FromSlash(name))
			if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
				return err
			}
			if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
				return err
			}
		}
	}
	return nil
}
