package guide

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
)

const docketExample = "put this at the head of the guide:\n" +
	"  ```docket\n  code: K1\n  question: What does this guide answer?\n  answer: The short answer, in a line.\n  topics: wire\n  ```"

// docketWords are the lines of a docket.
var docketWords = []string{"code", "question", "answer", "topics", "order"}

// readDocket reads the docket block at the head of the guide and takes it out
// of the tree.
func (r *reader) readDocket() {
	dockets := r.fences("docket")
	if len(dockets) == 0 {
		r.faults.Add(fault.At(r.text.Place(0, 0), "this guide has no docket").
			Want("a block that says its code, its question and its short answer").Fix("%s", docketExample))
		return
	}
	for _, extra := range dockets[1:] {
		r.faults.Add(fault.At(r.info(extra), "a second docket stands here").Want("one docket, at the head of the guide"))
	}
	first := dockets[0]
	if first != r.guide.Tree.FirstChild() {
		r.faults.Add(fault.At(r.info(first), "the docket does not stand at the head of the guide").Fix("move it up to the first line"))
	}
	d := &r.guide.Docket
	d.Places = map[string]fault.Place{}
	lines, whole := r.lines(first)
	for _, l := range lines {
		r.docketLine(l)
	}
	if whole {
		r.checkDocket(r.info(first))
	}
	for _, n := range dockets {
		n.Parent().RemoveChild(n.Parent(), n)
	}
}

func (r *reader) docketLine(l line) {
	d := &r.guide.Docket
	word, rest := l.word.String(), l.rest.String()
	if _, double := d.Places[word]; double {
		r.faults.Add(fault.At(l.word, "%q stands twice in the docket", word).Fix("take one of the two out"))
		return
	}
	d.Places[word] = l.rest
	switch word {
	case "code":
		d.Code = rest
		if !isCode(rest) {
			r.faults.Add(fault.At(l.rest, "%q is no page code", rest).Want("one to three letters and a number, such as K3"))
		}
	case "question":
		d.Question = rest
	case "answer":
		d.Answer = r.paragraph(l.rest)
	case "topics":
		for _, t := range strings.Split(rest, ",") {
			if t = strings.TrimSpace(t); t != "" {
				d.Topics = append(d.Topics, t)
			}
		}
	case "order":
		n, err := strconv.Atoi(rest)
		if err != nil || n < 0 {
			r.faults.Add(fault.At(l.rest, "%q is no place in an order", rest).Want("a whole number"))
		}
		d.Order = n
	default:
		delete(d.Places, word)
		f := fault.At(l.word, "the docket has no %q", word).Want("one of: %s", strings.Join(docketWords, ", "))
		if near := fault.Near(word, docketWords); near != "" {
			f.Fix("%s", near)
		}
		r.faults.Add(f)
	}
}

// checkDocket sees that the docket is whole.
func (r *reader) checkDocket(at fault.Place) {
	for _, must := range []struct{ word, example string }{
		{"code", "code: K1"}, {"question", "question: What does this guide answer?"},
		{"answer", "answer: The short answer, in a line."}, {"topics", "topics: wire"},
	} {
		if p, ok := r.guide.Docket.Places[must.word]; !ok || p.String() == "" {
			r.faults.Add(fault.At(at, "the docket has no %s", must.word).Fix("%s", must.example))
		}
	}
}

// isCode reports whether a text is a page code: letters and then a number.
func isCode(s string) bool {
	const mostLetters, mostDigits = 3, 4
	letters := strings.TrimRight(s, "0123456789")
	digits := len(s) - len(letters)
	for _, c := range []byte(letters) {
		if (c < 'A' || c > 'Z') && (c < 'a' || c > 'z') {
			return false
		}
	}
	return len(letters) >= 1 && len(letters) <= mostLetters && digits >= 1 && digits <= mostDigits
}

// paragraph parses one line of Markdown so that its segments point into the
// guide's own source: everything round it is blanked out for the parser.
func (r *reader) paragraph(p fault.Place) ast.Node {
	blanked := bytes.Repeat([]byte{'\n'}, len(r.source))
	copy(blanked[p.Start:p.End], r.source[p.Start:p.End])
	n := Markdown().Parser().Parse(text.NewReader(blanked)).FirstChild()
	if n == nil {
		return nil
	}
	if n.Kind() != ast.KindParagraph || n.NextSibling() != nil {
		r.faults.Add(fault.At(p, "the short answer is no plain sentence").Want("one line of words and figures"))
		return nil
	}
	return n
}
