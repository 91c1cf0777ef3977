package press_test

import (
	"fmt"
	"math/rand/v2"
	"path"
	"slices"
	"strings"
	"testing/fstest"

	"bindpost/site/press"
)

// edited is a copy that somebody edits at random: values, words, codes and
// names, whole files, and mistakes of all kinds, which are mended later.
type edited struct {
	files fstest.MapFS
	r     *rand.Rand
	last  string                   // what the last edit was
	mend  []func(c *edited) string // what puts mistakes right again
	fresh int
}

func newEdited(r *rand.Rand) *edited {
	c := &edited{files: fstest.MapFS{}, r: r}
	c.put("imprint.yaml", "title: The Shelf\nlanguage: en-GB\ndate: \"2026-11-26\"\ntopics: [wire, room, other]\nworkings: yes\nformat: 1\n")
	c.put("standing.yaml", standingText(9, 8))
	c.put("methods/off-reel.yaml", ownMethod("off-reel", "How much wire comes off the reel?", 2))
	c.put("methods/on-reel.yaml", ownMethod("on-reel", "How much wire goes on the reel?", 4))
	c.put("drawings/way.svg", drawing("way"))
	c.put("a.md", wireGuide("A1", "What does the run take?", "wire", "run-a", "3 m", "![the way](drawings/way.svg) Look at [the next](b.md#B1-T1).\n"))
	c.put("b.md", wireGuide("B1", "What does the other run take?", "wire", "run-b", "5 m", "The first loses <figure:run-a.lost> of level. Back to [the first](a.md).\n"))
	c.put("c.md", wireGuide("C1", "How loud is it?", "room", "run-c", "7 m", "A term is explained here: the *feed* is what goes in.\n"))
	c.put("d.md", docketText("D1", "How much wire is wanted?", "other")+ownBlock("off-reel", "off-d", "6 m"))
	c.put("e.md", docketText("E1", "How much goes back?", "other, room")+ownBlock("on-reel", "on-e", "8 m"))
	c.put("deep/f.md", docketText("F1", "How far is it?", "room")+"It is <figure:standing.kitchen> to the kitchen, and <figure:standing.seat> to the seat. See [the first](../a.md#A1-1).\n")
	return c
}

func (c *edited) put(name, text string) { c.files[name] = &fstest.MapFile{Data: []byte(text)} }

func (c *edited) text(name string) string { return string(c.files[name].Data) }

func docketText(code, question, topics string) string {
	return fmt.Sprintf("```docket\ncode: %s\nquestion: %s\nanswer: It is told below.\ntopics: %s\n```\n\n", code, question, topics)
}

func wireGuide(code, question, topics, block, run, more string) string {
	return docketText(code, question, topics) + fmt.Sprintf(
		"```calc speaker-wire\nname: %s\ngauge: 14, 16 AWG\nrun: %s\nload: 8 ohm\nrows: gauge\nshow: loss\nfigure: lost = loss when gauge is 16 AWG\n```\n\n## A section\n\nIt loses <figure:%s.lost>.\n%s",
		block, run, block, more)
}

func ownBlock(method, block, run string) string {
	return fmt.Sprintf("```calc %s\nname: %s\nrun: %s\nfigure: much = bought\n```\n\nThat is <figure:%s.much>.\n", method, block, run, block)
}

func standingText(kitchen, seat int) string {
	return standing("kitchen", kitchen, "the way to the kitchen") + standing("seat", seat, "the way to the seat")
}

func standing(name string, metres int, says string) string {
	return fmt.Sprintf("%s:\n  value: %d m\n  says: %s\n  reference: a tape along the skirting\n  mark: read\n  date: \"2026-11-02\"\n", name, metres, says)
}

func ownMethod(name, asks string, times int) string {
	return fmt.Sprintf(`method: %s
asks: %s
takes:
  run: {unit: m, from: 1, to: 50, sense: one way, says: the way to the set}
working:
  - bought = %d*run   [out-and-back]
gives:
  bought: {unit: m, places: 1, round: up, says: wire off the shelf}
cases:
  - {run: 9 m, bought: %d m, within: 0.01 m, reference: arithmetic}
  - {run: 3 m, bought: %d m, within: 0.01 m, reference: arithmetic}
  - {run: 20 m, bought: %d m, within: 0.01 m, reference: arithmetic}
`, name, asks, times, 9*times, 3*times, 20*times)
}

func drawing(words string) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 40"><title>%s</title><desc>%s</desc><line x1="0" y1="20" x2="100" y2="20"/></svg>`, words, words)
}

// edit does one edit, and says what changed as somebody who watches the folder
// would.
func (c *edited) edit() press.Changes {
	if len(c.mend) > 0 && c.r.IntN(3) > 0 {
		last := len(c.mend) - 1
		mend := c.mend[last]
		c.mend = c.mend[:last]
		return c.changed("mends "+mend(c), "")
	}
	do := edits[c.r.IntN(len(edits))]
	return do(c)
}

// changed says what changed: of one file its path, or that it may be anything.
func (c *edited) changed(what, file string) press.Changes {
	c.last = what
	if file == "" || c.r.IntN(8) == 0 {
		return press.Changes{Any: true}
	}
	return press.Changes{Paths: []string{file}}
}

// guides returns the guides of the copy, sorted.
func (c *edited) guides() []string {
	var all []string
	for name := range c.files {
		if path.Ext(name) == ".md" {
			all = append(all, name)
		}
	}
	slices.Sort(all)
	return all
}

func (c *edited) oneOf(all []string) string { return all[c.r.IntN(len(all))] }

// replace changes the first of some words in a file; it says whether it stands
// there.
func (c *edited) replace(file, from, to string) bool {
	at, known := c.files[file]
	if !known || !strings.Contains(string(at.Data), from) {
		return false
	}
	c.put(file, strings.Replace(string(at.Data), from, to, 1))
	return true
}

// breaks makes a mistake in a file that is mended later by putting the file back
// as it was.
func (c *edited) breaks(what, file, text string) press.Changes {
	before, was := c.files[file]
	c.put(file, text)
	c.mend = append(c.mend, func(c *edited) string {
		if was {
			c.files[file] = before
		} else {
			delete(c.files, file)
		}
		return what
	})
	return c.changed(what, file)
}

// edits are what somebody does to a copy.
var edits = []func(c *edited) press.Changes{
	func(c *edited) press.Changes { // a value
		file := c.oneOf(c.guides())
		for _, from := range []string{"3 m", "4 m", "5 m", "6 m", "7 m", "8 m", "11 m"} {
			if c.replace(file, "run: "+from, fmt.Sprintf("run: %d m", 3+c.r.IntN(9))) {
				break
			}
		}
		return c.changed("a value in "+file, file)
	},
	func(c *edited) press.Changes { // words
		file := c.oneOf(c.guides())
		c.put(file, c.text(file)+fmt.Sprintf("\nOne more sentence, the %d. of them.\n", c.r.IntN(1000)))
		return c.changed("words in "+file, file)
	},
	func(c *edited) press.Changes { // a short answer
		file := c.oneOf(c.guides())
		c.replace(file, "It is told below.", fmt.Sprintf("It is told in %d words.", c.r.IntN(100)))
		return c.changed("the answer of "+file, file)
	},
	func(c *edited) press.Changes { // a question
		file := c.oneOf(c.guides())
		c.replace(file, "question: How", "question: Just how")
		return c.changed("the question of "+file, file)
	},
	func(c *edited) press.Changes { // a new section
		file := c.oneOf(c.guides())
		c.put(file, c.text(file)+"\n## Another section\n\nWith words.\n")
		return c.changed("a section in "+file, file)
	},
	func(c *edited) press.Changes { // a topic
		file := c.oneOf(c.guides())
		c.replace(file, "topics: wire\n", "topics: room, wire\n")
		return c.changed("a topic of "+file, file)
	},
	func(c *edited) press.Changes { // a standing figure
		c.put("standing.yaml", standingText(5+c.r.IntN(9), 8))
		return c.changed("a standing figure", "standing.yaml")
	},
	func(c *edited) press.Changes { // a method of the copy
		c.put("methods/off-reel.yaml", ownMethod("off-reel", "How much wire comes off the reel?", 2+c.r.IntN(3)))
		return c.changed("a method", "methods/off-reel.yaml")
	},
	func(c *edited) press.Changes { // a method's words
		c.put("methods/on-reel.yaml", ownMethod("on-reel", fmt.Sprintf("How much goes on reel %d?", c.r.IntN(5)), 4))
		return c.changed("a method's question", "methods/on-reel.yaml")
	},
	func(c *edited) press.Changes { // the imprint
		c.put("imprint.yaml", strings.Replace(c.text("imprint.yaml"), "title: The", fmt.Sprintf("title: The %d.", c.r.IntN(100)), 1))
		return c.changed("the title", "imprint.yaml")
	},
	func(c *edited) press.Changes { // the workings
		if !c.replace("imprint.yaml", "workings: yes", "workings: no") {
			c.replace("imprint.yaml", "workings: no", "workings: yes")
		}
		return c.changed("the workings", "imprint.yaml")
	},
	func(c *edited) press.Changes { // a drawing
		c.put("drawings/way.svg", drawing(fmt.Sprintf("way %d", c.r.IntN(100))))
		return c.changed("a drawing", "drawings/way.svg")
	},
	func(c *edited) press.Changes { // a new guide
		c.fresh++
		file, name := fmt.Sprintf("new/g%d.md", c.fresh), fmt.Sprintf("run-g%d", c.fresh)
		c.put(file, wireGuide(fmt.Sprintf("G%d", c.fresh), "What is new?", "other", name, "4 m", "And <figure:standing.kitchen>.\n"))
		return c.changed("a new guide "+file, file)
	},
	func(c *edited) press.Changes { // a guide away
		all := slices.DeleteFunc(c.guides(), func(name string) bool { return !strings.HasPrefix(name, "new/") })
		if len(all) == 0 {
			return c.changed("nothing", "")
		}
		file := c.oneOf(all)
		delete(c.files, file)
		return c.changed(file+" away", file)
	},
	func(c *edited) press.Changes { // a guide renamed
		all := slices.DeleteFunc(c.guides(), func(name string) bool { return !strings.HasPrefix(name, "new/") })
		if len(all) == 0 {
			return c.changed("nothing", "")
		}
		file := c.oneOf(all)
		c.fresh++
		to := fmt.Sprintf("new/h%d.md", c.fresh)
		c.files[to] = c.files[file]
		delete(c.files, file)
		c.changed(file+" renamed", "")
		return press.Changes{Paths: []string{file, to}}
	},
	func(c *edited) press.Changes { // two guides at once
		for _, file := range []string{"a.md", "b.md"} {
			c.put(file, c.text(file)+"\nBoth say more.\n")
		}
		c.changed("a.md and b.md", "")
		return press.Changes{Paths: []string{"a.md", "b.md"}}
	},
	func(c *edited) press.Changes { // nothing
		file := c.oneOf(c.guides())
		return c.changed("nothing in "+file, file)
	},
	func(c *edited) press.Changes { // a mistake in a block
		file := c.oneOf([]string{"a.md", "b.md", "c.md"})
		return c.breaks("a wrong unit in "+file, file, strings.Replace(c.text(file), "load: 8 ohm", "load: 8 m", 1))
	},
	func(c *edited) press.Changes { // a warning
		file := c.oneOf([]string{"a.md", "b.md", "c.md"})
		return c.breaks("a typed figure in "+file, file, c.text(file)+"\nIt takes 12 ohm of it.\n")
	},
	func(c *edited) press.Changes { // a typed figure that may be a standing one
		return c.breaks("a typed length", "c.md", c.text("c.md")+fmt.Sprintf("\nThe skirting is %d m long.\n", 5+c.r.IntN(9)))
	},
	func(c *edited) press.Changes { // a standing figure that is misspelt
		return c.breaks("a standing figure misspelt", "deep/f.md", c.text("deep/f.md")+"\nIt is <figure:standing.kichen>.\n")
	},
	func(c *edited) press.Changes { // one more standing figure, or one less
		text := standingText(5+c.r.IntN(9), 8)
		if c.r.IntN(2) == 0 {
			text += standing("attic", 7, "the way to the attic")
		}
		c.put("standing.yaml", text)
		return c.changed("the standing figures", "standing.yaml")
	},
	func(c *edited) press.Changes { // a code that is taken
		return c.breaks("a code twice", "new/twice.md", docketText("A1", "Whose code is that?", "other")+"Words.\n")
	},
	func(c *edited) press.Changes { // a link that leads nowhere
		file := c.oneOf(c.guides())
		return c.breaks("a lost link in "+file, file, c.text(file)+"\nSee [what is not there](nowhere.md).\n")
	},
	func(c *edited) press.Changes { // a figure that nobody names
		return c.breaks("a lost figure", "c.md", c.text("c.md")+"\nIt is <figure:run-a.gone>.\n")
	},
	func(c *edited) press.Changes { // a method that cannot be read
		return c.breaks("a broken method", "methods/off-reel.yaml", "method: off-reel\nasks: [\n")
	},
	func(c *edited) press.Changes { // no standing figures
		return c.breaks("standing figures that cannot be read", "standing.yaml", "kitchen: [\n")
	},
	func(c *edited) press.Changes { // a guide with a term
		file := c.oneOf([]string{"a.md", "c.md"})
		return c.breaks("a term in "+file, file, strings.Replace(c.text(file), "topics:", "explains: level\ntopics:", 1)+"\nA level is what a meter shows.\n")
	},
	func(c *edited) press.Changes { // a drawing away
		text := c.text("a.md")
		return c.breaks("a drawing that nobody shows", "a.md", strings.Replace(text, "![the way](drawings/way.svg) ", "", 1))
	},
}
