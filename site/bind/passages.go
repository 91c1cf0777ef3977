package bind

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"bindpost/site/guide"
)

// PassageKind says what a passage is.
type PassageKind uint8

// The kinds of passages.
const (
	AnswerPassage  PassageKind = iota // a sentence of the short answer
	HeadPassage                       // a heading
	TablePassage                      // a table, by what it is called
	InTablePassage                    // a sentence of the table before it
	TermPassage                       // a term that the passage after it explains
	SaidPassage                       // a sentence of the text
)

// Passage is something that a guide says, with the place where it says it.
type Passage struct {
	Kind  PassageKind
	Code  string       // of the section or the table; that of the guide before the first section
	Text  string       // as it is printed, one space between words; "" of a table, whose caption is made where pages are
	Table *guide.Table // of a table
}

// Passages returns all that a guide says, in its order.
func (l *Leaf) Passages() []Passage {
	const perBlock = 3 // passages, more or less
	p := &passenger{sentenceFinder: newSentenceFinder(l)}
	p.passages = make([]Passage, 0, perBlock*len(p.said))
	if answer := l.Guide.Docket.Answer; answer != nil {
		for _, s := range p.block(answer) {
			p.add(AnswerPassage, p.where, p.text(s))
		}
	}
	if l.Guide.Tree != nil {
		p.read(l.Guide.Tree)
	}
	return p.passages
}

// passenger gathers the passages of one guide.
type passenger struct {
	*sentenceFinder
	passages []Passage
	table    string // number of the table that is being read
}

func (p *passenger) add(kind PassageKind, code, text string) {
	if text = oneSpaced(text); text != "" {
		p.passages = append(p.passages, Passage{Kind: kind, Code: code, Text: text})
	}
}

// oneSpaced returns text with one space between its words, and none at its ends.
// Most stands so already.
func oneSpaced(text string) string {
	before := ' '
	for _, r := range text {
		letter := r > ' ' && r < utf8.RuneSelf
		if !letter && (r != ' ' && unicode.IsSpace(r) || r == ' ' && before == ' ') {
			return strings.Join(strings.Fields(text), " ")
		}
		before = r
	}
	return strings.TrimSuffix(text, " ")
}

func (p *passenger) read(n ast.Node) {
	switch t := n.(type) {
	case *ast.Heading:
		p.where = p.heads[n]
		p.add(HeadPassage, p.where, p.words(n))
		return
	case *guide.TableNode:
		p.readTable(t)
		return
	case *extast.TableHeader, *extast.TableRow:
		p.readRow(n)
		return
	case *extast.DefinitionTerm:
		p.add(TermPassage, p.where, p.words(n)) // what stands below explains it
		return
	}
	if hasWords(n) && n.Type() == ast.TypeBlock {
		p.say(n)
		return
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		p.read(c)
	}
}

// say adds the sentences of a block, each behind the terms that it explains.
func (p *passenger) say(n ast.Node) {
	for _, s := range p.block(n) {
		for _, t := range s.terms {
			p.add(TermPassage, p.where, t.Word)
		}
		if p.table != "" {
			p.add(InTablePassage, p.table, p.text(s))
			continue
		}
		p.add(SaidPassage, p.where, p.text(s))
	}
}

// readTable adds a table, the question that its method answers, and the
// questions and answers of one that decides.
func (p *passenger) readTable(n *guide.TableNode) {
	t := n.Table
	p.passages = append(p.passages, Passage{Kind: TablePassage, Code: t.Number, Table: t})
	p.add(InTablePassage, t.Number, t.Asks)
	p.table = t.Number
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		p.read(c)
	}
	p.table = ""
}

// readRow adds a row of a table that its author typed.
func (p *passenger) readRow(n ast.Node) {
	var cells []string
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if words := strings.TrimSpace(p.words(c)); words != "" {
			cells = append(cells, words)
		}
	}
	p.add(SaidPassage, p.where, strings.Join(cells, "; "))
}
