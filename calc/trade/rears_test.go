package trade

import (
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/wiring"
)

// TestRears holds the kinds of boxes to what else the set knows: every name in
// them is one of the set's, every socket's lead has a word for its end, and the
// table by which boxes are told apart sees the same sockets.
func TestRears(t *testing.T) {
	r := ShippedRears()
	for key, id := range r.references {
		if _, ok := Library().Reference(id); !ok {
			t.Errorf("%s: there is no reference %q", key, id)
		}
	}
	for _, id := range append(r.askFirst, slicesOf(r.cautions)...) {
		if _, ok := Library().Caution(id); !ok {
			t.Errorf("there is no caution %q", id)
		}
	}
	for _, k := range r.Kinds {
		for _, s := range k.Sockets {
			if r.EndWord(s.Is) == "" {
				t.Errorf("%s, %s: no word for the end of a lead to %q", k.Name, s.Name, s.Is.Name)
			}
		}
	}
	for _, p := range r.Parts {
		if r.EndWord(r.Connector(p.To)) == "" {
			t.Errorf("%s: no word for its end, %q", p.Name, p.To)
		}
	}
	for g := wiring.Fits; g <= wiring.DoNotConnect; g++ {
		if !slices.Contains(method.Grades(), g.String()) {
			t.Errorf("%q is no grade of a verdict", g)
		}
	}
}

// RearsReferences returns the references that the kinds of boxes name.
func RearsReferences() []string { return slicesOf(ShippedRears().references) }

func slicesOf(m map[string]string) (all []string) {
	for _, v := range m {
		all = append(all, v)
	}
	return all
}

// TestRearsAreTold asks the table of boxes about the sockets of kinds that it
// knows: it must name them.
func TestRearsAreTold(t *testing.T) {
	text, err := read(files, "boxes.yaml")
	if err != nil {
		t.Fatal(err)
	}
	boxes, faults := ReadBoxes(text)
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	for kind, box := range map[string]string{
		"integrated amplifier": "integrated", "receiver": "receiver", "preamplifier": "preamplifier", "power amplifier": "power",
		"tuner": "tuner", "tape deck": "deck", "CD player": "source", "phono preamplifier": "phono-preamplifier",
	} {
		values := method.Values{}
		for fact, word := range factsOf(ShippedRears().Kind(kind)) {
			values[fact] = factWord(boxes.fact0(t, fact), word)
		}
		if got := boxes.answer(values).results["box"].Word; got != box {
			t.Errorf("the sockets of the %s are told as %q, wanted %q", kind, got, box)
		}
	}
}

func (b *Boxes) fact0(t *testing.T, name string) *method.Input {
	for _, in := range b.Facts {
		if in.Name == name {
			return in
		}
	}
	t.Fatalf("no fact %q", name)
	return nil
}

// factsOf states the facts of the table by looking at sockets.
func factsOf(k *Kind) map[string]string {
	facts := map[string]string{"antenna": "absent", "speakers": "absent", "inputs": "absent", "phono": "absent", "line_out": "absent", "single_pair": "absent", "tape_loop": "absent"}
	lines, loop := 0, 0
	for _, s := range k.Sockets {
		switch {
		case s.Is.Signal == "radio" && s.In:
			facts["antenna"] = "seen"
		case s.Is.Signal == "speaker" && s.Out:
			facts["speakers"] = "one"
		case s.Is.Signal == "moving magnet" && s.In:
			facts["phono"] = "seen"
		case s.Is.Signal == "line" && s.In && s.Name == "tape play", s.Is.Signal == "line" && s.Out && s.Name == "rec out":
			loop++
		case s.Is.Signal == "line" && s.In:
			lines++
		case s.Is.Signal == "line" && s.Out:
			facts["line_out"] = "seen"
		}
	}
	if lines > 1 {
		facts["inputs"] = "several"
	} else if lines == 1 {
		facts["single_pair"] = "line"
	}
	if loop == 2 || lines == 1 && facts["line_out"] == "seen" {
		facts["tape_loop"] = "seen"
	}
	return facts
}

// TestRearsWrong reads files in which something is wrong, and wants it told
// where it stands.
func TestRearsWrong(t *testing.T) {
	catalogue, err := read(files, "catalogue.yaml")
	if err != nil {
		t.Fatal(err)
	}
	c, _ := ReadCatalogue("trade", catalogue)
	for _, one := range []struct{ file, want string }{
		{"kinds:\n  box:\n    says: a box\n    sockets:\n      in: {is: phono line imput}\n", `rears.yaml:5:16: stop: there is no connector "phono line imput"`},
		{"kinds:\n  box:\n    says: a box\n    sockets:\n      in: {side: in}\n", `does not say what it is`},
		{"kinds:\n  box:\n    says: a box\n    sockets:\n      in: {is: phono line plug}\n", `it is not said which way the signal goes at "in"`},
		{"kinds:\n  box:\n    says: a box\n    sockets:\n      in: {is: phono line input, side: out}\n", `it is not said which way the signal goes at "in"`},
		{"kinds:\n  box:\n    says: a box\n    sockets:\n      in: {is: phono line input}\n    sends: {in: out}\n", `sends nothing from "in" to "out"`},
		{"kinds:\n  box: {sockets: {}}\n", `says nothing of itself`},
		{"ohms: {phono line input: 22 V}\n", `ohm`},
		{"kind: {}\n", `has no "kind"`},
	} {
		_, faults := ReadRears(fault.NewText("rears.yaml", one.file), c)
		if got := faults.String(); !strings.Contains(got, one.want) {
			t.Errorf("%s\ntold %s\nwanted %s", one.file, got, one.want)
		}
	}
}
