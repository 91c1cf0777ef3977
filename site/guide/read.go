package guide

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/site/folder"
)

// Kit is what a guide is made with besides its own text.
type Kit struct {
	Library *method.Library
	Edition Edition
}

// Markdown returns the Markdown that guides are written in: CommonMark with
// pipe tables, footnotes and definition lists.
func Markdown() goldmark.Markdown {
	return goldmark.New(goldmark.WithExtensions(extension.Table, extension.Footnote, extension.DefinitionList))
}

// Read makes a finished guide of a text. With a stop on the list the guide is
// not fit to print; it is returned all the same, for what it holds is named
// elsewhere.
func Read(t *fault.Text, kit Kit) (*Guide, *fault.List) {
	r := &reader{
		kit: kit, text: t, source: []byte(t.Source()), faults: &fault.List{}, blocks: map[string]*block{},
	}
	r.guide = &Guide{Text: t, File: t.Name(), Source: r.source, Figures: map[string]*Figure{}, Hash: hash(t, kit)}
	r.guide.Tree = Markdown().Parser().Parse(text.NewReader(r.source))
	r.readDocket()
	r.readBlocks()
	r.setFigures(r.guide.Tree)
	if r.guide.Docket.Answer != nil {
		r.setFigures(r.guide.Docket.Answer)
	}
	r.gatherCautions()
	return r.guide, r.faults
}

// hash names everything that the guide is made from. Methods are named as a
// whole set: a guide is made anew when any of them changes.
func hash(t *fault.Text, kit Kit) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%+v\n", folder.Hash(t), kit.Library.Hash(), kit.Edition))
	return hex.EncodeToString(sum[:])
}

// reader reads one guide.
type reader struct {
	kit      Kit
	text     *fault.Text
	source   []byte
	faults   *fault.List
	guide    *Guide
	blocks   map[string]*block // by name, also those in which a fault stands
	lost     bool              // a block whose name could not be read: no figure can be told to be missing
	cautions []*method.Caution
}

// fences returns the fenced blocks of the guide whose info line begins with a
// word, in order.
func (r *reader) fences(word string) []*ast.FencedCodeBlock {
	var found []*ast.FencedCodeBlock
	ast.Walk(r.guide.Tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if f, ok := n.(*ast.FencedCodeBlock); ok && entering && string(f.Language(r.source)) == word {
			found = append(found, f)
		}
		return ast.WalkContinue, nil
	})
	return found
}

// info returns the place of a fence's info line.
func (r *reader) info(f *ast.FencedCodeBlock) fault.Place {
	return r.text.Place(f.Info.Segment.Start, f.Info.Segment.Stop).Trim()
}

// lines returns the lines of a fence that hold something, and whether all of
// them could be parted.
func (r *reader) lines(f *ast.FencedCodeBlock) (lines []line, whole bool) {
	whole = true
	for i := range f.Lines().Len() {
		s := f.Lines().At(i)
		p := r.text.Place(s.Start, s.Stop).Trim()
		if p.String() == "" {
			continue
		}
		l, fault := splitLine(p)
		if fault != nil {
			r.faults.Add(fault)
			whole = false
			continue
		}
		lines = append(lines, l)
	}
	return lines, whole
}

// gatherCautions lists the cautions of all tables, each once, gravest first
// and otherwise in the order in which they came up.
func (r *reader) gatherCautions() {
	for _, c := range r.cautions {
		r.guide.Cautions = append(r.guide.Cautions, &Caution{
			ID: c.ID, Signal: c.Signal, Happens: c.Happens, How: c.How, Instead: c.Instead, Ask: c.Ask,
		})
	}
	slices.SortStableFunc(r.guide.Cautions, func(a, b *Caution) int {
		return slices.Index(method.Signals, a.Signal) - slices.Index(method.Signals, b.Signal)
	})
}

// warn adds a caution to those of the guide.
func (r *reader) warn(c *method.Caution) {
	if !slices.Contains(r.cautions, c) {
		r.cautions = append(r.cautions, c)
	}
}
