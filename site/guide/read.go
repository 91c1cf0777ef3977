package guide

import (
	"slices"
	"strings"
	"sync"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// Kit is what a guide is made with besides its own text.
type Kit struct {
	Library  *method.Library
	Standing *Standings // nil where the copy keeps none
	Edition  Edition
	Words    string // hash of the words that the copy brings for its own methods; "" where it brings none
}

// standing returns a standing figure, nil where there is none that is sound.
func (k Kit) standing(name string) *Standing {
	return k.Standing.Named(name)
}

// Source returns the reference of an ID, of the library or of a standing figure;
// nil where there is none.
func (k Kit) Source(id string) *Source {
	if name, is := strings.CutPrefix(id, standingBlock+"."); is {
		if s := k.standing(name); s != nil {
			return &s.Source
		}
		return nil
	}
	if r, known := k.Library.Reference(id); known {
		return &r.Citation
	}
	return nil
}

// markdown is the parser of guides: CommonMark with pipe tables, footnotes and
// definition lists. It may be used by several goroutines.
var markdown = sync.OnceValue(func() parser.Parser {
	return goldmark.New(goldmark.WithExtensions(extension.Table, extension.Footnote, extension.DefinitionList)).Parser()
})

// Read makes a finished guide of a text. With a stop on the list the guide is
// not fit to print; it is returned all the same, for what it holds is named
// elsewhere.
func Read(t *fault.Text, kit Kit) (*Guide, *fault.List) {
	r := &reader{
		kit: kit, text: t, source: []byte(t.Source()), faults: &fault.List{}, blocks: map[string]*label{}, guards: map[*method.Caution]int{},
	}
	r.guide = &Guide{Text: t, File: t.Name(), Source: r.source, Figures: map[string]*Figure{}}
	r.guide.Tree = markdown().Parse(text.NewReader(r.source))
	r.findFences()
	r.readDocket()
	r.readBlocks()
	r.readProse(r.guide.Tree)
	if r.guide.Docket.Answer != nil {
		r.readProse(r.guide.Docket.Answer)
	}
	r.checkTyped()
	r.gatherCautions()
	r.gatherBroken()
	r.explain()
	r.noteAsked()
	return r.guide, r.faults
}

// reader reads one guide.
type reader struct {
	kit      Kit
	text     *fault.Text
	source   []byte
	faults   *fault.List
	guide    *Guide
	fences   []fence           // the blocks that are ours, in order
	blocks   map[string]*label // by name, also those in which a fault stands
	lost     bool              // a block whose name could not be read: no figure can be told to be missing
	noDocket bool              // a docket that could not be read: it is not missing
	cautions []*method.Caution
	drawn    []*saying               // words that drawings print
	guards   map[*method.Caution]int // where what a caution guards begins first
	asked    Asked
}

// gatherBroken names the blocks whose figures other guides must not miss.
func (r *reader) gatherBroken() {
	r.guide.Lost = r.lost
	for name, b := range r.blocks {
		if b.broken || b.doubled {
			r.guide.Broken = append(r.guide.Broken, name)
		}
	}
	slices.Sort(r.guide.Broken)
}
