package render

import (
	"html/template"
	"strconv"

	"github.com/yuin/goldmark/ast"

	"bindpost/site/guide"
)

// decisionView is what the template of a table that decides is filled with.
type decisionView struct {
	words
	Number  string
	Name    template.HTML
	Title   string
	Scrolls template.HTML
	Heed    template.HTML
	Form    string // classes of the region that the table stands in, each with a space before it
	Asks    []askView
	Rules   []ruleView
	Path    []pathStep
}

// askView is a question of a table that decides. On paper its letter stands at
// the head of its column, and a key above the table says what it asks.
type askView struct {
	Letter string
	Words  template.HTML
}

// ruleView is a row of a table that decides.
type ruleView struct {
	Row     string
	Replies []replyView // nil of the otherwise
	Across  int         // of the otherwise, the columns that it goes across
	Answer  template.HTML
}

// replyView is one cell of a rule. On a narrow screen a rule is read downwards,
// each reply behind its question, and those that do not matter are left out.
type replyView struct {
	Ask  askView
	Any  bool
	Text template.HTML
}

// manyAsks is from how many questions on a table that decides takes the whole
// width of the page.
const manyAsks = 4

// pathStep is a step of a question path.
type pathStep struct {
	ID    string
	Ask   template.HTML
	Turns []pathTurn
}

type pathTurn struct{ Replies, To template.HTML }

// decision sets a table that decides.
func (s *setter) decision(t *guide.Table) (decisionView, error) {
	v := decisionView{
		words: s.words, Number: t.Number, Title: t.Decision.Question,
		Name: s.fill("table", "number", t.Number), Scrolls: s.fill("table-scrolls", "number", t.Number), Heed: s.heed(t),
	}
	for i, n := range t.Decision.Asks {
		ask, err := s.line(n)
		if err != nil {
			return v, err
		}
		v.Asks = append(v.Asks, askView{letter(i), ask})
	}
	var answers []template.HTML
	for i, r := range t.Decision.Rules {
		answer, err := s.ruleAnswer(r)
		if err != nil {
			return v, err
		}
		answers = append(answers, answer)
		v.Rules = append(v.Rules, s.rule(r, strconv.Itoa(i+1), answer, v.Asks))
	}
	if len(v.Asks) >= manyAsks {
		v.Form = " wide"
	}
	for i, step := range t.Decision.Path {
		set := pathStep{ID: stepID(t, i), Ask: v.Asks[step.Ask].Words}
		for _, turn := range step.Turns {
			set.Turns = append(set.Turns, pathTurn{capitalHTML(s.replies(turn.Replies)), s.turn(t, turn, answers)})
		}
		v.Path = append(v.Path, set)
	}
	return v, nil
}

func stepID(t *guide.Table, i int) string { return t.Number + "-Q" + strconv.Itoa(i+1) }

func (s *setter) rule(r guide.DecisionRule, row string, answer template.HTML, asks []askView) ruleView {
	v := ruleView{Row: row, Answer: s.traced(r.Address, answer)}
	if r.Replies == nil {
		v.Across = len(asks)
		return v
	}
	for i, set := range r.Replies {
		v.Replies = append(v.Replies, replyView{asks[i], set == nil, s.replies(set)})
	}
	return v
}

// letter returns the letter of a question: A to Z, then AA, AB and on.
func letter(i int) string {
	const letters = 26
	if i >= letters {
		return letter(i/letters-1) + letter(i%letters)
	}
	return string(rune('A' + i))
}

// traced sets an answer with its address, by which it is traced.
func (s *setter) traced(address string, answer template.HTML) template.HTML {
	return template.HTML(`<data value="`+escaped(address)+`">`) + answer + `</data>`
}

// ruleAnswer sets the answer of a rule: what must be heeded before it, its
// verdict, its words.
func (s *setter) ruleAnswer(r guide.DecisionRule) (template.HTML, error) {
	answer, err := s.line(r.Answer)
	if r.Verdict != "" {
		answer = s.fill("decide-verdict", "verdict", "<b>"+capitalHTML(asHTML(s.sayOr("grade-", r.Verdict)))+"</b>", "answer", answer)
	}
	if heed := s.heedOf(r.Cautions); heed != "" {
		answer = heed + " " + answer
	}
	return answer, err
}

// turn says where replies lead: on to a step, or to an answer.
func (s *setter) turn(t *guide.Table, turn guide.DecisionTurn, answers []template.HTML) template.HTML {
	if turn.Step < 0 {
		return answers[turn.Rule]
	}
	step := s.fill("decide-step", "number", strconv.Itoa(turn.Step+1))
	return s.fill("decide-go", "step", link("#"+stepID(t, turn.Step), step))
}

// replies names the replies of a rule: "no or don't know".
func (s *setter) replies(set []string) template.HTML {
	if set == nil {
		return asHTML(s.Say("decide-any"))
	}
	said := asHTML(s.sayOr("reply-", set[0]))
	for _, r := range set[1:] {
		said = s.fill("decide-or", "first", said, "second", s.sayOr("reply-", r))
	}
	return said
}

// line sets the words of a paragraph without the paragraph.
func (s *setter) line(paragraph ast.Node) (template.HTML, error) {
	text, err := setText(func(f *forme) error {
		for n := paragraph.FirstChild(); n != nil; n = n.NextSibling() {
			if err := s.markdown(f, n); err != nil {
				return err
			}
		}
		return nil
	})
	return template.HTML(text), err
}

// gridAndBelow returns the templates that set the table of a block in two
// pieces, the grid and what stands below it, and what they are filled with.
func (s *setter) gridAndBelow(t *guide.Table) (names [2]string, view any, err error) {
	switch {
	case t.Decision != nil:
		view, err = s.decision(t)
		return [2]string{"decision", "path"}, view, err
	case t.Hookup != nil:
		return [2]string{"hookup", "hookup-below"}, s.hookup(t), nil
	}
	table := s.table(t)
	return [2]string{"grid", "below"}, &table, nil
}
