package guide

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
)

// dumpDecision writes a table that decides as plain text.
func dumpDecision(b *strings.Builder, t *Table) {
	fmt.Fprintf(b, "%s %s decides: %s\n", t.Number, t.Name, t.Decision.Question)
	for _, c := range t.Cautions {
		fmt.Fprintf(b, "  caution %s\n", c)
	}
	for _, r := range t.Decision.Rules {
		var replies []string
		for _, set := range r.Replies {
			if set == nil {
				set = []string{"any"}
			}
			replies = append(replies, strings.Join(set, " or "))
		}
		fmt.Fprintf(b, "  %s: %s%s%s\n", r.Address, strings.Join(replies, " | "), said(r.Verdict, r.Verdict != ""), said(strings.Join(r.Cautions, " "), r.Cautions != nil))
	}
	for i, s := range t.Decision.Path {
		fmt.Fprintf(b, "  step %d asks %d:", i+1, s.Ask+1)
		for _, turn := range s.Turns {
			to := "step " + fmt.Sprint(turn.Step+1)
			if turn.Step < 0 {
				to = t.Decision.Rules[turn.Rule].Address
			}
			fmt.Fprintf(b, " %s to %s;", strings.Join(turn.Replies, " or "), to)
		}
		b.WriteString("\n")
	}
}

// TestDecideTyped types random tables as an author would, asks the reader, and
// looks at every case: a table is refused where a case has no answer or two,
// and else its path leads to the answer of the rule that holds.
func TestDecideTyped(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 4))
	kit, sound, refused := testKit(t), 0, 0
	for range 600 {
		text, sets := typedTable(r)
		g, faults := Read(fault.NewText("guide.md", text), kit)
		wrong := wrongCase(sets)
		if wrong != "" {
			refused++
			if !faults.Stopped() || len(g.Tables) != 0 {
				t.Fatalf("%s, and nothing stops:\n%s", wrong, text)
			}
			continue
		}
		if faults.Stopped() {
			if only(faults, "no answer depends on", "can never be reached") {
				continue
			}
			t.Fatalf("a sound table is refused:\n%s\n%s", text, faults)
		}
		sound++
		followAll(t, g.Tables[0].Decision, sets)
	}
	if sound < 20 || refused < 20 {
		t.Errorf("%d sound tables and %d others are too few", sound, refused)
	}
}

func only(faults *fault.List, messages ...string) bool {
	return !slices.ContainsFunc(faults.All(), func(f *fault.Fault) bool {
		return !slices.ContainsFunc(messages, func(m string) bool { return strings.Contains(f.Message, m) })
	})
}

const typedAsks = 3

var typedReplies = []string{"yes", "no", "don't know"}

// typedTable draws rules by parting all cases at random, and sometimes leaves
// one out or says one again.
func typedTable(r *rand.Rand) (text string, sets [][][]string) {
	all := [][][]string{{typedReplies, typedReplies, typedReplies}}
	for range r.IntN(6) {
		i, n := r.IntN(len(all)), r.IntN(typedAsks)
		if len(all[i][n]) < 2 {
			continue
		}
		cut := 1 + r.IntN(len(all[i][n])-1)
		one, rest := slices.Clone(all[i]), slices.Clone(all[i])
		one[n], rest[n] = all[i][n][:cut], all[i][n][cut:]
		all = append(slices.Delete(slices.Clone(all), i, i+1), one, rest)
	}
	switch r.IntN(4) {
	case 0:
		all = all[1:]
	case 1:
		all = append(all, all[r.IntN(len(all))])
	}
	text = plainDocket + "```decide\nname: way\nquestion: Which way?\nask: a = Is it a?\nask: b = Is it b?\nask: c = Is it c?\n"
	for i, rule := range all {
		var conditions []string
		for n, set := range rule {
			if len(set) < len(typedReplies) || r.IntN(8) == 0 {
				conditions = append(conditions, string(rune('a'+n))+" is "+strings.Join(set, " or "))
			}
		}
		if conditions == nil {
			conditions = []string{"a is yes or no or don't know"}
		}
		text += fmt.Sprintf("rule: %s, answer: Way %d.\n", strings.Join(conditions, " and "), i)
	}
	return text + "```\n", all
}

// wrongCase says which case has no answer or two.
func wrongCase(sets [][][]string) string {
	for _, a := range typedReplies {
		for _, b := range typedReplies {
			for _, c := range typedReplies {
				if n := len(holding(sets, []string{a, b, c})); n != 1 {
					return fmt.Sprintf("%s, %s, %s has %d answers", a, b, c, n)
				}
			}
		}
	}
	return ""
}

func holding(sets [][][]string, replies []string) []int {
	var all []int
	for i, rule := range sets {
		if !slices.ContainsFunc(seqOf(len(replies)), func(n int) bool { return !slices.Contains(rule[n], replies[n]) }) {
			all = append(all, i)
		}
	}
	return all
}

func seqOf(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// followAll follows a path for every case.
func followAll(t *testing.T, d *Decision, sets [][][]string) {
	t.Helper()
	for _, a := range typedReplies {
		for _, b := range typedReplies {
			for _, c := range typedReplies {
				replies := []string{a, b, c}
				want, got := holding(sets, replies)[0], 0
				for at := 0; len(d.Path) > 0 && at >= 0; {
					s := d.Path[at]
					i := slices.IndexFunc(s.Turns, func(turn DecisionTurn) bool { return slices.Contains(turn.Replies, replies[s.Ask]) })
					at, got = s.Turns[i].Step, s.Turns[i].Rule
				}
				if got != want {
					t.Fatalf("%v leads to rule %d, and not to %d: %+v", replies, got, want, d)
				}
			}
		}
	}
}
