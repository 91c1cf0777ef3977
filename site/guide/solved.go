package guide

import "bindpost/calc/method"

// Places in which answers stand beside a table's own figures.
const (
	AlongRows    = "rows"    // a further column
	AlongColumns = "columns" // a further row
)

// Beside are the answers to a most or least line that stand beside a table's
// own figures: in a further column or row, or, where there is one answer for
// the whole table, in a line above it.
type Beside struct {
	Heading
	Along string // AlongRows, AlongColumns, or "" where there is one answer
	Cells []Cell
}

// Solved tells of the answers to one most or least line how they were checked.
type Solved struct {
	Label  string   // "longest run for loss at most 0.5 dB"
	Word   string   // most or least
	Value  string   // what was asked for: "run"
	Listed bool     // it was chosen from a list of the author's
	Rests  []string // names of the results that the condition is about
	Checks []Checked
}

// Checked is one answer, run forwards.
type Checked struct {
	Where   string        // "16 AWG"; "" where there is one answer
	Value   string        // the answer: "17.9 m"
	Results []string      // "loss 0.50 dB"
	Whole   bool          // every value that the method covers meets the condition
	Parts   [][2]string   // from and to of each stretch that meets it, where there are several
	Address string        // of the answer's cell
	Values  method.Values // with the answer among them
}
