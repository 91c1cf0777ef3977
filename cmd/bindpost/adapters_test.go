package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/site/guide"
)

// TestAdapterChecks runs the adapter rows of testdata/checks.csv, which were
// worked over the catalogue of testdata/instances.json, in three ways:
// directly, through reckon, and through a block of a guide.
func TestAdapterChecks(t *testing.T) {
	library := instances(t)
	rows := adapterRows(t)
	if len(rows) != 6 {
		t.Fatalf("there are %d adapter rows", len(rows))
	}
	for _, row := range rows {
		t.Run(row["id"], func(t *testing.T) {
			values := map[string]string{}
			for _, pair := range strings.Split(row["values"], ";") {
				name, value, _ := strings.Cut(pair, "=")
				values[name] = value
			}
			for way, got := range map[string]string{
				"directly": chainDirect(t, library, values), "through reckon": chainReckoned(t, library, values),
				"through a block": chainInBlock(t, library, values),
			} {
				if got != row["expected"] {
					t.Errorf("%s: the count is %s, and %s says %s", way, got, row["source"], row["expected"])
				}
			}
		})
	}
}

// instances returns the shipped set in which adapter-chain has a second
// catalogue, read by the code that reads the shipped one.
func instances(t *testing.T) *method.Library {
	t.Helper()
	var catalogues []*trade.Catalogue
	for _, from := range [][2]string{{"trade", "../../calc/trade/catalogue.yaml"}, {"instances", "../../testdata/instances.json"}} {
		text, err := os.ReadFile(from[1])
		if err != nil {
			t.Fatal(err)
		}
		c, faults := trade.ReadCatalogue(from[0], fault.NewText(from[1], string(text)))
		if faults.Len() > 0 {
			t.Fatal(faults)
		}
		catalogues = append(catalogues, c)
	}
	library, faults := method.Load(method.Sources{Go: []method.Method{trade.Adapters(catalogues...)}}, trade.Library())
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return library
}

// adapterRows returns the rows of checks.csv for adapter-chain, by column.
func adapterRows(t *testing.T) []map[string]string {
	t.Helper()
	rows := rowsOf(t, "../../testdata/checks.csv")
	var found []map[string]string
	for _, cells := range rows[1:] {
		row := map[string]string{}
		for i, name := range rows[0] {
			row[name] = cells[i]
		}
		if row["method"] == "adapter-chain" {
			found = append(found, row)
		}
	}
	return found
}

// counted is a count as the file writes it.
func counted(t *testing.T, v formula.Value) string {
	t.Helper()
	switch v.State {
	case formula.Known:
		return strconv.FormatFloat(v.Number, 'g', -1, 64)
	case formula.None:
		return "none"
	}
	t.Fatalf("the count is %v: %s", v.State, v.Why)
	return ""
}

func chainDirect(t *testing.T, library *method.Library, typed map[string]string) string {
	t.Helper()
	m, _ := library.Method("adapter-chain")
	values := method.Values{}
	for name, text := range typed {
		p, faults := m.Sheet().Input(name).Read(fault.NewText(name, text).All())
		if faults.Len() > 0 {
			t.Fatal(faults)
		}
		values[name] = p
	}
	return counted(t, m.Run(values).Results.Of("count"))
}

func chainReckoned(t *testing.T, library *method.Library, typed map[string]string) string {
	t.Helper()
	c := reckonCommand{Method: "adapter-chain", JSON: true}
	for _, name := range []string{"from", "to", "catalogue"} {
		c.Values = append(c.Values, name+"="+typed[name])
	}
	var out, errs bytes.Buffer
	if err := c.reckon(desk{out: &out, err: &errs}, atHand{library, &fault.List{}}); err != nil {
		t.Fatalf("%v: %s", err, errs.String())
	}
	var r struct {
		Gives map[string]struct {
			Value any
			Text  string
		}
	}
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	parts, isList := r.Gives["parts"].Value.([]any)
	if count, isNumber := r.Gives["count"].Value.(float64); isNumber {
		if !isList || len(parts) != int(count) {
			t.Errorf("%v parts are counted, and these stand: %v", count, r.Gives["parts"].Value)
		}
		return strconv.FormatFloat(count, 'g', -1, 64)
	}
	word, _, _ := strings.Cut(r.Gives["count"].Text, ":")
	return word
}

func chainInBlock(t *testing.T, library *method.Library, typed map[string]string) string {
	t.Helper()
	text := fmt.Sprintf("```docket\ncode: C1\nquestion: Does it hold?\nanswer: It is looked up.\ntopics: checks\n```\n\n"+
		"```calc adapter-chain\nname: check\nfrom: %s\nto: %s\ncatalogue: %s\nshow: count\n```\n", typed["from"], typed["to"], typed["catalogue"])
	g, faults := guide.Read(fault.NewText("check.md", text), guide.Kit{Library: library})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return counted(t, g.Tables[0].Cells[0][0].Value)
}

// TestTheWrongCatalogue sees that a connector of one catalogue is refused in
// another, and quoted where it stands.
func TestTheWrongCatalogue(t *testing.T) {
	c := reckonCommand{Method: "adapter-chain", Values: []string{"from=F plug 75", "to=F plug"}}
	var out, errs bytes.Buffer
	if err := c.reckon(desk{out: &out, err: &errs}, atHand{instances(t), &fault.List{}}); err == nil {
		t.Error("it is let through")
	}
	if want := `the catalogue trade has no "F plug 75"`; !strings.Contains(errs.String(), want) {
		t.Errorf("told %q, and should be %q", errs.String(), want)
	}
}
