package specimen

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// text is one guide as it is written.
type text struct {
	i    int
	mode mode
	r    *rand.Rand
	b    strings.Builder
}

func (g *text) line(format string, args ...any) { fmt.Fprintf(&g.b, format+"\n", args...) }

func (g *text) docket() {
	topic, question := Topics[g.i%len(Topics)], fmt.Sprintf("What does bench sheet %d tell of this system?", g.i)
	if g.mode == typed {
		g.line("# %s\n\nThe run loses 0.251 dB.\n", question)
		return
	}
	g.line("```docket\ncode: %s\nquestion: %s\nanswer: The run loses %s of level.\ntopics: %s\norder: %d\n```\n",
		Code(g.i), question, g.figure("wire", "lost", ""), topic, g.i)
}

// name returns the name of a block, unique in a copy.
func (g *text) name(block string) string { return fmt.Sprintf("%s-%d", block, g.i) }

// figure prints a figure of a block, or the numeral typed in its place.
func (g *text) figure(block, name, typedIn string) string {
	if g.mode == typed {
		return typedIn
	}
	return fmt.Sprintf("<figure:%s.%s>", g.name(block), name)
}

// prose writes a paragraph of so many sentences.
func (g *text) prose(sentences int) {
	for range sentences {
		said := fmt.Sprintf(shapes[g.r.IntN(len(shapes))], pick(g.r, things), pick(g.r, places), pick(g.r, deeds))
		g.b.WriteString(strings.ToUpper(said[:1]) + said[1:])
		g.b.WriteByte('\n')
	}
	g.b.WriteByte('\n')
}

func pick(r *rand.Rand, from []string) string { return from[r.IntN(len(from))] }

var heads = []string{
	"What the wire takes", "What arrives at the chair", "What the lead does", "What another speaker does", "What the wall does",
}

var shapes = []string{
	"%s stood %s for a year before anybody %s.",
	"whoever looks at %s %s sees soon why the sheet was made and %s.",
	"we wrote down what %s did %s, and the helper %s.",
	"at first %s seemed to belong %s, until a visitor %s.",
	"the note about %s lay %s, where the reader %s.",
}

var things = []string{
	"the grey receiver", "a pair of small speakers", "the second pair", "the old tuner", "the lead with the paper label",
	"the roll of wire", "the drawer of plugs", "the card with the readings", "the record player", "the deck", "the shelf of discs",
	"the chair", "the carpet", "the long curtain",
}

var places = []string{
	"by the window", "in the back room", "under the stairs", "on the upper shelf", "beside the door", "at the end of the bench",
	"in the box by the lamp", "near the bookcase", "on the low table", "behind the curtain",
}

var deeds = []string{
	"asked what it was for", "drew a plan of it", "put a label on it", "read the plate on its back",
	"went to fetch a string to measure with", "told the others about it", "kept the paper that came with it",
	"made a list of what was wanted", "moved the chair a little", "turned the page", "wrote to ask for another sheet",
	"found the older reading in the book",
}
