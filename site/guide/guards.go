package guide

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// A caution stands before the step that it guards. What calls for one is a
// block, words that speak of its danger, and, of a warning, a figure of its
// block; it is kept where the first of these begins.

// carry adds a caution to those of the guide.
func (r *reader) carry(c *method.Caution) {
	if !slices.Contains(r.cautions, c) {
		r.cautions = append(r.cautions, c)
	}
}

// warn adds a caution to those of the guide, and keeps where it is called for.
func (r *reader) warn(c *method.Caution, at int) {
	r.carry(c)
	if first, known := r.guards[c]; !known || at < first {
		r.guards[c] = at
	}
}

// readFirst keeps cautions that stand at the head of the guide, whatever calls
// for them later.
func (r *reader) readFirst(l line) {
	for _, p := range parted(l.rest) {
		if c := r.caution(p); c != nil {
			r.warn(c, 0)
		}
	}
}

// readGuard keeps a caution that stands before a section by the author's word.
func (r *reader) readGuard(l line) {
	const mark = " before "
	i := strings.Index(l.rest.String(), mark)
	if i < 0 {
		r.faults.Add(fault.At(l.rest, "%q does not say before which section the caution stands", l.rest).
			Want("a caution, the word before, and the head of a section").Fix("%s: amp-off before Join the speakers", guardWord))
		return
	}
	c := r.caution(l.rest.Sub(0, i).Trim())
	head := l.rest.Sub(i+len(mark), len(l.rest.String())).Trim()
	if at, ok := r.section(head); ok && c != nil {
		r.warn(c, at)
	}
}

// section finds where the section under a head begins; it is told where there
// is none.
func (r *reader) section(head fault.Place) (at int, ok bool) {
	var heads []string
	for n := r.guide.Tree.FirstChild(); n != nil; n = n.NextSibling() {
		h, isHead := n.(*ast.Heading)
		if !isHead {
			continue
		}
		text := ""
		for i := range h.Lines().Len() {
			line := h.Lines().At(i)
			text += string(line.Value(r.source))
		}
		if text = oneLine(text); strings.EqualFold(text, oneLine(head.String())) {
			return h.Pos(), true
		}
		heads = append(heads, text)
	}
	f := fault.At(head, "this guide has no section %q", head)
	if len(heads) > 0 {
		f.Want("one of: %s", strings.Join(heads, "; "))
	}
	if near := fault.Near(head.String(), heads); near != "" {
		f.Fix("%s", near)
	}
	r.faults.Add(f)
	return 0, false
}

// gatherCautions lists the cautions of the guide, each once, gravest first and
// otherwise in the order in which they came up.
func (r *reader) gatherCautions() {
	for _, root := range []ast.Node{r.guide.Docket.Answer, r.guide.Tree} {
		r.warnOfFigures(root)
	}
	gravestFirst(r.cautions)
	for _, c := range r.cautions {
		r.guide.Cautions = append(r.guide.Cautions, &Caution{&c.CautionText, r.guards[c]})
	}
}

// warnOfFigures lets the warnings of a block guard each figure of it that
// stands in prose; a value that was only taken calls for none.
func (r *reader) warnOfFigures(root ast.Node) {
	if root == nil {
		return
	}
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		f, ok := n.(*FigureNode)
		if !ok || !entering || f.Figure == nil || f.Figure.Of != "" {
			return ast.WalkContinue, nil
		}
		block, _, _ := strings.Cut(f.Address, ".")
		for _, t := range r.guide.Tables {
			if t.Name != block {
				continue
			}
			for _, c := range r.cautions {
				if c.Signal == warningSignal && slices.Contains(t.Cautions, c.ID) {
					r.warn(c, f.Pos())
				}
			}
		}
		return ast.WalkContinue, nil
	})
}

// warningSignal is the signal of what can hurt people.
const warningSignal = "WARNING"
