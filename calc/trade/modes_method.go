package trade

import (
	"strconv"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// boxOfRoom are the values of room-modes that room-mode takes as they are.
var boxOfRoom = []string{"room_length", "room_width", "room_height", "sound"}

// modesCases are sides, speed of sound and highest note, a result, what it is,
// within what, and the reference.
const modesCases = `room_length=5 m; room_width=4 m; room_height=2.4 m; sound=343 m/s; up_to=120 Hz | count | 18 | 0 | numpy-room
room_length=16 ft; room_width=12 ft; room_height=8 ft; sound=344.424 m/s; up_to=50 Hz | note | 35.3125 Hz and 47.08333 Hz | 0.00001 Hz | python-room
room_length=6.1 m; room_width=4.3 m; room_height=2.5 m; sound=340 m/s; up_to=200 Hz | count | 87 | 0 | python-room
`

// RoomModes returns the method room-modes: the standing waves of a box-shaped
// room up to a note, lowest first, with the kind of each and how many they
// are. It takes the room's three sides, the speed of sound and the highest
// note, of 20 to 300 Hz; each wave is worked by the method room-mode, whose
// text is rule. More than some hundreds of waves are not listed: the results
// are then none.
func RoomModes(rule *fault.Text) method.Method {
	upTo := &method.Input{Name: "up_to", Says: "the highest note that is listed", Unit: unit.Must("Hz")}
	upTo.From, upTo.To = &method.Bound{Value: 20, Text: "20 Hz"}, &method.Bound{Value: 300, Text: "300 Hz"}
	upTo.Usual = &method.Usual{From: method.Bound{Value: 60, Text: "60 Hz"}, To: method.Bound{Value: 200, Text: "200 Hz"}}
	upTo.Book = []method.Point{pointOf(upTo, "100 Hz")}
	r := &ruled{sheet: &method.Sheet{
		Name: "room-modes", Asks: "Which notes boom in this room?", Area: "room",
		Takes: []*method.Input{upTo}, Gives: modesResults(), Borrows: []string{"room-mode"},
		Moves: []method.Move{
			{Result: "count", Way: "rises", With: "up_to"}, {Result: "count", Way: "rises", With: "room_length"},
			{Result: "count", Way: "rises", With: "room_width"}, {Result: "count", Way: "rises", With: "room_height"},
			{Result: "count", Way: "falls", With: "sound"}, {Result: "lowest", Way: "rises", With: "sound"},
			{Result: "lowest", Way: "falls", With: "room_length"}, {Result: "lowest", Way: "falls", With: "room_width"},
			{Result: "lowest", Way: "falls", With: "room_height"},
		},
		CoversNot: "rooms that are no box, thin walls, furniture, and how strong each wave is at the seat",
		Hash:      hashOf("room-modes 2", rule),
	}, shared: boxOfRoom, references: []string{"mode-formula"}, cases: modesCases,
		rule: "room-mode for every number of half waves along, across and upright, in order of the notes", says: said{
			"not known": "{fact} is not known", "too many": "there are more than {most} of them", "none": "no standing wave lies so low",
		}}
	r.answer = func(l *method.Library, at method.Values) map[string]formula.Value {
		return modesAnswer(r.says, l, upTo, at)
	}
	return r
}

func modesResults() []*method.Result {
	tenths := unit.Format{Places: 1, Round: unit.Either}
	note := giving("note", "the notes of the standing waves, lowest first", "Hz", tenths)
	note.Group = "wave"
	kind := &method.Result{Name: "kind", Of: "kind", Says: "the kind of each", Words: kindsOfModes, Group: "wave"}
	return []*method.Result{
		note, kind, giving("count", "how many standing waves there are", "number", unit.Format{Round: unit.Either}),
		giving("lowest", "the lowest of the notes", "Hz", tenths),
	}
}

// modesAnswer lists the waves, where all values are known.
func modesAnswer(says said, l *method.Library, upTo *method.Input, at method.Values) map[string]formula.Value {
	results, box := modesResults(), method.Values{}
	for _, name := range boxOfRoom {
		if _, known := at[name]; !known {
			in, _ := l.Shared(name)
			return each(results, formula.CannotTell(says.say("not known", "fact", in.Fact())))
		}
		box[name] = at[name]
	}
	if _, known := at[upTo.Name]; !known {
		return each(results, formula.CannotTell(says.say("not known", "fact", upTo.Fact())))
	}
	rule, _ := l.Method("room-mode")
	of := func(name string) float64 { return at[name].Value.Number }
	modes, ok := modesBelow(of(upTo.Name), of("sound"), [3]float64{of("room_length"), of("room_width"), of("room_height")},
		func(halves [3]int) formula.Value {
			return rule.Run(halvesAsPoints(box, halves), "frequency").Results.Of("frequency")
		})
	if !ok {
		return each(results, formula.NoValue(says.say("too many", "most", strconv.Itoa(mostModes))))
	}
	return modesListed(says, modes)
}

// modesListed tells waves as results. That there is none is a count, too.
func modesListed(says said, modes []roomMode) map[string]formula.Value {
	all := each(modesResults(), formula.NoValue(says.say("none")))
	all["count"] = formula.Quantity(float64(len(modes)))
	if len(modes) == 0 {
		return all
	}
	var notes, kinds []formula.Value
	for _, m := range modes {
		notes, kinds = append(notes, formula.Quantity(m.frequency)), append(kinds, formula.WordOf(m.kind()))
	}
	all["note"], all["kind"], all["lowest"] = formula.ListOf(notes...), formula.ListOf(kinds...), notes[0]
	return all
}
