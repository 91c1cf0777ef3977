package render

import (
	"bytes"
	"html/template"
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

// blockText sets the pieces of a block.
func blockText(pieces []guide.Piece) (template.HTML, error) {
	tokens := make([]chroma.Token, len(pieces))
	for i, p := range pieces {
		tokens[i] = chroma.Token{Type: pieceTypes[p.Kind], Value: p.Text}
	}
	formatter, style := blockSetter()
	var b bytes.Buffer
	err := formatter.Format(&b, style, chroma.Literator(tokens...))
	return template.HTML(b.String()), err
}
