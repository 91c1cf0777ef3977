package formula

// cases sets outcomes behind a brace, each with the condition under which it
// holds.
func (s setter) cases(n *Cases) string {
	rows := ""
	for _, c := range n.Cases {
		rows += casesRow(s.bare(c.Outcome), row(text("if"+noBreak), s.bare(c.When)))
	}
	rows += casesRow(s.bare(n.Else), text("otherwise"))
	return row(fence("{"), `<mtable class="cases">`+rows+"</mtable>")
}

func casesRow(outcome, condition string) string {
	return "<mtr><mtd>" + outcome + "</mtd><mtd>" + condition + "</mtd></mtr>"
}

const noBreak = "\u00a0"

// relationWords says how two values are compared, and how they are not.
var relationWords = map[Relation][2]string{
	Less:    {"is below", "is at least"},
	AtMost:  {"is at most", "is above"},
	Equal:   {"equals", "does not equal"},
	AtLeast: {"is at least", "is below"},
	Greater: {"is above", "is at most"},
}

// between sets words with a space to either side.
func between(words string) string { return text(noBreak + words + noBreak) }

// condition typesets a condition in words.
func (s setter) condition(n Node) string {
	switch n := n.(type) {
	case *And:
		return s.joined(n.Tests, "and")
	case *Or:
		return s.joined(n.Tests, "or")
	case *Not:
		return s.test(n.Test, 1)
	case *Given, *Is, *Compare:
		return s.test(n, 0)
	}
	panic("formula: a node of unknown kind")
}

func (s setter) joined(tests []Node, word string) string {
	parts := []string{s.node(tests[0])}
	for _, test := range tests[1:] {
		parts = append(parts, between(word), s.node(test))
	}
	return row(parts...)
}

// test typesets one test, or with turned 1 its contrary.
func (s setter) test(n Node, turned int) string {
	switch n := n.(type) {
	case *Not:
		return s.test(n.Test, 1-turned)
	case *Given:
		return row(s.symbol(n.Name.Text), text(noBreak+[2]string{"is given", "is not given"}[turned]))
	case *Is:
		return row(s.symbol(n.Name.Text), between([2]string{"is", "is not"}[turned]), s.node(n.Value))
	case *Compare:
		return row(s.bare(n.Left), between(relationWords[n.Relation][turned]), s.bare(n.Right))
	}
	panic("formula: a test of unknown kind")
}
