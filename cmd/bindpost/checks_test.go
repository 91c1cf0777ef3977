package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// check is a row of testdata/checks.csv: an outside value with its source,
// the method and result that must give it, and the values to type.
type check struct {
	id, source     string
	method, result string
	values         [][2]string
	want           float64 // base units
	within         float64
}

// leastChecks is how many rows have a method. It goes up with the methods.
const leastChecks = 65

// TestChecks runs every row that a method can give: directly, through reckon
// and through a block of a guide.
func TestChecks(t *testing.T) {
	checks := readChecks(t, "../../testdata/checks.csv")
	if len(checks) < leastChecks {
		t.Fatalf("%d rows have a method; there were %d", len(checks), leastChecks)
	}
	for _, c := range checks {
		t.Run(c.id, func(t *testing.T) {
			c.compare(t, "directly", direct(t, c))
			c.compare(t, "through reckon", reckonedValue(t, c))
			c.compare(t, "through a block", blockValue(t, c))
		})
	}
}

func (c check) compare(t *testing.T, way string, got float64) {
	t.Helper()
	if math.Abs(got-c.want) > c.within || math.IsNaN(got) {
		t.Errorf("%s: %s of %s is %v, and %s says %v", way, c.result, c.method, got, c.source, c.want)
	}
}

func readChecks(t *testing.T, path string) []check {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	var checks []check
	for _, row := range rows[1:] {
		get := func(name string) string { return row[column[name]] }
		if get("method") == "" {
			continue
		}
		c := check{id: get("id"), source: get("source"), method: get("method"), result: get("result")}
		for _, pair := range strings.Split(get("values"), ";") {
			name, value, _ := strings.Cut(pair, "=")
			c.values = append(c.values, [2]string{name, value})
		}
		u := unitOf(t, get("unit"))
		expected, err := strconv.ParseFloat(get("expected"), 64)
		if err != nil {
			t.Fatalf("%s: %v", c.id, err)
		}
		c.want = u.ToBase(expected)
		c.within = tolerance(t, get("tolerance"), u, expected)
		checks = append(checks, c)
	}
	return checks
}

// unitOf reads a unit as the file writes it.
func unitOf(t *testing.T, s string) unit.Unit {
	t.Helper()
	switch s {
	case "ratio":
		s = "number"
	case "% IACS":
		s = "%IACS"
	}
	u, f := unit.Parse(fault.NewText("unit", s).All())
	if f != nil {
		t.Fatal(f)
	}
	return u
}

func tolerance(t *testing.T, s string, u unit.Unit, expected float64) float64 {
	t.Helper()
	if s == "exact" {
		return 1e-12 * math.Abs(u.ToBase(expected))
	}
	kind, text, _ := strings.Cut(s, ":")
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	if kind == "rel" {
		return x * math.Abs(u.ToBase(expected))
	}
	return u.Step().ToBase(x)
}

func direct(t *testing.T, c check) float64 {
	t.Helper()
	m, ok := trade.Library().Method(c.method)
	if !ok {
		t.Fatalf("no method %s", c.method)
	}
	values := method.Values{}
	for _, pair := range c.values {
		p, faults := m.Sheet().Input(pair[0]).Read(fault.NewText(pair[0], pair[1]).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		values[pair[0]] = p
	}
	if faults := m.Sheet().Check(values, fault.Place{}); faults.Stopped() {
		t.Fatal(faults)
	}
	return known(t, m.Run(values, c.result).Results[c.result])
}

func known(t *testing.T, v formula.Value) float64 {
	t.Helper()
	if v.State != formula.Known {
		t.Fatalf("it is %v: %s %v", v.State, v.Why, v.Fault)
	}
	return v.Number
}

func reckonedValue(t *testing.T, c check) float64 {
	t.Helper()
	args := []string{"reckon", "--json", c.method}
	for _, pair := range c.values {
		args = append(args, pair[0]+"="+pair[1])
	}
	var out, errs bytes.Buffer
	if code := run(args, desk{out: &out, err: &errs}); code != done {
		t.Fatalf("reckon ended with %d: %s", code, errs.String())
	}
	var r struct {
		Gives map[string]struct{ Value float64 }
	}
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r.Gives[c.result].Value
}

func blockValue(t *testing.T, c check) float64 {
	t.Helper()
	var b strings.Builder
	b.WriteString("```docket\ncode: C1\nquestion: Does it hold?\nanswer: It is looked up.\ntopics: checks\n```\n\n")
	fmt.Fprintf(&b, "```calc %s\nname: check\n", c.method)
	for _, pair := range c.values {
		fmt.Fprintf(&b, "%s: %s\n", pair[0], pair[1])
	}
	fmt.Fprintf(&b, "show: %s\n```\n", c.result)
	g, faults := guide.Read(fault.NewText("check.md", b.String()), guide.Kit{Library: trade.Library()})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return known(t, g.Tables[0].Cells[0][0].Value)
}
