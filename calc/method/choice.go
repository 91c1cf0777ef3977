package method

import (
	"slices"
	"strconv"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/record"
)

// readChoice reads the words of a choice: a list of them, or, where what an
// author types is too short to be read by others, each word with what is
// printed for it: {c2: stiff, c5: flexible}.
func readChoice(n *record.Node, faults *fault.List) (words []string, print map[string]string) {
	if n.Kind != record.Map {
		listed, fs := n.Words("choice")
		faults.Join(fs)
		for _, w := range listed {
			words = append(words, w.Text)
		}
		return words, nil
	}
	print = map[string]string{}
	for _, e := range n.Entries {
		if e.Value.Kind != record.Scalar || e.Value.Text == "" {
			faults.Add(fault.At(e.Key.Place, "it is not said what is printed for %q", e.Key.Text).
				Want("the words for readers, such as c5: flexible (class 5)"))
			continue
		}
		words = append(words, e.Key.Text)
		print[e.Key.Text] = e.Value.Text
	}
	return words, print
}

// Printed returns what is printed for a word of the choice.
func (i *Input) Printed(word string) string { return printed(i.Print, word) }

// Printed returns what is printed for a word of the result.
func (r *Result) Printed(word string) string { return printed(r.Print, word) }

// Offered returns the words of the choice as they are typed, each with what is
// printed for it behind it where that differs: "c5 (flexible)".
func (i *Input) Offered() []string {
	offered := make([]string, len(i.Choice))
	for k, word := range i.Choice {
		if offered[k] = word; i.Printed(word) != word {
			offered[k] += " (" + i.Printed(word) + ")"
		}
	}
	return offered
}

func printed(words map[string]string, word string) string {
	if p, ok := words[word]; ok {
		return p
	}
	return word
}

// mostListed is how many words of a choice a fault lists.
const mostListed = 20

// noWord tells that what was typed is none of a choice's words. Where one of
// them is plainly meant it is proposed; where several may be, only somebody who
// sees the thing can tell, so they are listed and none is proposed.
func (i *Input) noWord(typed fault.Place) *fault.Fault {
	f := fault.At(typed, "%s cannot be %q", i.Name, typed)
	switch meant := i.meant(typed.String()); {
	case len(meant) == 1:
		return f.Want("%s", i.wantedFor(typed.String())).Fix("%s", meant[0])
	case len(meant) > 1 && len(meant) <= mostListed:
		return f.Want("one of these, whichever it is: %s", strings.Join(meant, ", "))
	default:
		return f.Want("%s", i.wantedFor(typed.String()))
	}
}

// meant returns the words of a choice that may have been meant: one that
// differs in case alone, those that hold every word that was typed, the one that
// stands in it with something else, or one with slips of typing. Words that the trade has for the same thing count as one.
func (i *Input) meant(typed string) []string {
	words := i.inOwnWords(typed)
	var same, holding, held, near []string
	for _, c := range i.Choice {
		own := strings.Fields(strings.ToLower(c))
		switch {
		case slices.Equal(own, words):
			same = append(same, c)
		case within(words, own):
			holding = append(holding, c)
		case within(own, words):
			held = append(held, c)
		case misspelt(words, own):
			near = append(near, c)
		}
	}
	switch {
	case len(same) > 0:
		return same[:1]
	case len(holding) > 0:
		return holding
	case len(held) == 1:
		return held
	case len(near) > 0:
		return []string{fault.Near(strings.Join(words, " "), near)}
	default:
		return nil
	}
}

// inOwnWords returns what was typed in the words of the choice itself.
func (i *Input) inOwnWords(typed string) []string {
	words := strings.Fields(typed)
	for k, w := range words {
		own, ok := i.Others[w]
		if !ok {
			own, ok = i.Others[strings.ToLower(w)]
		}
		if !ok {
			own = strings.ToLower(w)
		}
		words[k] = own
	}
	return words
}

// within reports whether a name holds every word that was typed, however often
// it was.
func within(typed, name []string) bool {
	for _, w := range typed {
		if !slices.Contains(name, w) {
			return false
		}
	}
	return len(typed) > 0
}

// misspelt reports whether every word that was typed is close to the word of
// the name in its place. A name with a whole word changed is another thing and
// no slip: an RCA plug is no F plug.
func misspelt(typed, name []string) bool {
	if len(typed) != len(name) {
		return false
	}
	for k, w := range typed {
		if fault.Near(w, name[k:k+1]) == "" {
			return false
		}
	}
	return len(typed) > 0
}

// wantedFor says which words a choice has. Of a long one it lists those that
// share a word with what was typed.
func (i *Input) wantedFor(typed string) string {
	if len(i.Choice) <= mostListed {
		return i.wanted()
	}
	words := i.inOwnWords(typed)
	var like []string
	for _, c := range i.Choice {
		if slices.ContainsFunc(strings.Fields(strings.ToLower(c)), func(w string) bool { return slices.Contains(words, w) }) {
			like = append(like, c)
		}
	}
	if len(like) == 0 || len(like) > mostListed {
		return i.wanted()
	}
	return "one of " + strconv.Itoa(len(i.Choice)) + ", such as: " + strings.Join(like, ", ")
}
