package trade

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"regexp"
	"strings"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/site/browser"
)

// scriptRun is what the browser makes of values as they are typed.
type scriptRun struct {
	Wrong []struct {
		Key, Says, Code, Text, From, To, Among, With, Try string
		Keys                                              []string
	}
	Results []struct{ Name, Text, State, Why string }
	Steps   []struct {
		Name, Method, Rule, With, Borrowed, Result, Before, Round string
	}
	Verdicts []struct{ Name, Grade, Words string }
	Assumed  []string
	Unusual  []struct{ Key, From, To string }
}

func runScript(t *testing.T, tab context.Context, name string, typed map[string]any) scriptRun {
	t.Helper()
	values, err := json.Marshal(typed)
	if err != nil {
		t.Fatal(err)
	}
	return browser.Ask[scriptRun](t, tab, fmt.Sprintf("bindpost.run(%q, %s)", name, values))
}

// TestScriptsOfCases types the values of every case and of every book's example
// in the browser, and sees that results and worked lines are printed there as
// the program prints them.
func TestScriptsOfCases(t *testing.T) {
	tab := scriptPage(t)
	for _, name := range namesHeld() {
		d, ok := methodOf(t, name).(*method.Data)
		if !ok {
			continue
		}
		t.Run(name, func(t *testing.T) {
			for _, c := range append(casesOf(d.Sheet()), bookCase(d.Sheet())) {
				got := runScript(t, tab, name, asTyped(d.Sheet(), c.Values))
				if len(got.Wrong) > 0 {
					t.Fatalf("%v is refused: %+v", typedTexts(c.Values), got.Wrong)
				}
				o := d.Run(c.Values)
				for i, res := range d.Sheet().Gives {
					if want := res.Text(o.Results.Of(res.Name)); got.Results[i].Text != want {
						t.Errorf("%s is %q at %v, and in the browser %q", res.Name, want, typedTexts(c.Values), got.Results[i].Text)
					}
				}
				for i, want := range o.Verdicts {
					if v := got.Verdicts[i]; v.Grade != want.Grade || v.Words != want.Words {
						t.Errorf("%s is %s, %q at %v, and in the browser %+v", want.Name, want.Grade, want.Words, typedTexts(c.Values), v)
					}
				}
				stepsAlike(t, d, c.Values, got)
			}
		})
	}
}

// bookCase is the book's example of a method.
func bookCase(s *method.Sheet) *method.Case {
	v := method.Values{}
	for _, in := range s.Takes {
		if len(in.Book) > 0 && in.When == nil && !in.Optional {
			v[in.Name] = in.Book[0]
		}
	}
	for _, group := range s.OneOf {
		if one := s.Input(group[0]); len(one.Book) > 0 {
			v[one.Name] = one.Book[0]
		}
	}
	if s.Check(v, s.Place).Stopped() {
		return casesOf(s)[0]
	}
	return &method.Case{Values: v}
}

// asTyped is values as a reader types them.
func asTyped(s *method.Sheet, v method.Values) map[string]any {
	typed := map[string]any{}
	for _, in := range s.Takes {
		switch p, given := v[in.Name]; {
		case !given:
		case !p.Known():
			typed[in.Name] = nil
		case in.Choice != nil:
			typed[in.Name] = p.Value.Word
		default:
			typed[in.Name] = p.Text
		}
	}
	return typed
}

// scriptStep is a step as it is printed.
type scriptStep struct{ Name, Method, Rule, With, Borrowed, Result, Before, Round string }

// stepsAlike compares the worked lines, a step that two results share once, as
// a table has it. A line with numbers put in may be missing where it would say
// what another says.
func stepsAlike(t *testing.T, d *method.Data, v method.Values, got scriptRun) {
	t.Helper()
	var names []string
	for _, res := range d.Sheet().Gives {
		names = append(names, res.Name)
	}
	var want []scriptStep
	at := map[string]int{}
	for _, steps := range d.Work(v, names...) {
		for _, s := range steps {
			key := fmt.Sprint(s.Method, s.Name, s.Value)
			if i, twice := at[key]; twice {
				if s.Before != "" && want[i].Before == "" {
					want[i].Result, want[i].Before, want[i].Round = s.Text, s.Before, s.Round.Way()
				}
				continue
			}
			at[key] = len(want)
			one := scriptStep{Name: s.Name, Method: s.Method, Borrowed: s.Borrowed, Result: s.Text}
			if s.Before != "" && s.Before != s.Text {
				one.Before, one.Round = s.Before, s.Round.Way()
			}
			if s.Rule != nil {
				one.Rule = html.UnescapeString(formula.MathML(s.Rule, formula.MathOptions{Symbol: s.Symbol}))
				one.With = html.UnescapeString(formula.MathML(s.With, formula.MathOptions{Symbol: s.Symbol, Number: s.Given}))
			}
			want = append(want, one)
		}
	}
	if len(want) != len(got.Steps) {
		t.Errorf("%v has %d steps, and in the browser %d", typedTexts(v), len(want), len(got.Steps))
		return
	}
	for i, s := range got.Steps {
		one := scriptStep{s.Name, s.Method, html.UnescapeString(s.Rule), html.UnescapeString(s.With), s.Borrowed, s.Result, s.Before, s.Round}
		if one.With == "" && (shownText(want[i].With) == shownText(want[i].Rule) || shownText(want[i].With) == want[i].Result) {
			want[i].With = ""
		}
		if one != want[i] {
			t.Errorf("%v: a step is\n%+v\nand in the browser\n%+v", typedTexts(v), want[i], one)
		}
	}
}

var mathTag = regexp.MustCompile(`<[^>]*>`)

// shownText is what of a formula is seen, without its shape.
func shownText(math string) string {
	return strings.ReplaceAll(mathTag.ReplaceAllString(math, ""), "\u2009", " ")
}

// TestScriptsRefuse types what cannot be worked, and sees that the browser says
// what is wrong, of which value, and what would be right.
func TestScriptsRefuse(t *testing.T) {
	if raced {
		t.Skip("the methods that are named here are not all held")
	}
	tab := scriptPage(t)
	wire := func(run, load, gauge any) map[string]any {
		return map[string]any{"run": run, "load": load, "gauge": gauge}
	}
	for name, c := range map[string]struct {
		method string
		typed  map[string]any
		want   string // key, code and what comes with it
	}{
		"too far":               {"speaker-wire", wire("4000 m", "8 ohm", "16 AWG"), "run beyond 4000 m: 0.03 m to 150 m"},
		"too far in feet":       {"speaker-wire", wire("600 ft", "8 ohm", "16 AWG"), "run beyond 600 ft: 0.03 m to 150 m"},
		"a decimal comma":       {"speaker-wire", wire("9 m", "8,5 ohm", "16 AWG"), "load decimal-comma 8,5, try 8.5 ohm"},
		"a thousand or decimal": {"speaker-wire", wire("1,500 m", "8 ohm", "16 AWG"), "run comma-two-ways 1,500, try 1500 m"},
		"another kind":          {"speaker-wire", wire("9 kg", "8 ohm", "16 AWG"), "run wrong-kind 9 kg"},
		"no unit of that name":  {"speaker-wire", wire("9 yards long", "8 ohm", "16 AWG"), "run left-over long"},
		"capitals":              {"speaker-wire", wire("9 M", "8 ohm", "16 AWG"), "run unknown-unit M, try 9 m"},
		"words":                 {"speaker-wire", wire("far", "8 ohm", "16 AWG"), "run no-number far"},
		"two values":            {"speaker-wire", wire("9 m 12", "8 ohm", "16 AWG"), "run second-value 12"},
		"nothing at all":        {"speaker-wire", wire("", "8 ohm", "16 AWG"), "run missing"},
		"none of a group":       {"speaker-wire", wire("9 m", "8 ohm", ""), "gauge none-of gauge, size, measured"},
		"two of a group": {"speaker-wire", map[string]any{"run": "9 m", "load": "8 ohm", "gauge": "16 AWG", "measured": "13 ohm/km"},
			"measured several-of gauge, size, measured"},
		"not in this case": {"speaker-wire", map[string]any{"run": "9 m", "load": "8 ohm", "gauge": "16 AWG", "class": "c5"}, "class not-here"},
		"no word of it":    {"speaker-wire", map[string]any{"run": "9 m", "load": "8 ohm", "gauge": "16 AWG", "metal": "tin"}, "metal no-word tin"},
		"lists of two lengths": {"loads-parallel", map[string]any{"loads": "8 and 4 ohm", "measured": "6 ohm"},
			"measured lengths the speakers' rated impedances"},
		"a need that is not met": {"loads-parallel", map[string]any{"loads": "8 and 4 ohm", "measured": "6 and 5 ohm"},
			"loads need loads, measured"},
	} {
		t.Run(name, func(t *testing.T) {
			got := runScript(t, tab, c.method, c.typed)
			if len(got.Wrong) != 1 || len(got.Results) > 0 {
				t.Fatalf("%d things are wrong, and %d results stand: %+v", len(got.Wrong), len(got.Results), got.Wrong)
			}
			w := got.Wrong[0]
			said := w.Key + " " + w.Code
			for _, s := range []string{w.Text, strings.Join(w.Keys, ", "), w.With} {
				if s != "" {
					said += " " + s
				}
			}
			if w.From+w.To != "" {
				said += ": " + w.From + " to " + w.To
			}
			if w.Try != "" {
				said += ", try " + w.Try
			}
			if said != c.want || w.Says == "" {
				t.Errorf("the browser says %q of %q, want %q", said, w.Says, c.want)
			}
		})
	}
}

// TestScriptsRead types values in other units and ways than the book's, which
// must come to the same.
func TestScriptsRead(t *testing.T) {
	if raced {
		t.Skip("the methods that are named here are not all held")
	}
	tab := scriptPage(t)
	lost := func(typed map[string]any) string {
		for _, r := range runScript(t, tab, "speaker-wire", typed).Results {
			if r.Name == "loss" {
				return r.Text
			}
		}
		return "nothing"
	}
	want := lost(map[string]any{"run": "6.096 m", "load": "8 ohm", "gauge": "16 AWG"})
	for _, run := range []string{"20 ft", "20 feet", "20'", "20ft", "240 in", "6.096", "609.6 cm", "6096 mm", " 20  ft "} {
		typed := map[string]any{"run": run, "load": "8 Ω", "gauge": "16"}
		if got := lost(typed); got != want {
			t.Errorf("%q comes to %q, and 6.096 m to %q", run, got, want)
		}
	}
	got := runScript(t, tab, "loads-parallel", map[string]any{"loads": []any{"8", "4 ohm"}, "measured": []any{nil, "3 ohm"}, "minimum": nil})
	if len(got.Wrong) > 0 || got.Results[1].Text != "6.40 and 3.00 ohm" || got.Verdicts[0].Grade != method.CannotTell {
		t.Errorf("a list with a member that is not known comes to %+v", got)
	}
	got = runScript(t, tab, "speaker-wire", map[string]any{"run": "100 m", "load": "8", "gauge": "16", "temperature": nil})
	if fmt.Sprint(got.Assumed, got.Unusual) != "[temperature] [{run 0.9 m 30.5 m}]" {
		t.Errorf("assumed and unusual are %v, %+v", got.Assumed, got.Unusual)
	}
}
