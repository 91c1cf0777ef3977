package press_test

import (
	"encoding/xml"
	"regexp"
	"strings"
	"testing"
)

// placed is what pdftotext tells of a PDF with -bbox-layout: pages of blocks of
// lines.
type placed struct {
	Pages []struct {
		Height float64 `xml:"height,attr"`
		Blocks []struct {
			Lines []struct {
				Low   float64 `xml:"yMax,attr"`
				Left  float64 `xml:"xMin,attr"`
				Words []struct {
					Text string `xml:",chardata"`
				} `xml:"word"`
			} `xml:"line"`
		} `xml:"flow>block"`
	} `xml:"body>doc>page"`
}

// announces are the words of a line that another must follow.
var announces = regexp.MustCompile(`^(Every way to reply|(Table |Heed first|Taken for the whole|The same, question by|Where the rules come|Worked for|Row A ).*[^.]$|(WARNING|CAUTION)( .*[^.])?$)`)

// noHeadLast sees that nothing whose words announce what follows is the lowest
// thing on a side: a section's code, the name of a table, a label.
func noHeadLast(t *testing.T, pdf []byte) {
	var p placed
	if err := xml.Unmarshal([]byte(poppler(t, pdf, "pdftotext", "-bbox-layout", "-", "-")), &p); err != nil {
		t.Fatal(err)
	}
	if len(p.Pages) < 10 {
		t.Fatalf("%d sides were read", len(p.Pages))
	}
	for i, side := range p.Pages {
		lowest, low := "", 0.0
		for _, b := range side.Blocks {
			for _, l := range b.Lines {
				var words []string
				for _, w := range l.Words {
					words = append(words, w.Text)
				}
				const foot = 62 // points: above the strip, which is at most so high with its margin
				if l.Low < side.Height-foot && l.Low > low {
					lowest, low = strings.Join(words, " "), l.Low
				}
			}
		}
		if announces.MatchString(lowest) {
			t.Errorf("side %d ends with %q", i+1, lowest)
		}
	}
}
