package guide

// Chart is a result of a table drawn over a value along which the table runs.
// It stands under its table and never without it.
type Chart struct {
	Up      Ruling // the result
	Along   Ruling // the value
	Each    Heading
	Lines   []ChartLine
	Levels  []ChartLevel // limits that are one level of the result
	Undrawn []string     // limits that are none
	Left    []string     // points of the table that have no figure, in words: "16 AWG and 9 m"
	Between bool         // the lines were computed between the table's own points; else these are only joined
	FromTo  bool         // values have limits: each own point has a least and a most
}

// Ruling is how one side of a chart is ruled, in the unit of its heading.
type Ruling struct {
	Heading
	Tens  bool      // equal steps multiply alike; else they add alike
	Whole bool      // there is nothing between whole numbers
	Own   []float64 // the table's own points along it, rising; of a result nil
}

// ChartLine is one line of a chart: for one point of the other side of the
// table, or the only one.
type ChartLine struct {
	Name   string       // "16 AWG"; "" where it is the only one
	Points []ChartPoint // by rising X
}

// ChartPoint is one point of a line, in the units of the chart's sides.
type ChartPoint struct {
	X, Y      float64
	Low, High float64 // from where to where Y may go; both Y where no value has limits
	Own       bool    // it stands in the table
	Apart     bool    // no line leads to it from the point before
	At, Text  string  // of an own point, as the table prints it: "9 m", "0.26 dB"
}

// ChartLevel is a limit that is one level of the drawn result.
type ChartLevel struct {
	At     float64
	Text   string // "loss at most 0.5 dB"
	Beyond string // "too thin"; "" leaves it to the phrases
	Above  bool   // what is above it is beyond it
}
