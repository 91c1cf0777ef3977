package main

import (
	"io/fs"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/trade"
	"bindpost/content"
)

// questionsAsked is how many questions newcomers ask; each has an answer.
const questionsAsked = 60

// TestQuestions wants an answer of every question in testdata/questions.csv:
// guides of the demonstration by their codes, methods by their names, and
// tables that decide by guide and name. Each that is named must be there.
func TestQuestions(t *testing.T) {
	rows := rowsOf(t, "../../testdata/questions.csv")
	if got := strings.Join(rows[0], ","); got != "number,question,guide,method,decision,rests on" {
		t.Fatalf("the file begins with %s", got)
	}
	codes, decisions := codesOfGuides(t)
	for i, row := range rows[1:] {
		if row[0] != strconv.Itoa(i+1) || !strings.HasSuffix(row[1], "?") || len(strings.Fields(row[1])) < 4 {
			t.Errorf("row %d is not question %d: %q", i+1, i+1, row)
		}
		if row[2]+row[3]+row[4] == "" {
			t.Errorf("question %s has no answer: %s", row[0], row[1])
		}
		if row[3] == "" && row[4] == "" && row[5] == "" {
			t.Errorf("question %s is answered in prose alone, and nothing says on what it rests", row[0])
		}
		for _, code := range strings.Fields(row[2]) {
			if !codes[code] {
				t.Errorf("question %s: there is no guide %s", row[0], code)
			}
		}
		for _, name := range strings.Fields(row[3]) {
			if _, ok := trade.Library().Method(name); !ok {
				t.Errorf("question %s: there is no method %s", row[0], name)
			}
		}
		for _, name := range strings.Fields(row[4]) {
			if !decisions[name] {
				t.Errorf("question %s: there is no table %s that decides", row[0], name)
			}
		}
	}
	if len(rows)-1 != questionsAsked {
		t.Errorf("there are %d questions, and not %d", len(rows)-1, questionsAsked)
	}
}

var (
	docketCode = regexp.MustCompile("(?m)^code: (\\S+)$")
	decideName = regexp.MustCompile("(?m)^```decide\\s*\nname: (\\S+)$")
)

// codesOfGuides returns the codes of the demonstration's guides, and the
// tables that decide as CODE/NAME.
func codesOfGuides(t *testing.T) (codes, decisions map[string]bool) {
	t.Helper()
	codes, decisions = map[string]bool{}, map[string]bool{}
	guides, err := fs.Glob(content.Files, "*.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range guides {
		text, err := fs.ReadFile(content.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		code := docketCode.FindStringSubmatch(string(text))
		if code == nil {
			t.Fatalf("%s has no code", name)
		}
		codes[code[1]] = true
		for _, m := range decideName.FindAllStringSubmatch(string(text), -1) {
			decisions[code[1]+"/"+m[1]] = true
		}
	}
	return codes, decisions
}
