package trade

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// modesLister is the method room-modes.
type modesLister struct {
	sheet   *method.Sheet
	library *method.Library // nil until the entries are read
}

var (
	_ method.Method  = (*modesLister)(nil)
	_ method.Entried = (*modesLister)(nil)
)

// RoomModes returns the method room-modes: the standing waves of a box-shaped
// room up to a note, lowest first, with the kind of each and how many they
// are. It takes the room's three sides, the speed of sound and the highest
// note, of 20 to 300 Hz; each wave is worked by the method room-mode, whose
// text is rule. More than some hundreds of waves are not listed: the results
// are then none.
func RoomModes(rule *fault.Text) method.Method {
	h := sha256.Sum256([]byte("room-modes 1\n" + rule.Source()))
	return &modesLister{sheet: &method.Sheet{
		Name: "room-modes", Asks: "Which notes boom in this room?", Area: "room",
		Gives: modesResults(), Borrows: []string{"room-mode"},
		Moves: []method.Move{
			{Result: "count", Way: "rises", With: "up_to"}, {Result: "count", Way: "rises", With: "room_length"},
			{Result: "count", Way: "rises", With: "room_width"}, {Result: "count", Way: "rises", With: "room_height"},
			{Result: "count", Way: "falls", With: "sound"}, {Result: "lowest", Way: "rises", With: "sound"},
			{Result: "lowest", Way: "falls", With: "room_length"}, {Result: "lowest", Way: "falls", With: "room_width"},
			{Result: "lowest", Way: "falls", With: "room_height"},
		},
		CoversNot: "rooms that are no box, thin walls, furniture, and how strong each wave is at the seat",
		Hash:      hex.EncodeToString(h[:]),
	}}
}

func modesResults() []*method.Result {
	give := func(name, says, in string, f unit.Format) *method.Result {
		f.Unit, f.Round = unit.Must(in), unit.Either
		return &method.Result{Name: name, Of: name, Says: says, Unit: f.Unit, Format: f}
	}
	note := give("note", "the notes of the standing waves, lowest first", "Hz", unit.Format{Places: 1})
	note.Group = "wave"
	kind := &method.Result{Name: "kind", Of: "kind", Says: "the kind of each", Words: kindsOfModes, Group: "wave"}
	return []*method.Result{
		note, kind, give("count", "how many standing waves there are", "number", unit.Format{}),
		give("lowest", "the lowest of the notes", "Hz", unit.Format{Places: 1}),
	}
}

// Sheet implements [method.Method].
func (m *modesLister) Sheet() *method.Sheet { return m.sheet }

// With implements [method.Entried].
func (m *modesLister) With(l *method.Library) (method.Method, *fault.List) {
	faults, sheet := &fault.List{}, *m.sheet
	b := &modesLister{sheet: &sheet, library: l}
	for _, name := range []string{"room_length", "room_width", "room_height", "sound"} {
		in, fs := l.Shared(name)
		faults.Join(fs)
		if in != nil {
			sheet.Takes = append(sheet.Takes, in)
		}
	}
	upTo := &method.Input{Name: "up_to", Says: "the highest note that is listed", Unit: unit.Must("Hz")}
	upTo.From, upTo.To = &method.Bound{Value: 20, Text: "20 Hz"}, &method.Bound{Value: 300, Text: "300 Hz"}
	upTo.Usual = &method.Usual{From: method.Bound{Value: 60, Text: "60 Hz"}, To: method.Bound{Value: 200, Text: "200 Hz"}}
	upTo.Book = []method.Point{pointOf(upTo, "100 Hz")}
	sheet.Takes = append(sheet.Takes, upTo)
	sheet.References = []string{"mode-formula"}
	b.addCases(faults)
	return b, faults
}

// modesCases are length, width, height, speed of sound and highest note, a
// result, what it is and the reference.
const modesCases = `5 m | 4 m | 2.4 m | 343 m/s | 120 Hz | count | 18 | numpy-room
16 ft | 12 ft | 8 ft | 344.424 m/s | 50 Hz | note | 35.3125 Hz and 47.08333 Hz | python-room
6.1 m | 4.3 m | 2.5 m | 340 m/s | 200 Hz | count | 87 | python-room
`

func (m *modesLister) addCases(faults *fault.List) {
	text, at := fault.NewText("the cases of room-modes", modesCases), 0
	for line := range strings.Lines(modesCases) {
		place := text.Place(at, at+len(line)-1)
		at += len(line)
		c := strings.Split(place.String(), " | ")
		reference, ok := m.library.Reference(c[7])
		if !ok {
			faults.Add(fault.At(place, "there is no reference %q", c[7]).Want("a name from the reference entries"))
			continue
		}
		v := method.Values{}
		for i, in := range m.sheet.Takes {
			v[in.Name] = pointOf(in, c[i])
		}
		want := method.Want{Result: c[5], Within: 0.006, Place: place}
		var members []formula.Value
		for _, part := range strings.Split(c[6], " and ") {
			members = append(members, formula.Quantity(amountOf(part)))
		}
		if want.Value = members[0]; len(members) > 1 {
			want.Value = formula.ListOf(members...)
		}
		m.sheet.Cases = append(m.sheet.Cases, &method.Case{Values: v, Wants: []method.Want{want}, Reference: reference, Place: place})
	}
}

// Run implements [method.Method].
func (m *modesLister) Run(v method.Values, results ...string) *method.Outcome {
	o := &method.Outcome{Results: map[string]formula.Value{}, Faults: &fault.List{}}
	at, untold := m.taken(v, o)
	var modes []roomMode
	why := "there are more than " + fmt.Sprint(mostModes) + " of them"
	if untold == "" {
		var ok bool
		if modes, ok = m.modes(at); ok {
			why = "no standing wave lies so low"
		} else {
			modes = nil
		}
	}
	for _, r := range m.sheet.Gives {
		if len(results) > 0 && !slices.Contains(results, r.Name) {
			continue
		}
		o.Results[r.Name] = modesResult(r.Name, modes, untold, why)
	}
	if r, ok := m.library.Reference("mode-formula"); ok && untold == "" {
		o.References = append(o.References, r)
	}
	return o
}

// taken lists the values as they stood, and says which is not known.
func (m *modesLister) taken(v method.Values, o *method.Outcome) (at method.Values, untold string) {
	o.Taken, at = takenOf(m.sheet, v)
	for _, in := range m.sheet.Takes {
		if _, known := at[in.Name]; !known {
			untold = in.Fact() + " is not known"
		}
	}
	return at, untold
}

// modes lists the waves of a room whose values are all known.
func (m *modesLister) modes(at method.Values) ([]roomMode, bool) {
	rule, ok := m.library.Method("room-mode")
	if !ok {
		return nil, false
	}
	of := func(name string) float64 { return at[name].Value.Number }
	box := method.Values{}
	for _, name := range []string{"room_length", "room_width", "room_height", "sound"} {
		box[name] = at[name]
	}
	return modesBelow(of("up_to"), of("sound"), [3]float64{of("room_length"), of("room_width"), of("room_height")},
		func(halves [3]int) formula.Value {
			return rule.Run(halvesAsPoints(box, halves), "frequency").Results["frequency"]
		})
}

func modesResult(name string, modes []roomMode, untold, why string) formula.Value {
	switch {
	case untold != "":
		return formula.CannotTell(untold)
	case len(modes) == 0 && (name != "count" || strings.HasPrefix(why, "there are more")):
		return formula.NoValue(why)
	case name == "count":
		return formula.Quantity(float64(len(modes)))
	case name == "lowest":
		return formula.Quantity(modes[0].frequency)
	}
	members := make([]formula.Value, len(modes))
	for i, x := range modes {
		if members[i] = formula.Quantity(x.frequency); name == "kind" {
			members[i] = formula.WordOf(x.kind())
		}
	}
	return formula.ListOf(members...)
}

// Work implements [method.Method]: how the waves were found, and the result.
func (m *modesLister) Work(v method.Values, results ...string) [][]method.Worked {
	all, o := make([][]method.Worked, len(results)), m.Run(v)
	for i, result := range results {
		const how = "room-mode for every number of half waves along, across and upright, in order of the notes"
		all[i] = workedOf(m.sheet, result, how, o.Results[result], o.References)
	}
	return all
}
