package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
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
	id, source, is string
	method, result string
	member         int // of a list, counted from 1; 0 where the result is none
	values         [][2]string
	want           float64 // base units
	within         float64
	unit           unit.Unit
	says           string // the text that a row expects of a verdict; "" of a number
}

// answer is what one way gave: a number, or a verdict.
type answer struct {
	number       float64
	grade, words string
}

// verdictsOf says what the texts of the file are in the words of a verdict.
var verdictsOf = map[string]answer{
	"pass":                 {grade: method.Fits, words: "at least twice the lowest watts"},
	"above the listed top": {grade: method.Doubtful, words: "above the listed top"},
	"allowed":              {grade: method.Fits, words: "not below the amplifier's minimum"},
}

// TestChecks holds every row of the file by what it is: computed by a method,
// or a verdict, each directly, through reckon and through a block of a guide;
// stated by a reference; or withheld, which TestWithheld computes.
func TestChecks(t *testing.T) {
	count := map[string]int{}
	for _, c := range readChecks(t, "../../testdata/checks.csv") {
		count[c.is]++
		t.Run(c.id, func(t *testing.T) {
			switch {
			case c.is == "withheld" || c.is == "" || c.elsewhere():
				return
			case c.is == "stated":
				c.stated(t)
				return
			case c.is != "computed" && c.is != "verdict":
				t.Fatalf("a row is computed, stated, a verdict or withheld, and not %q", c.is)
			case c.backwards():
				c.solve(t)
				return
			}
			c.compare(t, "directly", direct(t, c))
			c.compare(t, "through reckon", reckonedValue(t, c))
			c.compare(t, "through a block", blockValue(t, c))
		})
	}
	t.Logf("%d rows are computed, %d stated, %d verdicts, %d withheld", count["computed"], count["stated"], count["verdict"], count["withheld"])
	if count[""] > 0 {
		t.Errorf("%d rows are held by nothing", count[""])
	}
}

// stated compares a row with what the reference that it names states.
func (c check) stated(t *testing.T) {
	t.Helper()
	r, ok := trade.Library().Reference(c.method)
	if !ok {
		t.Fatalf("there is no reference %q", c.method)
	}
	i := slices.IndexFunc(r.States, func(s method.Stated) bool { return s.Name == c.result })
	if i < 0 {
		t.Fatalf("%s does not state %q", c.method, c.result)
	}
	if c.says != "" {
		if r.States[i].Value != c.says {
			t.Errorf("%s states %q, and %s says %q", c.method, r.States[i].Value, c.source, c.says)
		}
		return
	}
	q, f := unit.ReadAs(fault.NewText(c.method, r.States[i].Value).All(), c.unit)
	if f != nil {
		t.Fatal(f)
	}
	if math.Abs(q.Value-c.want) > c.within || math.IsNaN(q.Value) {
		t.Errorf("%s states %s, and %s says %v", c.method, r.States[i].Value, c.source, c.want)
	}
}

func (c check) compare(t *testing.T, way string, got answer) {
	t.Helper()
	if c.says != "" && got.grade == "" {
		if m, ok := trade.Library().Method(c.method); !ok || m.Sheet().Result(c.result).Printed(got.words) != c.says {
			t.Errorf("%s: %s of %s is %s, and %s says %s", way, c.result, c.method, got.words, c.source, c.says)
		}
		return
	}
	if c.says != "" {
		want, known := verdictsOf[c.says]
		if !known || got.grade != want.grade || !strings.Contains(got.words, want.words) {
			t.Errorf("%s: %s of %s is %s, %s; and %s says %s", way, c.result, c.method, got.grade, got.words, c.source, c.says)
		}
		return
	}
	if math.Abs(got.number-c.want) > c.within || math.IsNaN(got.number) {
		t.Errorf("%s: %s of %s is %v, and %s says %v", way, c.result, c.method, got.number, c.source, c.want)
	}
}

// elsewhere reports whether the row is compared in the package of its method:
// the rows of the adapters are of another catalogue (adapters_test.go), and one
// of copying tells three results at once (copying_test.go).
func (c check) elsewhere() bool { return c.method == "adapter-chain" || c.method == "copying" }

func readChecks(t *testing.T, path string) []check {
	t.Helper()
	rows := rowsOf(t, path)
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	var checks []check
	for _, row := range rows[1:] {
		get := func(name string) string { return row[column[name]] }
		c := check{id: get("id"), source: get("source"), is: get("is"), method: get("method"), result: get("result")}
		if c.is == "" || c.is == "withheld" || c.elsewhere() {
			checks = append(checks, c)
			continue
		}
		for _, pair := range strings.Split(get("values"), ";") {
			if pair == "" {
				continue
			}
			name, value, _ := strings.Cut(pair, "=")
			c.values = append(c.values, [2]string{name, value})
		}
		if name, member, ok := strings.Cut(c.result, "."); ok && !c.backwards() && c.is == "computed" {
			c.result, c.member = name, int(number(t, member))
		}
		if from, to, isRange := strings.Cut(get("expected"), ".."); isRange {
			c.says = from + " to " + to + " " + get("unit")
			checks = append(checks, c)
			continue
		}
		if get("unit") == "text" {
			c.says = get("expected")
			checks = append(checks, c)
			continue
		}
		u := unitOf(t, get("unit"))
		c.unit = u
		expected := number(t, get("expected"))
		c.want = u.ToBase(expected)
		c.within = tolerance(t, get("tolerance"), u, expected)
		checks = append(checks, c)
	}
	return checks
}

// rowsOf reads a file of comma-separated rows, the first of which names the
// columns.
func rowsOf(t *testing.T, path string) [][]string {
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
	return rows
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// unitOf reads a unit as the file writes it.
func unitOf(t *testing.T, s string) unit.Unit {
	t.Helper()
	switch s {
	case "ratio", "count", "cost":
		s = "number"
	case "bars", "channel":
		s = "number"
	case "% peak":
		s = "%"
	case "% IACS":
		s = "%IACS"
	case "degC":
		s = "°C"
	case "Pa2h":
		s = "Pa^2 h"
	case "h/week":
		s = "h" // of a week: the method's result says so, and a unit cannot
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
	x := number(t, text)
	if kind == "rel" {
		return x * math.Abs(u.ToBase(expected))
	}
	return u.Step().ToBase(x)
}

func direct(t *testing.T, c check) answer {
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
	o := m.Run(values, c.result)
	for _, v := range o.Verdicts {
		if v.Name == c.result {
			return answer{grade: v.Grade, words: v.Words}
		}
	}
	return known(t, c, o.Results.Of(c.result))
}

// known is the number of a value, or of the member that a row is about.
func known(t *testing.T, c check, v formula.Value) answer {
	t.Helper()
	if c.member > len(v.List) || c.member == 0 && v.List != nil {
		t.Fatalf("member %d of %d is asked for", c.member, len(v.List))
	}
	if c.member > 0 {
		v = v.List[c.member-1]
	}
	if v.State != formula.Known {
		t.Fatalf("it is %v: %s %v", v.State, v.Why, v.Fault)
	}
	return answer{number: v.Number, words: v.Word}
}

func reckonedValue(t *testing.T, c check) answer {
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
		Gives    map[string]struct{ Value any }
		Verdicts map[string]struct{ Grade, Words string }
	}
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	if v, ok := r.Verdicts[c.result]; ok {
		return answer{grade: v.Grade, words: v.Words}
	}
	value := r.Gives[c.result].Value
	if list, ok := value.([]any); ok && c.member > 0 {
		value = list[c.member-1]
	}
	if word, ok := value.(string); ok {
		return answer{words: word}
	}
	x, ok := value.(float64)
	if !ok {
		t.Fatalf("reckon gives %v", value)
	}
	return answer{number: x}
}

func blockValue(t *testing.T, c check) answer {
	t.Helper()
	var b strings.Builder
	b.WriteString("```docket\ncode: C1\nquestion: Does it hold?\nanswer: It is looked up.\ntopics: checks\n```\n\n")
	fmt.Fprintf(&b, "```calc %s\nname: check\n", c.method)
	for _, pair := range c.values {
		fmt.Fprintf(&b, "%s: %s\n", pair[0], pair[1])
	}
	if m, ok := trade.Library().Method(c.method); ok && m.Sheet().Result(c.result) != nil {
		fmt.Fprintf(&b, "show: %s\n", c.result)
	}
	b.WriteString("```\n")
	g, faults := guide.Read(fault.NewText("check.md", b.String()), guide.Kit{Library: trade.Library()})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	table := g.Tables[0]
	for _, v := range table.Verdicts {
		if v.Name == strings.ReplaceAll(c.result, "_", " ") {
			return answer{grade: v.Grade, words: v.Words}
		}
	}
	return known(t, c, table.Cells[0][0].Value)
}
