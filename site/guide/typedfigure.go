package guide

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// A figure typed by hand goes stale, and nobody traces it. The words of a guide
// are looked through for them, and for words that say more than one figure can.

// typedFigure is a figure with a unit that stands in the words of a guide.
type typedFigure struct {
	quantity unit.Quantity
	places   int // digits behind the point, as typed
	at       fault.Place
	words    []string // of its sentence, in small letters
}

// saying is the words of one block of text: a paragraph, a heading, a cell.
// Pieces that are no words, such as figures, stand in it as one sign.
type saying struct {
	text    strings.Builder
	offsets []int               // of each byte of the text, its place in the guide
	figures map[int]*FigureNode // by the place of their sign in the text
}

// The signs that stand for what is no word.
const (
	figureSign = '\x01'
	otherSign  = '\x02'
)

// part is a part of a guide from one heading to the next.
type part struct {
	sayings []*saying
	tables  []*Table
}

// checkTyped looks through the words of the guide.
func (r *reader) checkTyped() {
	answer := &part{}
	if n := r.guide.Docket.Answer; n != nil {
		answer.sayings = append(answer.sayings, r.saying(n))
	}
	for _, p := range append([]*part{answer}, r.parts()...) {
		for _, s := range p.sayings {
			for _, f := range s.typed(r) {
				r.tellTyped(f, p)
			}
			r.tellSweeping(s)
		}
	}
	r.tellIdleStets()
}

// parts parts the guide at its headings.
func (r *reader) parts() []*part {
	all := []*part{{}}
	_ = ast.Walk(r.guide.Tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		if n.Kind() == ast.KindHeading {
			all = append(all, &part{})
		}
		last := all[len(all)-1]
		switch t, ok := n.(*TableNode); {
		case ok:
			last.tables = append(last.tables, t.Table)
		case n.Kind() == ast.KindFencedCodeBlock || n.Kind() == ast.KindCodeBlock:
			return ast.WalkSkipChildren, nil
		case n.FirstChild() != nil && n.FirstChild().Type() == ast.TypeInline:
			last.sayings = append(last.sayings, r.saying(n))
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return all
}

// saying gathers the words below a block.
func (r *reader) saying(n ast.Node) *saying {
	s := &saying{figures: map[int]*FigureNode{}}
	s.gather(n, r.source)
	return s
}

func (s *saying) gather(n ast.Node, source []byte) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			s.say(string(c.Segment.Value(source)), c.Segment.Start)
			if c.SoftLineBreak() || c.HardLineBreak() {
				s.say(" ", c.Segment.Stop)
			}
		case *FigureNode:
			s.figures[s.text.Len()] = c
			s.say(string(figureSign), c.Pos())
		case *ast.CodeSpan, *ast.AutoLink:
			s.say(string(otherSign), 0)
		default:
			s.gather(c, source)
		}
	}
}

func (s *saying) say(words string, from int) {
	s.text.WriteString(words)
	for i := range len(words) {
		s.offsets = append(s.offsets, from+i)
	}
}

// place returns the place in the guide of a stretch of the words.
func (s *saying) place(r *reader, start, end int) fault.Place {
	return r.text.Place(s.offsets[start], s.offsets[end-1]+1)
}

// typed finds the figures with a unit among the words.
func (s *saying) typed(r *reader) []typedFigure {
	var all []typedFigure
	text := s.text.String()
	for at := 0; at < len(text); {
		n := wordEnd(text[at:])
		if n == 0 {
			_, size := utf8.DecodeRuneInString(text[at:])
			at += size
			continue
		}
		if q, length := figureAt(text[at:]); length > 0 {
			all = append(all, typedFigure{
				quantity: q, places: placesTyped(q.Text), at: s.place(r, at, at+length), words: wordsAbout(text, at, at+length),
			})
			at += length
			continue
		}
		at += n
	}
	return all
}

// wordEnd returns the length of the word, or the number, at the head of a
// text; 0 where none stands there.
func wordEnd(text string) int {
	for i, c := range text {
		if !unicode.IsLetter(c) && !unicode.IsNumber(c) {
			return i
		}
	}
	return len(text)
}

// figureAt reads a figure with its unit at the head of a text; its length is 0
// where none stands there.
func figureAt(text string) (unit.Quantity, int) {
	written, cut := text, 0
	if word := strings.ToLower(text[:wordEnd(text)]); numerals[word] != "" {
		written, cut = numerals[word]+text[len(word):], len(word)-len(numerals[word])
		if rest := strings.TrimLeft(text[len(word):], " -\u00a0"); len(rest) < 4 || wordEnd(rest) < 4 {
			return unit.Quantity{}, 0 // two in, one A: no words for units
		}
	}
	n := unit.ScanNumber(written)
	if n == 0 {
		return unit.Quantity{}, 0
	}
	if strings.HasPrefix(written[n:], "-") { // an 8-ohm speaker
		written = written[:n] + " " + written[n+1:]
	}
	if rest := strings.TrimLeft(written[n:], " \u00a0"); strings.HasPrefix(rest, "per cent") {
		length := len(written) - len(rest) + len("per cent")
		q, _ := unit.Read(fault.NewText("", written[:n]+" %").All())
		q.Text = written[:length]
		return q, length + cut
	}
	length := unit.ScanValue(written)
	if length == 0 {
		return unit.Quantity{}, 0
	}
	q, f := unit.Read(fault.NewText("", written[:length]).All())
	if f != nil || q.Unit.Symbol() == "" || preposition(q, written[length:]) {
		return unit.Quantity{}, 0
	}
	return q, length + cut
}

// preposition reports whether what was read as inches is the word "in", or
// what was read as amperes the letter of a pair: 5 in the hall, 2 A leads.
func preposition(q unit.Quantity, after string) bool {
	if !strings.HasSuffix(q.Text, " in") && !strings.HasSuffix(q.Text, " A") && !strings.HasSuffix(q.Text, " a") {
		return false
	}
	after = strings.TrimLeft(after, " \u00a0")
	return wordEnd(after) > 0
}

// numerals are the numbers that people write as words; one is more often no
// number.
var numerals = map[string]string{
	"two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10",
	"eleven": "11", "twelve": "12", "fifteen": "15", "twenty": "20", "thirty": "30", "forty": "40", "fifty": "50", "hundred": "100",
}

func placesTyped(text string) int {
	n := unit.ScanNumber(text)
	if i := strings.IndexByte(text[:n], '.'); i >= 0 {
		return n - i - 1
	}
	return 0
}

// nearWords is how many words before and behind a figure are looked at.
const nearWords = 4

func wordsAbout(text string, start, end int) []string {
	split := func(s string) []string {
		return strings.FieldsFunc(strings.ToLower(s), func(c rune) bool { return !unicode.IsLetter(c) })
	}
	before, after := split(text[:start]), split(text[end:])
	return slices.Concat(before[max(0, len(before)-nearWords):], after[:min(nearWords, len(after))])
}

// tellTyped tells of one typed figure: a stop where it stands beside a table
// of its kind and is none of its figures, a warning otherwise.
func (r *reader) tellTyped(f typedFigure, p *part) {
	if r.isTradeName(f) || r.isStet(f) {
		return
	}
	shown, equal := f.beside(p.tables)
	if shown != nil && !equal {
		r.faults.Add(fault.At(f.at, "%q stands beside the table %s, and is none of its figures", f.at, shown.Number).
			Want("a figure of the table, called by its name").Fix("name it in the block with a figure line, and write <figure:%s.NAME>", shown.Name))
		return
	}
	told := fault.At(f.at, "%q is typed by hand, and no calculation keeps it true", f.at).Want("a figure that a block names, or a standing figure").Graded(fault.Warn)
	if name := r.sameFigure(f); name != "" {
		told.Fix("<figure:%s>", name)
	} else {
		told.Fix("or say in the docket why it stands: stet: %s, because …", f.at)
	}
	r.faults.Add(told)
}

func (r *reader) isTradeName(f typedFigure) bool {
	for _, t := range r.kit.Library.TradeNames() {
		if t.Means(f.quantity, f.words) {
			return true
		}
	}
	return false
}

// nearShare is how far a value may lie from a typed figure that is rounded to
// few digits.
const nearShare = 0.02

// is reports whether a value is the typed figure, as far as its digits go.
func (f typedFigure) is(v formula.Value) bool {
	if v.State != formula.Known || v.Word != "" {
		return false
	}
	if v.List != nil {
		return slices.ContainsFunc(v.List, f.is)
	}
	u := f.quantity.Unit
	typed, other := u.FromBase(f.quantity.Value), u.FromBase(v.Number)
	within := math.Min(0.5000001*math.Pow(10, -float64(f.places)), nearShare*math.Abs(typed))
	return math.Abs(typed-other) <= math.Max(within, sameWithin*math.Abs(typed))
}

// beside finds, among tables, one that shows a result of the figure's kind,
// and whether the figure is one of its cells, values or limits.
func (f typedFigure) beside(tables []*Table) (shown *Table, equal bool) {
	for _, t := range tables {
		if !slices.ContainsFunc(t.Results, func(h Heading) bool {
			return h.Unit.Kind() == f.quantity.Unit.Kind() || plainLevel(h.Unit, f.quantity.Unit)
		}) {
			continue
		}
		shown = t
		for _, v := range t.Values() {
			if f.is(v) {
				return t, true
			}
		}
	}
	return shown, false
}

// plainLevel reports whether a typed dB is meant for a level on a scale.
func plainLevel(u, typed unit.Unit) bool {
	return typed.Symbol() == "dB" && u.Kind().IsPoint() && u.Step().Symbol() == "dB"
}

// sameFigure returns the address of a figure of the guide, or of a standing
// one, that is the typed figure; "" where there is none.
func (r *reader) sameFigure(f typedFigure) string {
	for _, s := range r.kit.Standing.All() {
		if s.Point.Unit.Kind() == f.quantity.Unit.Kind() && f.is(s.Point.Value) {
			return s.Source.ID
		}
	}
	var found []string
	for address, g := range r.guide.Figures {
		if g.Unit.Kind() == f.quantity.Unit.Kind() && f.is(g.Value) {
			found = append(found, address)
		}
	}
	if len(found) == 0 {
		return ""
	}
	return slices.Min(found)
}
