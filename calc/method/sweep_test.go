package method_test

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// TestSweepTogether sweeps one method from several sides at once: they share its
// paths.
func TestSweepTogether(t *testing.T) {
	m, _ := trade.Library().Method("wire-resistance")
	s := m.Sheet()
	fixed := method.Values{"gauge": value(t, s, "gauge", "16 AWG")}
	warm := value(t, s, "temperature", "35 °C")
	want := m.(*method.Data).RunAnew(fixed.With("temperature", warm), "each").Results.Of("each").Number
	var all sync.WaitGroup
	for side := range 8 {
		all.Go(func() {
			moving := []string{"metal", "temperature", "strands"}[:2+side%2]
			sweep := method.NewSweep(m, fixed, moving, "each")
			for _, word := range []string{"copper", "aluminium", "copper"} {
				metal := method.Point{Value: formula.WordOf(word), Text: word}
				o := sweep.Run(slices.Insert(make([]*method.Point, len(moving)-2), 0, &metal, &warm)...)
				if x := o.Results.Of("each").Number; (x == want) != (word == "copper") {
					t.Errorf("%s has %v, and copper step by step %v", word, x, want)
				}
			}
		})
	}
	all.Wait()
}

// TestSweepTells looks up in an outcome of a sweep what was taken there.
func TestSweepTells(t *testing.T) {
	m, _ := trade.Library().Method("speaker-wire")
	s := m.Sheet()
	sweep := method.NewSweep(m, method.Values{"load": value(t, s, "load", "8 ohm"), "gauge": value(t, s, "gauge", "16 AWG")}, []string{"run", "temperature"}, "loss")
	short, long, warm := value(t, s, "run", "3 m"), value(t, s, "run", "9 m"), value(t, s, "temperature", "50 °C")
	var outcomes []*method.Outcome
	for _, at := range [][]*method.Point{{&short, nil}, {&long, nil}, {&long, &warm}, {&short, &warm}} {
		outcomes = append(outcomes, sweep.Run(at...))
	}
	var told []string
	for _, o := range outcomes {
		var texts []string
		for _, taken := range o.Taken() {
			texts = append(texts, taken.Input.Name+" "+taken.Point.Text)
			if one, ok := o.Input(taken.Input.Name); !ok || one.Point.Text != taken.Point.Text || one.Usual != taken.Usual {
				t.Errorf("%s is %+v by itself", taken.Input.Name, one)
			}
		}
		slices.Sort(texts)
		told = append(told, strings.Join(texts, ", "))
	}
	for i, want := range []string{"run 3 m, strands solid, temperature 20 °C", "run 9 m, strands solid, temperature 20 °C", "run 9 m, strands solid, temperature 50 °C", "run 3 m, strands solid, temperature 50 °C"} {
		if !strings.HasSuffix(told[i], want) {
			t.Errorf("at point %d was taken %q, want the end %q", i, told[i], want)
		}
	}
	if outcomes[0].Results.Of("loss").Number >= outcomes[1].Results.Of("loss").Number {
		t.Error("a longer run loses no more")
	}
}
