package method

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/unit"
)

// TradeName is a figure that is a name in the trade: a 75 ohm plug.
type TradeName struct {
	Name   string
	Figure unit.Quantity
	Beside []string // words, one of which stands near it; nil: a name anywhere
	Says   string
}

// TradeNames returns the figures that are names in the trade, by name. The list
// is the library's own.
func (l *Library) TradeNames() []TradeName { return l.named }

func (l *Library) gatherNames() []TradeName {
	all := make([]TradeName, 0, len(l.names))
	for _, name := range sortedKeys(l.names) {
		all = append(all, l.names[name])
	}
	return all
}

// readNames reads trade names by name.
func (l *Library) readNames(n *record.Node, faults *fault.List) {
	for _, e := range n.Entries {
		faults.Join(e.Value.Keys("a trade name", "figure", "beside", "says"))
		t := TradeName{Name: e.Key.Text, Says: text(e.Value.Get("says"))}
		figure := e.Value.Get("figure")
		if figure == nil || t.Says == "" {
			faults.Add(fault.At(e.Key.Place, "the trade name %q is not whole", t.Name).Want("figure: and says:, and beside: where it needs a word"))
			continue
		}
		q, f := unit.Read(figure.Place)
		faults.Add(f)
		t.Figure = q
		words, fs := e.Value.Get("beside").Words("beside")
		faults.Join(fs)
		for _, w := range words {
			t.Beside = append(t.Beside, w.Text)
		}
		l.names[t.Name] = t
	}
}

// Means reports whether a quantity, in the words that stand round it, is this
// name. The words are in small letters; one that begins like a word of the
// name will do, as plugs does for plug.
func (t TradeName) Means(q unit.Quantity, words []string) bool {
	if q.Unit.Kind() != t.Figure.Unit.Kind() || !near(q.Value, t.Figure.Value) {
		return false
	}
	for _, b := range t.Beside {
		for _, w := range words {
			if strings.HasPrefix(w, b) {
				return true
			}
		}
	}
	return t.Beside == nil
}
