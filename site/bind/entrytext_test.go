package bind

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"testing"
)

// TestEntryText holds the text of entries to what encoding/json writes of them.
func TestEntryText(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 3))
	signs := []string{"a", "B", "9", " ", "\"", "\\", "/", "<", "&", "\n", "\r", "\t", "\b", "\f", "\x00", "\x1f", "\x7f", "Ω", "−", "\u2028", "\u2029", "\u202a", "\ufffd", "🔈", "\xff", "\xe2\x80"}
	text := func() string {
		all := ""
		for range r.IntN(6) {
			all += signs[r.IntN(len(signs))]
		}
		return all
	}
	for range 20_000 {
		e := LedgerEntry{Code: text(), File: text(), Hash: text()}
		for range r.IntN(3) {
			f := LedgerFigure{Address: text(), Value: text(), Unit: text(), Text: text(), Method: text(), Rule: text()}
			for range r.IntN(3) {
				f.Used = append(f.Used, text())
			}
			e.Figures = append(e.Figures, f)
		}
		for range r.IntN(3) {
			e.Verdicts = append(e.Verdicts, LedgerVerdict{Table: text(), Name: text(), Grade: text(), Words: text()})
			e.Cautions = append(e.Cautions, text())
			e.Sentences = append(e.Sentences, LedgerSentence{Where: text(), Form: text(), Text: text()})
		}
		var want bytes.Buffer
		j := json.NewEncoder(&want)
		j.SetEscapeHTML(false)
		if err := j.Encode(e); err != nil {
			t.Fatal(err)
		}
		if got := appendEntry(nil, &e); !bytes.Equal(got, want.Bytes()) {
			t.Fatalf("%+v is written\n%swant\n%s", e, got, want.Bytes())
		}
	}
}
