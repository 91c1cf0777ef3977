package guide

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/decide"
	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// decision is a decide block as it is being read.
type decision struct {
	label
	opening fault.Place // the info word

	question                       fault.Place
	askLines, ruleLines, lastLines []fault.Place
	unsure                         bool // a line could not be read: what seems to be missing may stand there
	askLost                        bool // and it may be a question

	asks  []posed
	rules []ruling // the last of them the otherwise, where there is one
	last  bool     // there is an otherwise
}

// posed is a condition of a decision: its short name, and the question.
type posed struct {
	name     string
	at       fault.Place
	question ast.Node
	text     string
}

// ruling is a rule or the otherwise: where it holds, and what then is so.
type ruling struct {
	line     fault.Place
	when     []decide.Set // by condition; nil of the otherwise
	at       fault.Place  // the conditions
	verdict  string       // a grade; "" where none is given
	cautions []*method.Caution
	answer   ast.Node
	text     string // of the answer, as it was written
}

// decideRows are the lines of a decide block.
func decideRows() []row[*decision] {
	return []row[*decision]{
		{Word{decideWord, "name", "The block's own name, unique in the copy: letters, digits and -.", "name: way-in", false},
			one(func(d *decision) *fault.Place { return &d.named })},
		{Word{decideWord, "question", "The question that the table decides.", "question: Where do the player's leads go?", false},
			one(func(d *decision) *fault.Place { return &d.question })},
		{Word{decideWord, "ask", "What the reader is asked: a short name, and a question to answer by yes, no or don't know.", "ask: phono = Has the amplifier sockets marked PHONO?", true},
			many(func(d *decision) *[]fault.Place { return &d.askLines })},
		{Word{decideWord, "rule", "What the reader replied, and the answer. Of what a rule does not name any reply will do, don't know too. " +
			"Before the answer may stand a verdict (fits, doubtful, ask first, do not connect) and cautions by name.", "rule: phono is yes, answer: Into PHONO.", true},
			many(func(d *decision) *[]fault.Place { return &d.ruleLines })},
		{Word{decideWord, otherwiseWord, "The answer in every case that no rule names; it may be left out where none is left.", "otherwise: Ask first.", false},
			many(func(d *decision) *[]fault.Place { return &d.lastLines })},
	}
}

const (
	otherwiseWord = "otherwise"

	// mostAsks is how many conditions fit beside each other on a sheet, and
	// mostRules how many rules anybody reads.
	mostAsks, mostRules = 6, 40

	askShape = "a short name, =, and the question: phono = Has the amplifier sockets marked PHONO?"
)

// decided reads a decide block; nil where a fault stands in it.
func (r *reader) decided(f fence) *TableNode {
	d := &decision{label: label{reader: r, info: f.info}, opening: f.info}
	d.noFigure = func(name string, at fault.Place) *fault.Fault {
		return fault.At(at, "the block %q decides, and names no figures", d.name).Want("a figure of a calc block")
	}
	if f.rest.String() != "" {
		d.fault(fault.At(f.rest, "%q stands after %s, where nothing belongs", f.rest, decideWord).Fix("name: %s", f.rest))
	}
	lines, whole := r.lines(f)
	d.unsure, d.askLost, d.broken = !whole, !whole, d.broken || !whole
	d.sortLines(lines)
	d.readName("way-in")
	d.readAsks()
	d.readRules()
	d.readOtherwise()
	if d.whole(); !d.broken {
		d.check()
	}
	if d.broken {
		return nil
	}
	return d.fill(f)
}

// sortLines sorts the lines of the block by their words.
func (d *decision) sortLines(lines []line) {
	rows, first := decideRows(), map[string]bool{}
	for _, l := range lines {
		word := l.word.String()
		known := find(rows, word)
		switch {
		case known == nil:
			f := fault.At(l.word, "a table that decides has no line %q", word).Want("one of: %s", strings.Join(spelled(rows), ", "))
			if near := fault.Near(word, spelled(rows)); near != "" {
				f.Fix("%s", near)
			}
			d.fault(f)
			d.unsure, d.askLost = true, true
		case first[word] && !known.Twice:
			d.fault(fault.At(l.word, "%q stands twice in this block", word).Fix("take one of the two out"))
		case l.rest.String() == "":
			d.fault(fault.At(l.word, "nothing stands after %q", word).Fix("%s", known.Example))
			d.empty, d.unsure, d.askLost = append(d.empty, word), true, true
		default:
			first[word] = true
			known.keep(d, l)
		}
	}
}

// whole tells what the block lacks.
func (d *decision) whole() {
	if d.unsure {
		return
	}
	rows := decideRows()
	for _, must := range []struct {
		word    string
		missing bool
	}{
		{"question", d.question.Text == nil},
		{"ask", len(d.askLines) == 0},
		{"rule", len(d.ruleLines) == 0},
	} {
		if must.missing {
			d.fault(fault.At(d.opening, "this table has no %s", must.word).Fix("%s", find(rows, must.word).Example))
		}
	}
}

// readAsks reads lines of the form: name = question.
func (d *decision) readAsks() {
	for _, p := range d.askLines {
		name, question := p.Sub(0, 0), p
		if i := strings.IndexByte(p.String(), '='); i >= 0 {
			name, question = p.Sub(0, i).Trim(), p.Sub(i+1, len(p.String())).Trim()
		}
		switch {
		case name.String() == "" || question.String() == "":
			d.fault(fault.At(p, "this line is not whole").Want(askShape))
		case !isName(name.String()):
			d.fault(fault.At(name, "%q is no name for a question", name).Want("%s", nameShape))
		case d.ask(name.String()) >= 0:
			d.fault(fault.At(name, "%q is asked twice", name).Fix("take one of the two out, or give it another name"))
		case len(d.asks) == mostAsks:
			d.fault(fault.At(p, "this table asks more than %d questions", mostAsks).Want("at most %d", mostAsks).
				Fix("two tables, of which the first says when to go on to the second"))
		default:
			d.asks = append(d.asks, posed{name: name.String(), at: name, text: question.String(), question: d.sentence(question, "question")})
			continue
		}
		d.unsure, d.askLost = true, true
	}
}

// ask returns the place of a condition among those of the block, -1 for none.
func (d *decision) ask(name string) int {
	for i, a := range d.asks {
		if a.name == name {
			return i
		}
	}
	return -1
}

// sentence reads one line of words and figures.
func (d *decision) sentence(p fault.Place, what string) ast.Node {
	n := d.reader.paragraph(p, "this "+what)
	d.broken = d.broken || n == nil
	return n
}
