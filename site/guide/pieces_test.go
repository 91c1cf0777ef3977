package guide_test

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// TestPieces parts a block, and holds the pieces to be its whole text.
func TestPieces(t *testing.T) {
	for _, c := range []struct{ name, block, want string }{
		{"calc", "calc speaker-wire\nname: run\ngauge: 14, 16 AWG\nrun: 3 m to 9 m by 3 m\nshow: loss\nlimit: loss at most 0.5 dB, beyond: \"too 2 thin\"\n",
			"word:calc name:speaker-wire word:name name:run value:gauge number:14 number:16 unit:AWG " +
				"value:run number:3 unit:m join:to number:9 unit:m join:by number:3 unit:m word:show name:loss " +
				"word:limit name:loss join:at join:most number:0.5 unit:dB join:beyond quoted:\"too 2 thin\""},
		{"decide", "decide\nquestion: Is it 2 m or 3 m?\nask: far = Is it at least 3 m?\nrule: far is yes, verdict: fits, answer: Take 2 m of it.\notherwise: answer: It is.\n",
			"word:decide word:question word:ask word:rule join:is join:verdict join:answer word:otherwise join:answer"},
		{"figures and odd lines", "calc speaker-wire\n  run : <figure:standing.far-3>\nno colon\nwork: gauge\nquote: \"open",
			"word:calc name:speaker-wire value:run word:work name:gauge value:quote"},
	} {
		t.Run(c.name, func(t *testing.T) {
			table := &guide.Table{
				Name: "run", Method: "speaker-wire", Block: fault.NewText("a.md", c.block).All(),
				Inside: &guide.Inside{
					Results: []guide.Heading{{Name: "loss"}},
					Rows:    &guide.Axis{Heading: guide.Heading{Name: "gauge"}},
				},
			}
			told, text := toldOf(table.Pieces())
			if told != c.want {
				t.Errorf("got  %s\nwant %s", told, c.want)
			}
			if text != strings.TrimRight(c.block, "\n") {
				t.Errorf("the pieces are %q, and the block %q", text, c.block)
			}
		})
	}
}

func TestRulePieces(t *testing.T) {
	const line = "loss = 20 dB*log10((load + wire)/load)   [circuit-theory]"
	told, text := toldOf(guide.RulePieces(line, map[string]bool{"load": true}))
	if want := "name:loss number:20 unit:dB name:load name:load"; told != want || text != line {
		t.Errorf("got %s of %q, want %s", told, text, want)
	}
}

// toldOf names the pieces that are not plain, and returns the text of all.
func toldOf(pieces []guide.Piece) (told, text string) {
	names := map[guide.PieceKind]string{
		guide.WordPiece: "word", guide.ValuePiece: "value", guide.NamePiece: "name", guide.NumberPiece: "number",
		guide.UnitPiece: "unit", guide.QuotedPiece: "quoted", guide.JoinPiece: "join",
	}
	var all []string
	for _, p := range pieces {
		text += p.Text
		if name, is := names[p.Kind]; is {
			all = append(all, name+":"+p.Text)
		}
	}
	return strings.Join(all, " "), text
}
