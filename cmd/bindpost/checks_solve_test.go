package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/site/guide"
)

// backwards reports whether a row states the most or the least of a value.
// Its result then is the line that asks for it: most run where so and so.
func (c check) backwards() bool {
	return strings.HasPrefix(c.result, "most ") || strings.HasPrefix(c.result, "least ")
}

// solve asks for a row's value in three ways. Unrounded it must meet the row;
// as printed it may be short of it by its rounding, one in the third figure,
// and on the harmless side only.
func (c check) solve(t *testing.T) {
	word, line, _ := strings.Cut(c.result, " ")
	exact, printed := c.solveDirectly(t, word, line)
	c.compare(t, "directly", answer{number: exact})
	counter := c.solveAtCounter(t, word, line)
	inBlock := c.solveInBlock(t, word, line)
	if counter != printed || inBlock != printed {
		t.Errorf("it is %v directly, %v at the counter and %v in a block", printed, counter, inBlock)
	}
	short := (exact - printed) * map[string]float64{"most": 1, "least": -1}[word]
	if short < -1e-9*math.Abs(exact) || short > 0.01*math.Abs(exact) {
		t.Errorf("%v is printed as %v", exact, printed)
	}
}

func (c check) solveDirectly(t *testing.T, word, line string) (exact, printed float64) {
	t.Helper()
	m, _ := trade.Library().Method(c.method)
	values := method.Values{}
	for _, pair := range c.values {
		p, faults := m.Sheet().Input(pair[0]).Read(fault.NewText(pair[0], pair[1]).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		values[pair[0]] = p
	}
	ask, faults := m.Sheet().ReadAsk(fault.NewText("ask", line).All(), word == "least")
	if faults.Stopped() {
		t.Fatal(faults)
	}
	a := method.Solve(m, values, ask)
	if a.Value.State != formula.Known {
		t.Fatal(a.Value.Why)
	}
	return a.Exact, a.Value.Number
}

func (c check) solveAtCounter(t *testing.T, word, line string) float64 {
	t.Helper()
	args := []string{"reckon", "--json", c.method, word + "=" + line}
	for _, pair := range c.values {
		args = append(args, pair[0]+"="+pair[1])
	}
	var out, errs bytes.Buffer
	if code := run(args, desk{out: &out, err: &errs}); code != done {
		t.Fatalf("reckon ended with %d: %s", code, errs.String())
	}
	var r struct{ Asked struct{ Value float64 } }
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r.Asked.Value
}

func (c check) solveInBlock(t *testing.T, word, line string) float64 {
	t.Helper()
	var b strings.Builder
	b.WriteString("```docket\ncode: C1\nquestion: Does it hold?\nanswer: It is looked up.\ntopics: checks\n```\n\n")
	fmt.Fprintf(&b, "```calc %s\nname: check\n%s: %s\n", c.method, word, line)
	for _, pair := range c.values {
		fmt.Fprintf(&b, "%s: %s\n", pair[0], pair[1])
	}
	b.WriteString("```\n")
	g, faults := guide.Read(fault.NewText("check.md", b.String()), guide.Kit{Library: trade.Library()})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return g.Tables[0].Cells[0][0].Value.Number
}
