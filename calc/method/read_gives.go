package method

import (
	"strconv"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/unit"
)

var resultFields = []string{"of", "unit", "choice", "places", "figures", "round", "sense", "says", "symbol", "head"}

func (d *Data) readGives(n *record.Node, faults *fault.List) {
	if n == nil || n.Kind == record.Empty {
		return
	}
	if n.Kind != record.Map {
		faults.Add(fault.At(n.Place, "gives holds %s", n.Kind).Want("results by name"))
		return
	}
	for _, e := range n.Entries {
		wrong := e.Value.Keys("a result", resultFields...)
		faults.Join(wrong)
		if e.Value.Kind != record.Map {
			continue
		}
		checkTexts(e.Value, faults, "of", "sense", "says", "symbol", "head")
		r := &Result{
			Name: e.Key.Text, Of: text(e.Value.Get("of")), Says: text(e.Value.Get("says")),
			Sense: text(e.Value.Get("sense")), Symbol: text(e.Value.Get("symbol")), Head: text(e.Value.Get("head")), Place: e.Key.Place,
		}
		if r.Of == "" {
			r.Of = r.Name
		}
		if n := e.Value.Get("choice"); n != nil && n.Kind != record.Empty {
			r.Words, r.Print = readChoice(n, faults)
		} else {
			bad := &fault.List{}
			r.readFormat(e.Value, bad)
			r.broken = bad.Stopped()
			faults.Join(bad)
		}
		d.sheet.Gives = append(d.sheet.Gives, r)
	}
}

// readFormat reads how a result is printed: unit, digits and the direction in
// which it may be rounded without becoming unsafe. All three must be said.
func (r *Result) readFormat(n *record.Node, faults *fault.List) {
	u := n.Get("unit")
	if u == nil {
		faults.Add(fault.At(r.Place, "the result %q has no unit", r.Name).Want("a unit, such as unit: m; of a plain number, unit: number"))
		return
	}
	var f *fault.Fault
	if r.Unit, f = unit.Parse(u.Place); f != nil {
		faults.Add(f)
		return
	}
	r.Format = unit.Format{Unit: r.Unit}
	places, figures := n.Get("places"), n.Get("figures")
	switch {
	case (places == nil) == (figures == nil):
		faults.Add(fault.At(r.Place, "the result %q does not say how many digits it has", r.Name).Want("places, such as places: 1, or figures, such as figures: 3"))
	case places != nil:
		r.Format.Places = digits(places, 0, faults)
	default:
		r.Format.Figures = digits(figures, 1, faults)
	}
	switch text(n.Get("round")) {
	case "up":
		r.Format.Round = unit.Up
	case "down":
		r.Format.Round = unit.Down
	case "either":
		r.Format.Round = unit.Either
	default:
		faults.Add(fault.At(r.Place, "the result %q does not say which way it may be rounded", r.Name).
			Want("round: up, down or either, whichever errs on the harmless side"))
	}
}

func digits(n *record.Node, least int, faults *fault.List) int {
	const most = 9
	d, err := strconv.Atoi(n.Text)
	if err != nil || d < least || d > most {
		faults.Add(fault.At(n.Place, "%q is no number of digits", n.Text).Want("%d to %d", least, most))
		return least
	}
	return d
}

// readDirections checks what is said of how results move with inputs.
func (d *Data) readDirections(n *record.Node, faults *fault.List) {
	for _, field := range []string{"rises", "falls", "neither"} {
		lines, fs := n.Get(field).Words(field)
		faults.Join(fs)
		for _, line := range lines {
			result, input, found := strings.Cut(line.Text, " with ")
			if !found || d.sheet.Result(result) == nil {
				faults.Add(fault.At(line.Place, "%q does not say which result moves with which value", line.Text).Want("result with value"))
				continue
			}
			input, why, _ := strings.Cut(input, ", because ")
			if field == "neither" && why == "" {
				faults.Add(fault.At(line.Place, "%q does not say why it neither rises nor falls", line.Text).
					Want("the reason behind a comma, such as \"heat with load, because it is greatest where both are equal\""))
			}
			d.sheet.Moves = append(d.sheet.Moves, Move{Result: result, With: input, Way: field, Because: why, Place: line.Place})
		}
	}
	d.directions = n.Get("directions")
}

func (d *Data) inputNames() []string {
	names := make([]string, len(d.sheet.Takes))
	for i, in := range d.sheet.Takes {
		names[i] = in.Name
	}
	return names
}
