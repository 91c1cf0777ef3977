package guide

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"

	"bindpost/calc/unit"
)

// headUnit puts the unit that a typed table's head names, as "loss (dB)",
// "loss, dB" or "loss in dB", behind a number that stands alone in a cell below
// it. Its place is that of the number.
func (s *saying) headUnit(n ast.Node, source []byte) {
	symbol := unitOfHead(n, source)
	number := strings.TrimSpace(s.text.String())
	if symbol == "" || number == "" || unit.ScanNumber(strings.TrimLeft(number, "−-")) != len(strings.TrimLeft(number, "−-")) {
		return
	}
	s.sayHeld(" "+symbol, s.placeOf(s.text.Len()-1))
}

// unitOfHead returns the unit in the head of a cell's column, "" for none.
func unitOfHead(n ast.Node, source []byte) string {
	if n.Kind() != east.KindTableCell || n.Parent().Kind() == east.KindTableHeader {
		return ""
	}
	head := n.Parent().Parent().FirstChild().FirstChild()
	for c := n.PreviousSibling(); c != nil && head != nil; c = c.PreviousSibling() {
		head = head.NextSibling()
	}
	if head == nil {
		return ""
	}
	words := &saying{}
	words.gather(head, source)
	text := words.text.String()
	for _, before := range []string{"(", ", ", " in "} {
		if i := strings.LastIndex(text, before); i >= 0 {
			symbol := strings.TrimRight(strings.TrimSpace(text[i+len(before):]), ")")
			if _, length := unit.ScanUnit(symbol); length > 0 && length == len(symbol) {
				return symbol
			}
		}
	}
	return ""
}
