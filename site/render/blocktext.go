package render

import (
	"bytes"
	signs "html"
	"html/template"
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters/html"

	"bindpost/site/guide"
)

// pieceTypes are the token types by which the formatter sets the pieces of a
// block apart. We hand it the pieces that the readers of blocks know, and none
// of its own lexers: these would cost every start of the program.
var pieceTypes = map[guide.PieceKind]chroma.TokenType{
	guide.PlainPiece:  chroma.Text,
	guide.WordPiece:   chroma.Keyword,
	guide.ValuePiece:  chroma.NameAttribute,
	guide.NamePiece:   chroma.Name,
	guide.NumberPiece: chroma.Text,
	guide.UnitPiece:   chroma.KeywordType,
	guide.QuotedPiece: chroma.Text,
	guide.JoinPiece:   chroma.OperatorWord,
}

// blockSetter sets blocks with classes: how these look is said in the style
// sheet, under names that begin with "block-".
var blockSetter = sync.OnceValues(func() (*html.Formatter, *chroma.Style) {
	return html.New(html.WithClasses(true), html.ClassPrefix("block-"), html.PreventSurroundingPre(true)),
		chroma.MustNewStyle("block", chroma.StyleEntries{})
})

// blockText sets the pieces of a block: as the formatter would, with the marks
// that it puts round each kind, but without its search for them at each piece.
func blockText(pieces []guide.Piece) (template.HTML, error) {
	marks, err := pieceMarks()
	if err != nil {
		return "", err
	}
	for _, p := range pieces {
		if marks[p.Kind].before != "" && strings.Contains(p.Text, "\n") {
			return formatted(pieces) // marks end with their line
		}
	}
	text, err := setText(func(f *forme) error {
		for _, p := range pieces {
			m := marks[p.Kind]
			f.WriteString(m.before)
			f.WriteString(escapedSigns(p.Text))
			f.WriteString(m.after)
		}
		return nil
	})
	return template.HTML(text), err
}

// escapedSigns returns text as the formatter escapes it. Most has nothing to
// escape.
func escapedSigns(text string) string {
	for i := range len(text) {
		switch text[i] {
		case '"', '&', '\'', '<', '>':
			return signs.EscapeString(text)
		}
	}
	return text
}

// mark is what the formatter puts round a piece.
type mark struct{ before, after string }

// pieceMarks asks the formatter how it sets a piece of each kind.
var pieceMarks = sync.OnceValues(func() ([]mark, error) {
	const probe = "x"
	marks := make([]mark, len(pieceTypes))
	for kind := range pieceTypes {
		set, err := formatted([]guide.Piece{{Kind: kind, Text: probe}})
		if err != nil {
			return nil, err
		}
		at := strings.Index(string(set), ">"+probe) + 1 // before the end of its opening mark, or at its head
		marks[kind] = mark{string(set[:at]), string(set[at+len(probe):])}
	}
	return marks, nil
})

// formatted has the formatter set the pieces of a block.
func formatted(pieces []guide.Piece) (template.HTML, error) {
	tokens := make([]chroma.Token, len(pieces))
	for i, p := range pieces {
		tokens[i] = chroma.Token{Type: pieceTypes[p.Kind], Value: p.Text}
	}
	formatter, style := blockSetter()
	var b bytes.Buffer
	err := formatter.Format(&b, style, chroma.Literator(tokens...))
	return template.HTML(b.String()), err
}
