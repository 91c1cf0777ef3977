package method

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/wording"
)

// Forbidden is advice that no page prints.
type Forbidden struct {
	ID       string
	What     string // what it is: "a fuse larger than the one printed"
	Instead  string // what stands to reason instead
	Wordings []wording.Pattern
	Place    fault.Place
}

func (f *Forbidden) place() fault.Place { return f.Place }

// readForbidden reads a record of advice that is never printed, by name.
func readForbidden(n *record.Node, faults *fault.List) map[string]*Forbidden {
	entries := map[string]*Forbidden{}
	for _, e := range n.Entries {
		faults.Join(e.Value.Keys("advice that is never printed", "what", "instead", "wordings"))
		checkTexts(e.Value, faults, "what", "instead")
		f := &Forbidden{
			ID: e.Key.Text, What: text(e.Value.Get("what")), Instead: text(e.Value.Get("instead")),
			Wordings: Wordings(e.Value.Get("wordings"), faults), Place: e.Key.Place,
		}
		if f.What == "" || f.Instead == "" || len(f.Wordings) == 0 {
			faults.Add(fault.At(e.Key.Place, "the entry %q is not whole", f.ID).
				Want("what, instead and wordings: what it is, what to do instead, and how people write it"))
		}
		entries[f.ID] = f
	}
	return entries
}

// Advice is where a text gives advice that is never printed.
type Advice struct {
	Forbidden *Forbidden
	From, To  int // places in the text
}

// Forbids finds the advice in a text that is never printed, in its order.
func (l *Library) Forbids(text []wording.Word) []Advice {
	_, advice := l.Said(text)
	return advice
}

// Never returns the kept list of advice that is never printed, by name.
func (l *Library) Never() []*Forbidden {
	var all []*Forbidden
	for _, id := range sortedKeys(l.never) {
		all = append(all, l.never[id])
	}
	return all
}

// Fault is the fault of such advice, at the place where it stands.
func (a Advice) Fault(at fault.Place) *fault.Fault {
	return fault.At(at, "%q is advice that is never printed: %s", shortened(at.String()), a.Forbidden.What).
		Want("%s", a.Forbidden.Instead).
		Fix("take it out; or, where the guide warns against it, put *Never do this:* before it")
}

// shortened is a text in one line, with its middle left out where it is long.
func shortened(s string) string {
	const long, head = 8, 4
	words := strings.Fields(s)
	if len(words) <= long {
		return strings.Join(words, " ")
	}
	return strings.Join(words[:head], " ") + " … " + strings.Join(words[len(words)-head+1:], " ")
}

// NeverSaid looks through a piece of a text for advice that is never printed.
func (l *Library) NeverSaid(p fault.Place, faults *fault.List) {
	own, _, _ := strings.Cut(p.String(), "Never do this:")
	if all := l.Forbids(wording.Split(own)); len(all) > 0 {
		faults.Add(all[0].Fault(p.Sub(all[0].From, all[0].To)))
	}
}

// NeverAdvised looks through all that a file of methods says for advice that is
// never printed.
func (l *Library) NeverAdvised(n *record.Node, faults *fault.List) {
	if n.Kind == record.Scalar {
		own, _, _ := strings.Cut(n.Text, "Never do this:")
		for _, a := range l.Forbids(wording.Split(own)) {
			at := n.Place
			if at.String() == n.Text {
				at = at.Sub(a.From, a.To)
			}
			faults.Add(a.Fault(at))
			return
		}
	}
	for _, e := range n.Entries {
		l.NeverAdvised(e.Value, faults)
	}
	for _, item := range n.Items {
		l.NeverAdvised(item, faults)
	}
}
