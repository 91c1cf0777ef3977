package guide

import (
	"strconv"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/decide"
	"bindpost/calc/method"
)

// Decision is what a decide block prints: its rules as a table, and the same
// as a path of questions.
type Decision struct {
	Question string
	Asks     []ast.Node // the questions, each a paragraph
	Rules    []DecisionRule
	Path     []DecisionStep // empty where nothing needs to be asked
}

// DecisionRule is a rule of a decision.
type DecisionRule struct {
	Address  string     // "way-in.rule-2", "way-in.otherwise"
	Replies  [][]string // by question the replies it holds for: yes, no, don't know; nil where any will do. Nil as a whole of the otherwise
	Verdict  string     // a grade; "" where none is given
	Cautions []string   // IDs
	Answer   ast.Node   // a paragraph
}

// DecisionStep is a step of a path: a question, and where the replies lead,
// those that lead to the same place together.
type DecisionStep struct {
	Ask   int
	Turns []DecisionTurn
}

// DecisionTurn is where replies lead: to a step, or to the answer of a rule.
type DecisionTurn struct {
	Replies []string
	Step    int // from 0; -1 where an answer is reached
	Rule    int
}

// fill makes the table of a decision that was proved. Its questions and
// answers stand in the tree below it, so that they are read as prose.
func (d *decision) fill(f fence) *TableNode {
	t := &Table{Name: d.name, Named: d.named, Block: f.text(), Inside: &Inside{Decision: &Decision{Question: d.reader.plainTerms(d.question)}}}
	node := &TableNode{Table: t}
	d.reader.checkQuestion(d.question)
	for _, a := range d.asks {
		t.Decision.Asks = append(t.Decision.Asks, a.question)
		node.AppendChild(node, a.question)
	}
	var cautions []*method.Caution
	for i, r := range d.rules {
		t.Decision.Rules = append(t.Decision.Rules, d.rule(r, i))
		node.AppendChild(node, r.answer)
		cautions = append(cautions, r.cautions...)
	}
	for _, s := range d.table().Path() {
		t.Decision.Path = append(t.Decision.Path, step(s))
	}
	gravestFirst(cautions)
	t.Cautions = ids(cautions)
	for _, c := range cautions {
		d.reader.warn(c, f.node.Pos())
	}
	return node
}

func (d *decision) rule(r ruling, i int) DecisionRule {
	rule := DecisionRule{Address: d.name + "." + otherwiseWord, Verdict: r.verdict, Cautions: ids(r.cautions), Answer: r.answer}
	if r.when == nil {
		return rule
	}
	rule.Address = d.name + ".rule-" + strconv.Itoa(i+1)
	for _, s := range r.when {
		rule.Replies = append(rule.Replies, repliesOf(s))
	}
	return rule
}

// repliesOf names the replies of a set, nil for all of them.
func repliesOf(s decide.Set) []string {
	if s == decide.Any {
		return nil
	}
	var words []string
	for _, r := range s.Replies() {
		words = append(words, r.String())
	}
	return words
}

func step(s decide.Step) DecisionStep {
	made := DecisionStep{Ask: s.Condition}
	for _, r := range decide.Any.Replies() {
		turn := s.Next[r]
		same := -1
		for i, t := range made.Turns {
			if t.Step == turn.Step && (turn.Step >= 0 || t.Rule == turn.Rule) {
				same = i
			}
		}
		if same < 0 {
			same = len(made.Turns)
			made.Turns = append(made.Turns, DecisionTurn{Step: turn.Step, Rule: turn.Rule})
		}
		made.Turns[same].Replies = append(made.Turns[same].Replies, r.String())
	}
	return made
}

// ids names cautions, each once.
func ids(cautions []*method.Caution) []string {
	var all []string
	seen := map[string]bool{}
	for _, c := range cautions {
		if !seen[c.ID] {
			all, seen[c.ID] = append(all, c.ID), true
		}
	}
	return all
}
