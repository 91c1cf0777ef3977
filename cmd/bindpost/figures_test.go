package main

import (
	"math"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/calc/unit"
)

// outsideDir holds figures that other programs work, a file for each area:
// the question for GNU units or a circuit for ngspice, and the method, result
// and values that must come to the same.
const outsideDir = "../../testdata/outside"

// What the outside figures must be, at least: so many, of so many areas, so
// many of them circuits.
const (
	leastFigures  = 40
	leastAreas    = 6
	leastCircuits = 15
)

// outsider is one line of an outside file.
type outsider struct {
	id, tool, question, method, result string
	values                             [][2]string
	within                             float64 // of the figure itself
}

// TestFiguresOutside asks GNU units and ngspice, there and then, and holds
// `reckon --json` to what they answer.
func TestFiguresOutside(t *testing.T) {
	files, err := filepath.Glob(outsideDir + "/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	areas, figures, circuits := 0, 0, map[string]bool{}
	for _, file := range files {
		areas++
		area := strings.TrimSuffix(filepath.Base(file), ".csv")
		for _, o := range readOutside(t, file) {
			figures++
			if o.tool == "ngspice" {
				circuits[strings.SplitN(o.question, ":", 2)[0]] = true
			}
			t.Run(area+"/"+o.id, o.hold)
		}
	}
	t.Logf("%d figures of %d areas, %d circuits", figures, areas, len(circuits))
	if figures < leastFigures || areas < leastAreas || len(circuits) < leastCircuits {
		t.Errorf("%d figures of %d areas and %d circuits; %d, %d and %d are wanted",
			figures, areas, len(circuits), leastFigures, leastAreas, leastCircuits)
	}
}

func readOutside(t *testing.T, path string) []outsider {
	t.Helper()
	rows := rowsOf(t, path)
	if got := strings.Join(rows[0], ","); got != "id,tool,question,method,result,values,within" {
		t.Fatalf("%s begins with %s", path, got)
	}
	var all []outsider
	for _, r := range rows[1:] {
		o := outsider{id: r[0], tool: r[1], question: r[2], method: r[3], result: r[4], within: number(t, r[6])}
		for _, pair := range strings.Split(r[5], ";") {
			name, value, _ := strings.Cut(pair, "=")
			o.values = append(o.values, [2]string{name, value})
		}
		all = append(all, o)
	}
	return all
}

// hold compares one figure. Both sides are in base units, but where GNU units
// is asked for a unit that only it and the result's own unit know.
func (o outsider) hold(t *testing.T) {
	c := check{method: o.method, result: o.result, values: o.values, is: "computed"}
	if name, member, ok := strings.Cut(o.result, "."); ok {
		c.result, c.member = name, int(number(t, member))
	}
	m, ok := trade.Library().Method(o.method)
	if !ok {
		t.Fatalf("no method %s", o.method)
	}
	got := reckonedValue(t, c).number
	var want float64
	switch o.tool {
	case "units":
		have, to, ok := strings.Cut(o.question, " -> ")
		if !ok {
			t.Fatalf("%q does not say to which unit", o.question)
		}
		want = toBase(t, unitsAnswer(t, have, to), to, m.Sheet().Result(c.result).Unit)
	case "ngspice":
		want = circuitAnswer(t, o.question)
	default:
		t.Fatalf("no tool %q", o.tool)
	}
	if math.Abs(got-want) > o.within*math.Abs(want) || math.IsNaN(got) {
		t.Errorf("reckon gives %.12g, and %s says %.12g", got, o.tool, want)
	}
}

// toBase brings an answer in a unit that both programs know to base units; one
// that ours does not know is taken to be the unit of the result.
func toBase(t *testing.T, x float64, to string, result unit.Unit) float64 {
	t.Helper()
	if to == "1" {
		return x
	}
	if u, f := unit.Parse(fault.NewText("unit", to).All()); f == nil {
		return u.ToBase(x)
	}
	return result.ToBase(x)
}

func unitsAnswer(t *testing.T, have, to string) float64 {
	t.Helper()
	out, err := exec.Command("units", "-t", "-o", "%.15g", have, to).CombinedOutput()
	if err != nil {
		t.Fatalf("units (Debian package units): %v %s", err, out)
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil {
		t.Fatalf("units answers %q", out)
	}
	return x
}

// circuitAnswer runs a circuit and finds the named answer in what it prints.
func circuitAnswer(t *testing.T, question string) float64 {
	t.Helper()
	file, name, ok := strings.Cut(question, ":")
	if !ok {
		t.Fatalf("%q does not say which answer", question)
	}
	cmd := exec.Command("ngspice", "-b", file)
	cmd.Dir = outsideDir
	out, err := cmd.CombinedOutput()
	found := regexp.MustCompile(`(?m)^` + regexp.QuoteMeta(name) + `\s*=\s*(\S+)`).FindSubmatch(out)
	if found == nil {
		t.Fatalf("ngspice (Debian package ngspice) does not answer %s: %v\n%s", name, err, out)
	}
	x, err := strconv.ParseFloat(string(found[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
