package guide

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// docketExample is a whole docket to copy.
func docketExample() string {
	example := "put this at the head of the guide:\n  ```" + docketWord
	for _, r := range docketRows() {
		if !optional(r.Word.Word) {
			example += "\n  " + r.Example
		}
	}
	return example + "\n  ```"
}

// readDocket reads the docket block at the head of the guide and takes it out
// of the tree.
func (r *reader) readDocket() {
	var dockets []fence
	for _, f := range r.fences {
		if f.word.String() == docketWord {
			dockets = append(dockets, f)
		}
	}
	if len(dockets) == 0 {
		if !r.noDocket {
			r.faults.Add(fault.At(r.text.Place(0, 0), "this guide has no docket").
				Want("a block that says its code, its question and its short answer").Fix("%s", docketExample()))
		}
		return
	}
	for _, extra := range dockets[1:] {
		r.faults.Add(fault.At(extra.info, "a second docket stands here").Want("one docket, at the head of the guide"))
	}
	first := dockets[0]
	if first.node != r.guide.Tree.FirstChild() {
		r.faults.Add(fault.At(first.info, "the docket does not stand at the head of the guide").Fix("move it up to the first line"))
	}
	if first.rest.String() != "" {
		r.faults.Add(fault.At(first.rest, "%q stands after docket, where nothing belongs", first.rest).Fix("take it out"))
	}
	r.readDocketLines(first)
	for _, f := range dockets {
		f.node.Parent().RemoveChild(f.node.Parent(), f.node)
	}
}

func (r *reader) readDocketLines(f fence) {
	d := &r.guide.Docket
	d.Places = map[string]fault.Place{}
	rows := docketRows()
	lines, whole := r.lines(f)
	meant := map[string]bool{} // words that mistyped ones stand for: they are not missing
	for _, l := range lines {
		word := l.word.String()
		known := find(rows, word)
		if known == nil {
			meant[fault.Near(word, spelled(rows))] = true
			r.faults.Add(r.noDocketWord(rows, l.word))
			continue
		}
		if _, double := d.Places[word]; double && !known.Twice {
			r.faults.Add(fault.At(l.word, "%q stands twice in the docket", word).Fix("take one of the two out"))
			continue
		}
		d.Places[known.Word.Word] = l.rest // the word as it stands in the line would hold the guide's text
		if l.rest.String() == "" {
			r.faults.Add(fault.At(l.word, "nothing stands after %q", word).Fix("%s", known.Example))
			continue
		}
		known.keep(r, l)
	}
	if !whole {
		return // the line that could not be read may be the one that is missing
	}
	for _, must := range rows {
		if _, ok := d.Places[must.Word.Word]; !ok && !meant[must.Word.Word] && !optional(must.Word.Word) {
			r.faults.Add(fault.At(f.info, "the docket has no %s", must.Word.Word).Fix("%s", must.Example))
		}
	}
}

func (r *reader) noDocketWord(rows []row[*reader], at fault.Place) *fault.Fault {
	words := spelled(rows)
	if strings.ContainsAny(at.String(), " <") {
		return fault.At(at, "this line begins with no word of a docket").
			Want("one of: %s", strings.Join(words, ", ")).Fix("where it belongs to the line above, join the two: each stands on one line")
	}
	f := fault.At(at, "the docket has no %q", at).Want("one of: %s", strings.Join(words, ", "))
	if near := fault.Near(at.String(), words); near != "" {
		f.Fix("%s", near)
	}
	return f
}

func (r *reader) readCode(l line) {
	r.guide.Docket.Code = l.rest.String()
	if !isCode(r.guide.Docket.Code) {
		r.faults.Add(fault.At(l.rest, "%q is no page code", l.rest).Want("one to three letters and a number of at most four digits, such as K3"))
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

// readQuestion reads the question. It is a title, and so plain words.
func (r *reader) readQuestion(l line) {
	r.guide.Docket.Question = r.plainTerms(l.rest)
	if i := strings.Index(l.rest.String(), "<"+scheme); i >= 0 {
		r.faults.Add(fault.At(l.rest.Sub(i, i+len("<"+scheme)), "a question holds no figures").Fix("put the figure into the answer"))
	}
}

func (r *reader) readAnswer(l line) { r.guide.Docket.Answer = r.paragraph(l.rest, "the short answer") }

func (r *reader) readTopics(l line) {
	for _, p := range parted(l.rest) {
		topic := p.String()
		if topic == "" {
			r.faults.Add(fault.At(l.rest, "a topic is missing between two commas, or before or after one").Fix("topics: wire, speakers"))
			return
		}
		r.guide.Docket.Topics = append(r.guide.Docket.Topics, topic)
	}
}

// readCautions keeps cautions of the library: those that guard a step which no
// method works. Each stands before the section whose words call for it.
func (r *reader) readCautions(l line) {
	for _, p := range parted(l.rest) {
		if c := r.caution(p); c != nil {
			r.carry(c)
		}
	}
}

// caution finds a caution of the library; nil, and told, where there is none.
func (r *reader) caution(p fault.Place) *method.Caution {
	if c, ok := r.kit.Library.Caution(p.String()); ok {
		return c
	}
	all := r.kit.Library.Cautions()
	f := fault.At(p, "there is no caution %q", p).Want("one of: %s", strings.Join(all, ", "))
	if near := fault.Near(p.String(), all); near != "" {
		f.Fix("%s", near)
	}
	r.faults.Add(f)
	return nil
}

func (r *reader) readOrder(l line) {
	n, err := strconv.Atoi(l.rest.String())
	if err != nil || n < 0 {
		r.faults.Add(fault.At(l.rest, "%q is no place in an order", l.rest).Want("a whole number, 0 or more"))
		return
	}
	r.guide.Docket.Order = n
}

// paragraph parses one line of Markdown so that its segments point into the
// guide's own source: everything before it is one blank line for the parser.
func (r *reader) paragraph(p fault.Place, what string) ast.Node {
	blanked := bytes.Repeat([]byte{' '}, min(p.End+1, len(r.source)))
	copy(blanked[p.Start:], r.source[p.Start:p.End])
	for _, end := range []int{p.Start - 1, p.End} {
		if end >= 0 && end < len(blanked) {
			blanked[end] = '\n'
		}
	}
	n := markdown().Parse(text.NewReader(blanked)).FirstChild()
	if n == nil || n.Kind() != ast.KindParagraph || n.NextSibling() != nil {
		r.faults.Add(fault.At(p, "%s is no plain sentence", what).Want("one line of words and figures"))
		return nil
	}
	return n
}
