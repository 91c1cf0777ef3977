package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// limit is a limit line: what a cell must meet, and the words for one that
// does not.
type limit struct {
	text   string
	beyond string // "" leaves the words to the phrases
	holds  *formula.Formula
	place  fault.Place
}

const limitShape = `a condition, beyond: "words"`

// readLimits reads the limit lines.
func (b *block) readLimits() {
	for _, p := range b.limitLines {
		cond, beyond := splitLimit(p)
		l := &limit{place: p}
		if beyond.Text != nil {
			said, f := quoted(beyond)
			b.fault(f)
			l.beyond = said
		}
		l.holds = b.condition(cond)
		if l.holds == nil {
			continue
		}
		l.text = words(formula.Text(l.holds.Node()))
		b.limits = append(b.limits, l)
		b.fault(b.idle(l, cond))
	}
}

// idle is the fault of a limit that no cell of the table could pass, or nil.
func (b *block) idle(l *limit, at fault.Place) *fault.Fault {
	switch uses := l.holds.Uses(); {
	case len(b.sheet.Gives) == 0:
		return fault.At(at, "%s gives a verdict and no figure that a limit could be about", b.sheet.Name).Fix("take the limit out")
	case len(b.results) == 0: // the show line is at fault
		return nil
	case !slices.ContainsFunc(b.results, func(r *method.Result) bool { return slices.Contains(uses, r.Name) }):
		return fault.At(at, "this limit is about no result that the table shows").Want("one of those it shows: %s", names(b.results))
	}
	return nil
}

// splitLimit parts a limit line at the comma before its words. The second
// part has no text where there are none.
func splitLimit(p fault.Place) (cond, beyond fault.Place) {
	s := p.String()
	for i := range len(s) {
		if s[i] == ',' && strings.HasPrefix(strings.TrimSpace(s[i+1:]), "beyond") {
			return p.Sub(0, i).Trim(), p.Sub(i+1, len(s)).Trim()
		}
	}
	return p, fault.Place{}
}

func names(results []*method.Result) string {
	var all []string
	for _, r := range results {
		all = append(all, r.Name)
	}
	return strings.Join(all, ", ")
}

// quoted reads the words of a limit: beyond: "too thin".
func quoted(p fault.Place) (string, *fault.Fault) {
	rest := strings.TrimSpace(strings.TrimPrefix(p.String(), "beyond"))
	rest, colon := strings.CutPrefix(rest, ":")
	rest = strings.TrimSpace(rest)
	if !colon || len(rest) < 3 || rest[0] != '"' || rest[len(rest)-1] != '"' || strings.Count(rest, `"`) != 2 {
		return "", fault.At(p, "the words for what is beyond the limit are not whole").Want("%s", limitShape).Fix(`beyond: "too thin"`)
	}
	return rest[1 : len(rest)-1], nil
}

// mark sets the words of the limits that a cell passes, and gives its number
// as many digits as it takes for the print not to contradict them. A cell that
// cannot be told meets no limit, and says so itself.
func (b *block) mark(c *Cell, r *method.Result, p *point) {
	if c.Value.State != formula.Known {
		return
	}
	shown := r.Format
	for _, l := range b.limits {
		if !slices.Contains(l.holds.Uses(), r.Name) {
			continue
		}
		truth, why := l.holds.Truth(p)
		switch truth {
		case formula.Untold:
			c.Untold = append(c.Untold, why)
			continue
		case formula.False:
			c.pass(l.beyond)
		}
		for range mostMoreDigits {
			again, _ := l.holds.Truth(asPrinted{p, r.Name, shown})
			if again == truth {
				break
			}
			shown = finer(shown)
		}
	}
	if shown != r.Format {
		more := *r
		more.Format = shown
		c.Number = more.Number(c.Value)
	}
}

// pass marks the cell as beyond a limit. One that is beyond several says the
// words of each.
func (c *Cell) pass(words string) {
	c.Passed = true
	switch {
	case c.Beyond == "":
		c.Beyond = words
	case words != "" && !slices.Contains(strings.Split(c.Beyond, "; "), words):
		c.Beyond += "; " + words
	}
}

// mostMoreDigits is how many digits a cell may gain so that it does not
// contradict its limit.
const mostMoreDigits = 8

func finer(f unit.Format) unit.Format {
	if f.Figures > 0 {
		f.Figures++
	} else {
		f.Places++
	}
	return f
}

// asPrinted answers with the number of one result as it stands on paper.
type asPrinted struct {
	*point
	result string
	format unit.Format
}

// Value implements [formula.Env].
func (a asPrinted) Value(name string) formula.Value {
	v := a.point.Value(name)
	if name == a.result {
		return printed(v, a.format)
	}
	return v
}

// printed is a value, or a list of them, as the text stands for it.
func printed(v formula.Value, f unit.Format) formula.Value {
	if v.List != nil {
		list := make([]formula.Value, len(v.List))
		for i, m := range v.List {
			list[i] = printed(m, f)
		}
		v.List = list
		return v
	}
	if v.State == formula.Known && v.Word == "" {
		v.Number = f.Printed(v.Number)
	}
	return v
}
