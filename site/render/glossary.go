package render

import (
	"html/template"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// termNode sets a term where it is explained.
func (s *setter) termNode(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	tag := "</dfn>"
	if entering {
		tag = `<dfn id="` + escaped(bind.TermID(s.leaf.Guide, node.(*guide.TermNode).Term)) + `">`
	}
	_, err := w.WriteString(tag)
	return ast.WalkContinue, err
}

// glossaryParts lists the terms under their letters, each with the sentence
// that explains it.
func (r *Renderer) glossaryParts(w words, b *bind.Book) []listPart {
	var parts []listPart
	last := ""
	for _, e := range b.Glossary {
		if letter := w.letter(e.Term.Word); letter != last {
			parts, last = append(parts, listPart{Head: asHTML(letter)}), letter
		}
		add(parts, func() entry {
			places := commaed(len(e.Where), func(i int) bind.Spot { return e.Where[i] })
			lines := []template.HTML{newSetter(r, w, e.Leaf).said(e.Sentence)}
			if e.Also != nil {
				lines = append(lines, w.fill("glossary-also", "words", strings.Join(e.Also, ", ")))
			}
			return entry{Title: inTurn(inOne("<b>"+asHTML(e.Term.Word)+"</b> "), places), Lines: eachInOne(lines)}
		})
	}
	return parts
}

// letter returns the head under which a word stands in a list by the alphabet.
func (w words) letter(word string) string {
	first, _ := utf8.DecodeRuneInString(word)
	if !unicode.IsLetter(first) {
		return w.Say("letter-other")
	}
	return string(unicode.ToTitle(first))
}

// said sets a sentence with its figures, and nothing else of how it stands in
// its guide.
func (s *setter) said(sentence bind.Sentence) template.HTML {
	var all template.HTML
	for _, p := range sentence.Pieces {
		if p.Figure == nil {
			all += asHTML(p.Words)
			continue
		}
		f := s.figureOf(p.Figure)
		all += s.figureHTML(f)
	}
	return capitalHTML(all)
}
