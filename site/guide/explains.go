package guide

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
)

// explainsWord heads the line of a docket that names the terms which the guide
// explains.
const explainsWord = "explains"

// Term is a term that a guide explains, in the sentence in which it first
// stands.
type Term struct {
	Word  string // as the docket spells it
	Place fault.Place
}

// KindTerm is the kind of a term that is explained where it stands.
var KindTerm = ast.NewNodeKind("Term")

// TermNode stands round the words of a term in the sentence that explains it.
type TermNode struct {
	ast.BaseInline
	Term Term
}

// Kind implements ast.Node.
func (*TermNode) Kind() ast.NodeKind { return KindTerm }

// Dump implements ast.Node.
func (n *TermNode) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"Word": n.Term.Word}, nil)
}

// ID returns the term as it stands in an id: "phono-stage".
func (t Term) ID() string {
	return strings.ToLower(strings.Join(strings.FieldsFunc(t.Word, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}), "-"))
}

// readExplains keeps the terms of the docket; they are looked for when the
// prose has been read.
func (r *reader) readExplains(l line) {
	seen := map[string]bool{}
	for _, p := range parted(l.rest) {
		t := Term{Word: p.String(), Place: p}
		switch {
		case t.ID() == "":
			r.faults.Add(fault.At(l.rest, "a term is missing between two commas, or before or after one").Fix("explains: gauge, phono stage"))
			return
		case seen[t.ID()]:
			r.faults.Add(fault.At(p, "the term %q stands twice", p).Fix("take one of the two out"))
			continue
		}
		seen[t.ID()] = true
		r.guide.Docket.Explains = append(r.guide.Docket.Explains, t)
	}
}

// explain marks each term of the docket where the text explains it. It comes
// last of all, so that no check meets a text that is parted.
func (r *reader) explain() {
	for _, t := range r.guide.Docket.Explains {
		stressed, plain := termFinder{r.source, t, true}, termFinder{r.source, t, false}
		if !stressed.mark(r.guide.Tree, false) && !plain.mark(r.guide.Tree, false) {
			r.faults.Add(fault.At(t.Place, "the text does not say %q", t.Word).
				Want("a sentence that explains it, and has it as it is written here; the question, the short answer, heads and tables are no text").
				Fix("write that sentence, or take %s out of this line", t.Word))
		}
	}
}

// termFinder finds a term in the text of a guide: where it first stands with
// stress, or where it first stands at all.
type termFinder struct {
	source   []byte
	term     Term
	stressed bool
}

// mark marks the term where it first stands below a node, and reports whether
// it stands there.
func (f termFinder) mark(n ast.Node, stressed bool) bool {
	switch n.(type) {
	case *ast.Heading, *ast.CodeBlock, *ast.FencedCodeBlock, *ast.CodeSpan, *ast.Image, *ast.Link,
		*TableNode, *TermNode, *extast.Table:
		return false
	case *ast.Emphasis, *extast.DefinitionTerm:
		stressed = true
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		words, isText := c.(*ast.Text)
		if isText && (stressed || !f.stressed) && f.markTexts(n, words) || !isText && f.mark(c, stressed) {
			return true
		}
	}
	return false
}

// markTexts looks for the term in one text. It may run on into the texts behind
// it, for a line of the guide ends where it likes.
func (f termFinder) markTexts(parent ast.Node, first *ast.Text) bool {
	texts := []*ast.Text{first}
	for last := first; last.SoftLineBreak(); {
		next, ok := last.NextSibling().(*ast.Text)
		if !ok {
			break
		}
		texts, last = append(texts, next), next
	}
	from := first.Segment.Start
	start, end := findTerm(string(f.source[from:texts[len(texts)-1].Segment.Stop]), f.term.Word)
	if start < 0 || from+start >= first.Segment.Stop {
		return false // the texts behind are looked through in their turn
	}
	f.enclose(parent, texts, [2]int{from + start, from + end})
	return true
}

// enclose puts what lies between two places of the source into a node of its
// own.
func (f termFinder) enclose(parent ast.Node, texts []*ast.Text, at [2]int) {
	if texts[0].Segment.Start < at[0] {
		texts[0] = cutText(parent, texts[0], at[0])
	}
	term := &TermNode{Term: f.term}
	parent.InsertBefore(parent, texts[0], term)
	for _, t := range texts {
		if t.Segment.Start >= at[1] {
			return
		}
		if t.Segment.Stop > at[1] || t.Segment.Stop == at[1] && (t.SoftLineBreak() || t.HardLineBreak()) {
			cutText(parent, t, at[1])
		}
		parent.RemoveChild(parent, t)
		term.AppendChild(term, t)
	}
}

// cutText parts a text at a place of the source and returns its second part,
// with which the line now ends.
func cutText(parent ast.Node, t *ast.Text, at int) *ast.Text {
	rest := ast.NewTextSegment(text.NewSegment(at, t.Segment.Stop))
	rest.SetSoftLineBreak(t.SoftLineBreak())
	rest.SetHardLineBreak(t.HardLineBreak())
	t.Segment = text.NewSegment(t.Segment.Start, at)
	t.SetSoftLineBreak(false)
	t.SetHardLineBreak(false)
	parent.InsertAfter(parent, t, rest)
	return rest
}

// findTerm returns where a term first stands in a text as whole words, of one or
// of several; -1 where it does not. Capital and small letters are the same but of
// a word that is typed in capitals alone, and any space will do for a space.
func findTerm(text, word string) (start, end int) {
	for i := range text {
		if before, _ := utf8.DecodeLastRuneInString(text[:i]); i > 0 && wordRune(before) {
			continue
		}
		n := matches(text[i:], word)
		if n < 0 {
			continue
		}
		for _, ending := range []string{"", "s", "es"} {
			rest, ok := strings.CutPrefix(text[i+n:], ending)
			if next, _ := utf8.DecodeRuneInString(rest); ok && (rest == "" || !wordRune(next)) {
				return i, i + n + len(ending)
			}
		}
	}
	return -1, -1
}

func wordRune(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// matches returns how much of a text's head is a word, -1 where none is.
func matches(text, word string) int {
	n, exact := 0, len(word) > 1 && word == strings.ToUpper(word)
	for word != "" {
		w, size := utf8.DecodeRuneInString(word)
		c, width := utf8.DecodeRuneInString(text[n:])
		switch {
		case w == ' ' && width > 0 && unicode.IsSpace(c):
			n = len(text) - len(strings.TrimLeftFunc(text[n:], unicode.IsSpace))
			word = strings.TrimLeft(word, " ")
			continue
		case width == 0 || w != c && (exact || unicode.ToLower(w) != unicode.ToLower(c)):
			return -1
		}
		word, n = word[size:], n+width
	}
	return n
}
