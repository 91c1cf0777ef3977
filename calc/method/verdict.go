package method

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/record"
)

// Grades of a verdict, best first. CannotTell is what a verdict says when a
// fact it turns on is missing; it is never "fits".
const (
	Fits         = "fits"
	Doubtful     = "doubtful"
	AskFirst     = "ask first"
	DoNotConnect = "do not connect"
	CannotTell   = "cannot tell"
)

// grades in the order of their weight: the worst of several wins. What cannot
// be told weighs less than a plain no, and more than anything short of one.
var grades = []string{Fits, Doubtful, AskFirst, CannotTell, DoNotConnect}

// Grades returns the grades of verdicts in the order of their weight.
func Grades() []string { return slices.Clone(grades) }

// Worse reports whether grade a weighs more than grade b.
func Worse(a, b string) bool { return slices.Index(grades, a) > slices.Index(grades, b) }

// Verdict is a grade and its words.
type Verdict struct {
	Name  string
	Grade string
	Words string
}

// What is said of a verdict that a missing fact takes from, here and in the
// reader's browser.
const (
	standsIn = "; a value stands in for what is not known: "
	lacking  = "; this is not known: "
	noRow    = "no line of the verdict holds"
)

// ruling is a named verdict: its rows in order, the last without a condition.
type ruling struct {
	name string
	rows []verdictRow
}

type verdictRow struct {
	grade, words string
	node         formula.Node // nil in the last row
	when         *formula.Formula
}

// readVerdicts reads verdicts by name, each a list of lines of the form:
// grade "words" when condition, the last of them: else grade "words".
func (d *Data) readVerdicts(n *record.Node, faults *fault.List) {
	if n == nil || n.Kind != record.Map {
		return
	}
	for _, e := range n.Entries {
		r := &ruling{name: e.Key.Text}
		lines, fs := e.Value.Words("a verdict")
		faults.Join(fs)
		for i, line := range lines {
			row, f := readVerdictRow(line, i == len(lines)-1, faults)
			faults.Add(f)
			r.rows = append(r.rows, row)
			d.sheet.Verdicts = append(d.sheet.Verdicts, spaced(r.name)+": "+line.Text)
		}
		d.verdicts = append(d.verdicts, r)
		d.sheet.VerdictNames = append(d.sheet.VerdictNames, r.name)
	}
}

func readVerdictRow(line *record.Node, last bool, faults *fault.List) (verdictRow, *fault.Fault) {
	const shape = `grade "words" when condition; the last line: else grade "words"`
	rest, isElse := strings.CutPrefix(line.Text, "else ")
	if isElse != last || !line.Verbatim {
		return verdictRow{}, fault.At(line.Place, "this line of a verdict is not whole").Want(shape)
	}
	row := verdictRow{}
	for _, g := range grades {
		if g != CannotTell && strings.HasPrefix(rest, g+" ") {
			row.grade = g
		}
	}
	open := strings.IndexByte(rest, '"')
	if row.grade == "" || open < 0 || strings.TrimSpace(rest[:open]) != row.grade {
		return row, fault.At(line.Place, "this line of a verdict has no grade").Want("fits, doubtful, ask first or do not connect")
	}
	shut := strings.IndexByte(rest[open+1:], '"')
	if shut < 0 {
		return row, fault.At(line.Place, "the words of this verdict are not closed").Want(shape)
	}
	row.words = rest[open+1 : open+1+shut]
	after := strings.TrimSpace(rest[open+shut+2:])
	if last {
		if after != "" {
			return row, fault.At(line.Place, "the last line of a verdict holds in every other case").Want(`else grade "words"`)
		}
		return row, nil
	}
	if !strings.HasPrefix(after, "when ") {
		return row, fault.At(line.Place, "this line of a verdict has no condition").Want(shape)
	}
	at := strings.LastIndex(line.Text, after) + len("when ")
	node, fs := formula.ParseCond(line.Place.Sub(at, len(line.Text)))
	faults.Join(fs)
	if !fs.Stopped() {
		row.node = node
	}
	return row, nil
}

// check checks the conditions of a ruling.
func (r *ruling) check(s *formula.Scope, faults *fault.List) {
	for i := range r.rows {
		if n := r.rows[i].node; n != nil {
			f, fs := formula.Check(n, s)
			faults.Join(fs)
			r.rows[i].when = f
		}
	}
}

// worked returns the verdict at one point. The first row whose condition is
// true wins if all before it are surely false; one that cannot be told ends
// the search. A grade that rests on a value standing in for a missing fact is
// doubtful at best, and so is one that was reached because a fact is missing.
func (r *ruling) worked(e formula.Env, s *Sheet) Verdict {
	var assumed, gaps []string
	for _, row := range r.rows {
		if row.when == nil {
			return r.capped(row, assumed, gaps, s)
		}
		for _, name := range row.when.Uses() {
			assumed = append(assumed, e.Value(name).Assumed...)
		}
		answer := row.when.Answer(e)
		gaps = append(gaps, answer.Assumed...)
		switch answer.Truth {
		case formula.True:
			return r.capped(row, assumed, gaps, s)
		case formula.Untold:
			return Verdict{Name: r.name, Grade: CannotTell, Words: answer.Why}
		}
	}
	return Verdict{Name: r.name, Grade: CannotTell, Words: noRow}
}

func (r *ruling) capped(row verdictRow, assumed, gaps []string, s *Sheet) Verdict {
	v := Verdict{Name: r.name, Grade: row.grade, Words: row.words}
	switch {
	case Worse(v.Grade, Doubtful):
	case len(assumed) > 0:
		v.Grade = Doubtful
		v.Words += standsIn + facts(assumed, s)
	case v.Grade == Fits && len(gaps) > 0:
		v.Grade = Doubtful
		v.Words += lacking + facts(gaps, s)
	}
	return v
}

// facts names missing values in words, each once.
func facts(names []string, s *Sheet) string {
	slices.Sort(names)
	var facts []string
	for _, name := range slices.Compact(names) {
		if in := s.Input(name); in != nil {
			name = in.Fact()
		}
		facts = append(facts, name)
	}
	return strings.Join(facts, ", ")
}
