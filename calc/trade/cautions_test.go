package trade_test

import (
	"encoding/csv"
	"os"
	"regexp"
	"strings"
	"testing"

	"bindpost/calc/trade"
	"bindpost/calc/wording"
)

// TestCautionsOfTopics holds the table of hazards against the cautions: every
// topic and every caution of the evidence has one, and each is there.
func TestCautionsOfTopics(t *testing.T) {
	f, err := os.Open("../../testdata/cautions.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	count, seen := map[string]int{}, map[string]bool{}
	for _, row := range rows[1:] {
		from, name, cautions := row[0], row[1], row[2]
		if seen[from+name] {
			t.Errorf("%s stands twice", name)
		}
		seen[from+name] = true
		count[from]++
		for id := range strings.SplitSeq(cautions, "; ") {
			if _, ok := trade.Library().Caution(id); !ok {
				t.Errorf("%s: there is no caution %q", name, id)
			}
		}
	}
	const topics, named = 17, 22
	if count["topic"] != topics || count["evidence"] != named || len(count) != 2 {
		t.Errorf("%v rows, and %d topics and %d names of the evidence are known", count, topics, named)
	}
}

// TestCautionsReadWell: a caution's name is short, its sentences are whole, and
// it neither calls anything safe nor gives a time to wait or a distance to keep.
func TestCautionsReadWell(t *testing.T) {
	name := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	safe := regexp.MustCompile(`(?i)\bsafe\b`)
	wait := regexp.MustCompile(`\d+ ?(s|min|minutes|seconds|m|ft|metres|feet)\b`)
	for _, id := range trade.Library().Cautions() {
		c, _ := trade.Library().Caution(id)
		if !name.MatchString(id) {
			t.Errorf("%q is no name in small letters and hyphens", id)
		}
		for _, said := range []string{c.Happens, c.How, c.Instead} {
			if !strings.HasSuffix(said, ".") || said[:1] != strings.ToUpper(said[:1]) {
				t.Errorf("%s: %q is no whole sentence", id, said)
			}
			if found := safe.FindString(said) + wait.FindString(said); found != "" {
				t.Errorf("%s says %q", id, found)
			}
		}
	}
}

// TestHazardWords: each hazard is met in a sentence as an author would write
// it, and not in one that only sounds like it.
func TestHazardWords(t *testing.T) {
	for said, want := range map[string]string{
		"The fuse goes again.":                                "fuse",
		"Put the mast on the chimney.":                        "lightning power-lines",
		"Climb the ladder to the loft.":                       "ladders",
		"Each step of the ladder doubles the watts.":          "",
		"Run the cable through the wall.":                     "wire-hidden",
		"Stand the wall clock by the cable drum.":             "",
		"Open the case and look at the capacitors.":           "stored-charge",
		"It has been in the loft for twenty years.":           "first-power",
		"After twenty years in the loft, may I try it?":       "first-power",
		"Spray the control.":                                  "chemicals",
		"Look at the lens of the player.":                     "laser",
		"Lift the heavy amplifier out.":                       "lifting",
		"Lift the record and lay it on again.":                "",
		"Its two-core lead is split.":                         "two-core",
		"It keeps four boxes on one extension lead.":          "mains",
		"A signal of 98 MHz comes down the lead.":             "",
		"Nothing stands on the vents.":                        "ventilation",
		"Mind the cantilever.":                                "stylus-care",
		"The remote holds a button cell.":                     "small-parts",
		"Set the headphone level first.":                      "hearing",
		"In the tape loop the recorder hears itself.":         "howl-loop",
		"A valve amplifier wants its speaker.":                "valve-load",
		"The voltage selector stands at the back.":            "mains-plate",
		"Join the ground to the mains earth and all is well.": "keep-earth",
	} {
		var got []string
		for _, h := range trade.Library().Hazards(wording.Split(said)) {
			if id := h.Caution.ID; !strings.Contains(" "+strings.Join(got, " ")+" ", " "+id+" ") {
				got = append(got, id)
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q pulls in %q, and %q is wanted", said, strings.Join(got, " "), want)
		}
	}
}

// TestShippedMethodsNameTheirCautions: a method that gives what can hurt, or
// says so, names the caution of it. Authors' own are held to it when they are
// read.
func TestShippedMethodsNameTheirCautions(t *testing.T) {
	for _, name := range trade.Library().Names() {
		m, _ := trade.Library().Method(name)
		if lacks := trade.Library().Uncautioned(m.Sheet()); lacks.Len() > 0 {
			t.Error(lacks)
		}
	}
}
