package guide

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
)

// fence is a fenced block with an info line.
type fence struct {
	node *ast.FencedCodeBlock
	info fault.Place // the whole info line, trimmed
	word fault.Place // its first word
	rest fault.Place // what follows that word; empty where nothing does
}

// findFences finds the fenced blocks of the guide that are ours, in order. A
// block whose info word is mistyped is told, and so is one that is not
// closed, for it swallows all that follows; neither is read.
func (r *reader) findFences() {
	_ = ast.Walk(r.guide.Tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		node, ok := n.(*ast.FencedCodeBlock)
		if !ok || !entering || node.Info == nil {
			return ast.WalkContinue, nil
		}
		f := r.fenceOf(node)
		switch word := f.word.String(); {
		case !slices.Contains(blockWords, word):
			r.mistyped(f)
		case !r.closed(f):
			r.faults.Add(fault.At(f.info, "this block is not closed").
				Want("its fence once more, on a line of its own under the last line of the block").Fix("%s", r.mark(f)))
			r.miss(word)
		default:
			r.fences = append(r.fences, f)
		}
		return ast.WalkContinue, nil
	})
}

func (r *reader) fenceOf(node *ast.FencedCodeBlock) fence {
	f := fence{node: node, info: r.text.Place(node.Info.Segment.Start, node.Info.Segment.Stop).Trim()}
	s := f.info.String()
	end := len(s)
	if i := strings.IndexAny(s, " \t"); i >= 0 {
		end = i
	}
	f.word, f.rest = f.info.Sub(0, end), f.info.Sub(end, len(s)).Trim()
	return f
}

// miss notes that a block was found and not read: what only follows from it
// is then passed over.
func (r *reader) miss(word string) {
	if word == docketWord {
		r.noDocket = true
		return
	}
	r.lost = true
}

// mistyped tells a block that is written as one of ours under a word that is
// nearly one of ours. Any other fenced block is plain text of the author's.
func (r *reader) mistyped(f fence) {
	word := f.word.String()
	near := fault.Near(word, blockWords)
	if near == "" && strings.HasPrefix(strings.ToLower(word), calcWord) {
		near = calcWord
	}
	if near == "" || !r.looksLikeBlock(f) {
		return
	}
	r.faults.Add(fault.At(f.word, "no block is called %q", word).Want("%s", "one of: "+strings.Join(blockWords, ", ")).
		Fix("%s", strings.TrimSpace(near+" "+f.rest.String())))
	r.miss(near)
}

// looksLikeBlock reports whether every line of a fence is a word, a colon and
// something.
func (r *reader) looksLikeBlock(f fence) bool {
	found := false
	for i := range f.node.Lines().Len() {
		s := f.node.Lines().At(i)
		text := strings.TrimSpace(string(r.source[s.Start:s.Stop]))
		word, _, colon := strings.Cut(text, ":")
		if text != "" && (!colon || strings.ContainsAny(strings.TrimSpace(word), " \t")) {
			return false
		}
		found = found || text != ""
	}
	return found
}

// mark returns the marks that open a fence: "```".
func (r *reader) mark(f fence) string {
	head := strings.TrimRight(r.text.Source()[:f.info.Start], " \t")
	if head == "" {
		return ""
	}
	return head[len(strings.TrimRight(head, head[len(head)-1:])):]
}

// closed reports whether a fence has its closing line. The Markdown parser
// does not say: it takes the end of the text, or of the list or quote that
// the fence stands in, for the end of the fence.
func (r *reader) closed(f fence) bool {
	end := f.info.End
	if n := f.node.Lines().Len(); n > 0 {
		end = f.node.Lines().At(n-1).Stop - 1
	}
	_, after, _ := strings.Cut(r.text.Source()[end:], "\n")
	line, _, _ := strings.Cut(after, "\n")
	line = strings.TrimSpace(strings.TrimLeft(line, " \t>"))
	mark := r.mark(f)
	return mark != "" && strings.HasPrefix(line, mark) && strings.Trim(line, mark[:1]) == ""
}

// lines returns the lines of a fence that hold something, and whether all of
// them could be parted.
func (r *reader) lines(f fence) (lines []line, whole bool) {
	whole, lines = true, make([]line, 0, min(f.node.Lines().Len(), mostLines))
	for i := range f.node.Lines().Len() {
		s := f.node.Lines().At(i)
		p := r.text.Place(s.Start, s.Stop).Trim()
		if p.String() == "" {
			continue
		}
		if len(lines) == mostLines {
			r.faults.Add(fault.At(p, "this block has more than %d lines", mostLines).Fix("split it into blocks of their own"))
			return lines, false
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

// mostLines is how many lines a block may have: more than anybody reads.
const mostLines = 200

// text returns the block as its author wrote it, fences left out.
func (f fence) text() fault.Place {
	p := f.info
	if n := f.node.Lines().Len(); n > 0 {
		p.End = f.node.Lines().At(n - 1).Stop
	}
	return p
}
