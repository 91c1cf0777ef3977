package trade_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/trade"
	"bindpost/calc/wording"
)

// TestNeverList: each entry has wordings enough, in small letters.
func TestNeverList(t *testing.T) {
	const fewest, entries = 5, 18
	all := trade.Library().Never()
	if len(all) != entries {
		t.Errorf("%d entries, and %d are known", len(all), entries)
	}
	for _, f := range all {
		if len(f.Wordings) < fewest {
			t.Errorf("%s has %d wordings", f.ID, len(f.Wordings))
		}
	}
}

// neverLines reads the lines of a file of testdata/never, its remarks left out.
func neverLines(t *testing.T, name string) []string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/never/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			all = append(all, line)
		}
	}
	return all
}

// TestNeverParaphrases: wordings that the list was not written from are caught,
// and every entry is tried; so are sentences that only warn, which stand under
// the mark or nowhere. How many were caught at their first trial stands in
// the files; the wordings were mended then.
func TestNeverParaphrases(t *testing.T) {
	tried := map[string]int{}
	for _, file := range []string{"paraphrases.txt", "paraphrases-others.txt", "unmarked.txt", "paraphrases-american.txt"} {
		for _, line := range neverLines(t, file) {
			id, said, ok := strings.Cut(line, ": ")
			if !ok {
				t.Fatalf("%s: %q names no entry", file, line)
			}
			tried[id]++
			checkCaught(t, id, said)
		}
	}
	for _, f := range trade.Library().Never() {
		if tried[f.ID] < 3 {
			t.Errorf("%s is tried with %d paraphrases", f.ID, tried[f.ID])
		}
	}
}

// checkCaught holds that an advice is caught, and tells where another entry than
// its own is what catches it.
func checkCaught(t *testing.T, id, said string) {
	t.Helper()
	by := ""
	for _, a := range trade.Library().Forbids(wording.Split(said)) {
		by += " " + a.Forbidden.ID
	}
	switch {
	case by == "":
		t.Errorf("missed: %s: %s", id, said)
	case !strings.Contains(by+" ", " "+id+" "):
		t.Logf("caught as%s: %s", by, said)
	}
}

// TestNeverInnocent: what only speaks of such things is left alone.
func TestNeverInnocent(t *testing.T) {
	lines := neverLines(t, "innocent.txt")
	if len(lines) < 40 {
		t.Errorf("%d innocent sentences", len(lines))
	}
	for _, said := range lines {
		for _, a := range trade.Library().Forbids(wording.Split(said)) {
			t.Errorf("%s catches %q in: %s", a.Forbidden.ID, said[a.From:a.To], said)
		}
	}
}

// TestShippedMethodsAdviseNothingForbidden looks through all that the shipped
// methods say. Authors' own are looked through when they are read.
func TestShippedMethodsAdviseNothingForbidden(t *testing.T) {
	names, err := filepath.Glob("methods/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d method files: %v", len(names), err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		n, faults := record.Parse(fault.NewText(name, string(data)))
		if faults.Stopped() {
			t.Fatal(faults)
		}
		told := &fault.List{}
		trade.Library().NeverAdvised(n, told)
		if told.Len() > 0 {
			t.Error(told)
		}
	}
}
