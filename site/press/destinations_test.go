package press

import (
	"fmt"
	"maps"
	"strings"
	"testing"
)

// What the tests that print need of this package.
var (
	Destinations = destinations
	Signed       = signed
)

// smallPDF writes a PDF of the given objects, with the table of objects that
// readers begin with. The numbers of objects run from 1.
func smallPDF(objects ...string) []byte {
	var b strings.Builder
	b.WriteString("%PDF-1.4\n")
	table := "0000000000 65535 f \n"
	for i, o := range objects {
		table += fmt.Sprintf("%010d 00000 n \n", b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	at := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n%strailer\n<</Size %d\n/Root 1 0 R\n/Info 7 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, table, len(objects)+1, at)
	return []byte(b.String())
}

func TestDestinations(t *testing.T) {
	sound := []string{
		"<</Type /Catalog\n/Pages 2 0 R\n/Dests 6 0 R>>",
		"<</Type /Pages\n/Count 3\n/Kids [3 0 R 8 0 R]>>",
		"<</Type /Pages\n/Count 2\n/Kids [5 0 R 4 0 R]\n/Parent 2 0 R>>",
		"<</Type /Page\n/Parent 3 0 R>>",
		"<</Type /Page\n/Parent 3 0 R>>",
		"<</K3 [4 0 R /XYZ 0 640.1 0]\n/K3-T1#20a [8 0 R /XYZ 0 1 0]\n/W1 [5 0 R /XYZ 0 9 0]>>",
		"<</CreationDate (D:20301231235959+00'00')\n/ModDate (D:20301231235959+00'00')>>",
		"<</Type /Page\n/Parent 2 0 R>>",
	}
	lost := append([]string{}, sound...)
	lost[5] = "<</K3 [9 0 R /XYZ 0 640.1 0]>>"
	none := append([]string{}, sound...)
	none[5] = "<<>>"
	for _, c := range []struct {
		name string
		pdf  []byte
		want map[string]int
	}{
		{"in the order of the tree, not of the file", smallPDF(sound...), map[string]int{"W1": 1, "K3": 2, "K3-T1 a": 3}},
		{"a place on no side", smallPDF(lost...), nil},
		{"no place", smallPDF(none...), nil},
		{"cut short", smallPDF(sound...)[:300], nil},
		{"empty", nil, nil},
		{"a table that is not there", []byte("%PDF-1.4\ntrailer\n<</Root 1 0 R>>\nstartxref\n99999\n%%EOF\n"), nil},
		{"a tree that goes round", smallPDF(sound[0], "<</Kids [2 0 R]>>", "", "", "", sound[5]), nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := destinations(c.pdf)
			if !maps.Equal(got, c.want) || (err == nil) != (c.want != nil) {
				t.Errorf("got %v and %v, want %v", got, err, c.want)
			}
		})
	}
}

func TestDated(t *testing.T) {
	pdf := smallPDF("<</CreationDate (D:20301231235959+00'00')\n/ModDate (D:20301231235959+00'00')>>")
	got := string(dated(pdf, "2026-11-25"))
	if want := strings.ReplaceAll(string(pdf), "20301231235959", "20261125000000"); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := dated(pdf, ""); string(got) != string(pdf) {
		t.Errorf("without a date: %q", got)
	}
}

func TestSigned(t *testing.T) {
	const other = `(A browser/5.0 \(its system\) like others)`
	pdf := smallPDF("<</Creator " + other + "\n/Producer (A library)>>")
	got := string(signed(pdf))
	if strings.Contains(got, "browser") || strings.Contains(got, "library") || len(got) != len(pdf) {
		t.Errorf("got %q", got)
	}
	want := []string{"/Creator (bindpost" + strings.Repeat(" ", len(other)-len("(bindpost)")) + ")", "/Producer (bindpost )"}
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("there is no %q in %q", w, got)
		}
	}
}
