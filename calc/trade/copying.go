package trade

import (
	"crypto/sha256"
	"encoding/hex"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/wiring"
)

// The places of the leads between two decks and an amplifier.
const (
	chosen    = "the chosen source"
	recordOut = "the record output"
	heard     = "the monitor"
)

// The two decks, as the names of values have them.
const (
	firstDeck  = "first"
	secondDeck = "second"
)

func playOf(deck string) string   { return deck + " play" }
func recordOf(deck string) string { return deck + " record" }

// Copying returns the method copying: from where the play and the record side
// of each of two decks are connected, and which way a dubbing switch or a lead
// joins them, it tells which deck can be copied to which, and whether a deck
// hears itself, which is refused. All its values are choices of words.
func Copying() method.Method {
	play := map[string]string{"loop": "the play side of a tape loop", "line": "an ordinary line input", "nowhere": "nowhere"}
	record := map[string]string{"record out": "a record output", "nowhere": "nowhere"}
	dubbing := map[string]string{"none": "none", "first to second": "from the first to the second", "second to first": "from the second to the first", "both": "both ways"}
	take := func(name, says string, print map[string]string, book string, words ...string) *method.Input {
		in := &method.Input{Name: name, Says: says, Choice: words, Print: print}
		in.Book = []method.Point{factWord(in, book)}
		return in
	}
	dub := take("dubbing", "the way of a dubbing switch, or of a lead straight from deck to deck", dubbing, "none", "none", "first to second", "second to first", "both")
	dub.Usually = &dub.Book[0]
	give := func(name, says string, words ...string) *method.Result {
		return &method.Result{Name: name, Of: name, Says: says, Words: words}
	}
	h := sha256.Sum256([]byte("copying 1"))
	says := copyingSays()
	return &answered{
		answer: func(v method.Values) answer { return copied(v, says) }, cases: copyingCases, says: says,
		sheet: &method.Sheet{
			Name: "copying", Asks: "Can this deck copy to that one?", Area: "inputs",
			Takes: []*method.Input{
				take("first_play", "where the first deck's play side goes", play, "loop", "loop", "line", "nowhere"),
				take("first_record", "where the first deck's record side comes from", record, "record out", "record out", "nowhere"),
				take("second_play", "where the second deck's play side goes", play, "line", "loop", "line", "nowhere"),
				take("second_record", "where the second deck's record side comes from", record, "nowhere", "record out", "nowhere"),
				dub,
			},
			Gives: []*method.Result{
				give("first_to_second", "whether the second deck can copy the first", "yes", "no"),
				give("second_to_first", "whether the first deck can copy the second", "yes", "no"),
				give("howl", "which deck can hear itself", "neither deck", "the first deck", "the second deck", "both decks"),
			},
			Verdicts: []string{
				`leads: do not connect "a deck that records what it plays howls: take its record lead out, or put its play side on a tape loop" when a deck can hear itself`,
				`leads: fits "no deck hears itself"`,
			},
			VerdictNames: []string{"leads"},
			References:   []string{"copying-graph", "copying-search"}, Cautions: []string{"mute-first", "howl-loop"},
			CoversNot: "amplifiers whose record output comes after the monitor button, decks that pass on what they record while their own monitor is set to source, and whether a copy may be made",
			Hash:      hex.EncodeToString(h[:]),
		},
	}
}

// copyingSays is what the method says beside its sheet.
func copyingSays() said {
	return said{
		"not known": "it is not known where every side of the two decks goes",
		"howls":     "a deck that records what it plays howls: take its record lead out, or put its play side on a tape loop",
		"no howl":   "no deck hears itself",
		"way":       "a way along the leads from the one deck's play side to the other's record side",
		"own way":   "a way along the leads from a deck's play side to its own record side",
	}
}

// leadsOf are the ways that a signal goes by itself between two decks and an
// amplifier; ok is false where one of the connections is not known.
func leadsOf(v method.Values) (leads []wiring.Lead, ok bool) {
	leads = []wiring.Lead{{From: chosen, To: recordOut}, {From: chosen, To: heard}}
	is := func(name, word string) bool { return v[name].Value.Word == word }
	for _, name := range []string{"first_play", "first_record", "second_play", "second_record"} {
		if p, ok := v[name]; !ok || !p.Known() {
			return nil, false
		}
	}
	for _, deck := range []string{firstDeck, secondDeck} {
		switch {
		case is(deck+"_play", "line"):
			leads = append(leads, wiring.Lead{From: playOf(deck), To: chosen})
		case is(deck+"_play", "loop"):
			leads = append(leads, wiring.Lead{From: playOf(deck), To: heard})
		}
		if is(deck+"_record", "record out") {
			leads = append(leads, wiring.Lead{From: recordOut, To: recordOf(deck)})
		}
	}
	if is("dubbing", "first to second") || is("dubbing", "both") {
		leads = append(leads, wiring.Lead{From: playOf(firstDeck), To: recordOf(secondDeck)})
	}
	if is("dubbing", "second to first") || is("dubbing", "both") {
		leads = append(leads, wiring.Lead{From: playOf(secondDeck), To: recordOf(firstDeck)})
	}
	return leads, true
}

// copied tells what is reached from what.
func copied(v method.Values, says said) answer {
	a := answer{results: map[string]formula.Value{}, references: []string{"copying-graph", "copying-search"}, cautions: []string{"mute-first"}}
	leads, ok := leadsOf(v)
	if !ok {
		untold := says.say("not known")
		for _, name := range []string{"first_to_second", "second_to_first", "howl"} {
			a.results[name] = formula.CannotTell(untold)
		}
		a.verdicts = []method.Verdict{{Name: "leads", Grade: method.CannotTell, Words: untold}}
		return a
	}
	reaches := func(from, to string) bool { return wiring.Reaches(leads, playOf(from), recordOf(to)) }
	yes := func(b bool) formula.Value {
		if b {
			return formula.WordOf("yes")
		}
		return formula.WordOf("no")
	}
	a.results["first_to_second"] = yes(reaches(firstDeck, secondDeck))
	a.results["second_to_first"] = yes(reaches(secondDeck, firstDeck))
	first, second := reaches(firstDeck, firstDeck), reaches(secondDeck, secondDeck)
	howl := "neither deck"
	switch {
	case first && second:
		howl = "both decks"
	case first:
		howl = "the first deck"
	case second:
		howl = "the second deck"
	}
	a.results["howl"] = formula.WordOf(howl)
	a.verdicts = []method.Verdict{{Name: "leads", Grade: method.Fits, Words: says.say("no howl")}}
	if first || second {
		a.verdicts[0].Grade = method.DoNotConnect
		a.verdicts[0].Words = says.say("howls")
		a.cautions = append(a.cautions, "howl-loop")
	}
	way := says.say("way")
	a.how = map[string]string{
		"first_to_second": way, "second_to_first": way, "howl": says.say("own way"),
	}
	return a
}

// copyingCases adds the outside cases: where the sides of the two decks go, the
// dubbing switch, and what can be copied.
func copyingCases(a *answered, faults *fault.List) {
	reference, ok := a.library.Reference("copying-search")
	if !ok {
		return
	}
	for _, c := range [][8]string{
		{"loop", "record out", "line", "nowhere", "none", "no", "yes", "neither deck"},
		{"loop", "record out", "loop", "record out", "none", "no", "no", "neither deck"},
		{"loop", "record out", "loop", "nowhere", "first to second", "yes", "no", "neither deck"},
		{"loop", "nowhere", "loop", "nowhere", "both", "yes", "yes", "neither deck"},
		{"loop", "record out", "line", "record out", "none", "no", "yes", "the second deck"},
	} {
		v := method.Values{}
		for i, in := range a.sheet.Takes {
			v[in.Name] = factWord(in, c[i])
		}
		var wants []method.Want
		for i, r := range a.sheet.Gives {
			wants = append(wants, method.Want{Result: r.Name, Value: formula.WordOf(c[len(v)+i])})
		}
		a.sheet.Cases = append(a.sheet.Cases, &method.Case{Values: v, Wants: wants, Reference: reference})
	}
}
