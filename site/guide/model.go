package guide

import (
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// Guide is one finished guide: its docket, the Markdown tree in which every
// block and figure has become a node of ours, and what later stages ask of it.
type Guide struct {
	Text     *fault.Text
	File     string // its path in the copy, with slashes: "speaker-wire.md"
	Docket   Docket
	Tree     ast.Node // a goldmark document holding *TableNode and *FigureNode
	Source   []byte   // the text that the tree's segments point into
	Tables   []*Table // in the order of their blocks
	Figures  map[string]*Figure
	Standing []*Standing // the standing figures it uses, each once
	Quotes   []Quote     // figures of other guides that its prose names
	Sweeps   []Sweep     // sweeping words beside some of those
	Cautions []*Caution  // those that guard the guide's steps, each once, gravest first
	Stets    []*Stet     // typed figures that stand on purpose
	Broken   []string    // names of its blocks in which a fault stands: their figures are missing for a reason
	Lost     bool        // a block stands in it whose name could not be read
	Asked    Asked       // what it asked of its kit
	Hash     string      // of everything the guide was made from, see HashOf
}

// Docket is what the docket block at the head of a guide says.
type Docket struct {
	Code     string // "K3": short and unique in the copy; tables and headings are numbered under it
	Question string
	Answer   ast.Node               // one paragraph, its figures filled in; its segments too point into Source
	Topics   []string               // the first is the one that the guide stands under
	Order    int                    // place among the guides of its topic
	Explains []Term                 // terms that its text explains
	Places   map[string]fault.Place // where each value stands, by its key: "code", "topics"
}

// Edition is what holds for a whole manual, as its imprint says.
type Edition struct {
	Title     string
	Publisher string
	Language  string   // "en", "en-GB"
	Date      string   // as it is printed
	Paper     string   // "A4", "Letter"; "" leaves it to the reader's printer
	Type      string   // "12 pt", "18 pt": the size of the text on paper; "" is the smaller
	Measures  string   // as it is printed: "metric"
	Topics    []string // in the order of the contents
	Workings  bool     // it tells at the back how its tables were made
}

// TypeSizes are the sizes in which a manual can be set, the usual one first.
// The other is the large type of readers with weak eyes.
var TypeSizes = []string{"12 pt", "18 pt"}

// Papers are the papers that a manual can be set for.
var Papers = []string{"A4", "Letter"}

// Large reports whether a manual is set in large type.
func (e Edition) Large() bool { return e.Type == TypeSizes[1] }

// Table is what one block prints: of a decide block only the name, the number
// and the decision, of a hookup block the drawing and what it rests on.
type Table struct {
	Name     string      // the block's name, unique in the manual: "kitchen-run"
	Named    fault.Place // where the name stands
	Number   string      // under the guide's code: "K3-T2"
	Block    fault.Place // the block as its author wrote it
	Method   string
	Rule     string // hash of the method
	Limits   []Limit
	Claims   []Claim
	Sources  []*Source
	Cautions []string // IDs

	*Inside     // nil of a table that is light
	parts   int // then, see Parts
}

// Inside is what of a table only the pages of its own guide print.
type Inside struct {
	// Scripted are the methods whose scripts a page needs so that a reader can
	// work this one, those it borrows from first; nil where it is none of formulas.
	Scripted  []string
	Asks      string // the question that the method answers
	Caption   string // what the author says that it shows; "" leaves it to its results
	Taken     []Taken
	Rows      *Axis // nil where the table has a single row
	Columns   *Axis // nil where each result has a column of its own
	Results   []Heading
	Cells     [][]Cell // [row][column]; columns are the points of Columns, or the results
	FromTo    bool     // values have limits, and each figure is from where to where it may go
	Matters   []Matter // then, the values whose limits matter most, first that which does so in most figures
	Jumps     []string // then, results that may jump or be none within the limits
	Verdicts  []Verdict
	Beside    []Beside
	Solved    []Solved
	Work      []Work // one worked line for each work line of the block
	Charts    []Chart
	CoversNot string
	Decision  *Decision // nil but of a decide block
	Own       *Own      // what a reader is asked for who has numbers of his own; nil of a method in Go
	Hookup    *Hookup   // nil but of a hookup block

	values []formula.Value           // in the table's limits and claims
	cases  map[string][]method.Point // of its values, by their names
}

// Values returns every value that the table prints: of its cells, as they were
// worked and as they are printed, of what was taken, along its sides, and in its limits and claims.
func (t *Table) Values() []formula.Value {
	all := slices.Clone(t.values)
	for _, points := range t.cases {
		for _, p := range points {
			all = append(all, p.Value)
		}
	}
	for _, row := range t.Cells {
		for j, c := range row {
			all = append(all, c.Value)
			if printed, err := strconv.ParseFloat(strings.Replace(c.Number, "−", "-", 1), 64); err == nil {
				all = append(all, formula.Quantity(t.Shown(j).Unit.ToBase(printed)))
			}
		}
	}
	return all
}

// Shown returns the result that stands in a column of the cells.
func (t *Table) Shown(column int) Heading {
	if t.Columns != nil {
		column = 0
	}
	return t.Results[column]
}

// Heading names a value or a result: its label, its unit and its sense
// ("one way", "out and back"), each "" where there is none.
type Heading struct {
	Name  string
	Label string
	Says  string // what it is, in words: "level lost in the wire"
	Unit  unit.Unit
	Sense string
	Round string // of a result, the way in which it may only be rounded: "up", "down", or "" for the nearest
}

// Axis is a value that a table runs along, with its printed points.
type Axis struct {
	Heading
	Points []string // numbers without their unit, or a choice's words
}

// Taken is a value that holds for the whole table.
type Taken struct {
	Heading
	Text  string // with its unit
	Usual bool   // nobody typed it: the method's usual value stands
	Guess bool   // the author does not know it: the usual value stands in
}

// Cell is one computed cell. Number is "" where there is no number, and Why
// then says why.
type Cell struct {
	Address string // "kitchen-run.loss.16-awg.9-m": where trace finds it
	Value   formula.Value
	Number  string
	Members []string // of a list of several, what Number holds, one by one
	Why     string
	Passed  bool     // it passes a limit
	Beyond  string   // the words of that limit, or of several; "" leaves them to the phrases
	Untold  []string // why it cannot be told whether it meets a limit

	worked
}

// Limit is a limit line, told in words above the table.
type Limit struct {
	Text   string // "loss at most 0.5 dB"
	Beyond string // "too thin"
	Place  fault.Place
}

// Verdict is the worst verdict of the table under one name.
type Verdict struct {
	Name  string
	Grade string // fits, doubtful, do not connect, ask first, cannot tell
	Words string
}

// Work is one worked line: for which point, and its steps in order.
type Work struct {
	Point  string // "16 AWG, 9 m"
	Steps  []WorkStep
	Values method.Values // that its method was worked with
}

// WorkStep is one step of a worked line, each side ready to print.
type WorkStep struct {
	Name     string // "wire", printed as "wire"
	Rule     string // MathML of the formula
	RuleText string
	With     string // MathML of the formula with numbers put in
	WithText string
	Result   string // "0.238 ohm"
	Before   string // what the step comes to, "0.2371 ohm", where Result is rounded from it; else ""
	Round    string // then, the way: "up", "down", or "" for the nearest
	Sources  []int  // places in Table.Sources, from 0
}

// Source is a reference with its mark. One and the same is held by all tables that
// rest on it.
type Source = method.Citation

// Matter is a value whose limits matter most: to every figure of a table; to
// some of its results; or, where neither can be said, to so many of its figures.
type Matter struct {
	Value   string
	Results []string // nil where it is not to some results alone
	Figures int      // 0 where it is to all of the table's or the results' figures
	Of      int      // then, how many figures there are
}

// Figure is a computed numeral with an address.
type Figure struct {
	Address string // "kitchen-run.at-nine"
	Number  string // "0.251"; or a choice's word
	Unit    unit.Unit
	Why     string        // where there is no number
	Sense   string        // "one way"; "" where none is stated
	State   formula.State // of its value
	Solved  bool          // it is the answer to a most or least line, checked by running forwards
	Asked   string        // then, what was asked: "longest run for loss at most 0.5 dB"
	Of      string        // the value that it is; "" of a result and of an answer
	Rests   []string      // names of the results whose working tells how it was reached

	*Reached // nil of a figure that is light
}

// Reached is how a figure was reached, which only its own guide asks for.
type Reached struct {
	Value formula.Value

	worked
	limits []method.Limits // between which the figure may lie, where it rests on values with limits
	jumps  bool            // somewhere within them it may jump, or be none
}

// Quote is a figure that a guide's prose names and that is not its own: only
// the whole book can say what it is.
type Quote struct {
	Address string
	Place   fault.Place
}

// Caution is a warning as it is printed. Its text is held once for all guides.
type Caution struct {
	*method.CautionText
	Guards int // offset in the guide's text of the first thing that it guards; 0 of a caution that guards all of it
}

// Kinds of our own nodes in a guide's tree.
var (
	KindTable  = ast.NewNodeKind("Table of a block")
	KindFigure = ast.NewNodeKind("Figure")
)

// TableNode stands where a block stood that prints a table. Below it stand the
// questions and answers of a decision.
type TableNode struct {
	ast.BaseBlock
	Table *Table
}

// Kind implements ast.Node.
func (*TableNode) Kind() ast.NodeKind { return KindTable }

// Dump implements ast.Node.
func (n *TableNode) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"Name": n.Table.Name}, nil)
}

// FigureNode stands where <figure:…> stood.
type FigureNode struct {
	ast.BaseInline
	Address string
	Figure  *Figure // nil where it is another guide's
}

// Kind implements ast.Node.
func (*FigureNode) Kind() ast.NodeKind { return KindFigure }

// Dump implements ast.Node.
func (n *FigureNode) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"Address": n.Address}, nil)
}
