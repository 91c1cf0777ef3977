package record

import (
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"bindpost/calc/fault"
)

// Hostile files end here before the library sees them: longer texts than any
// record of the trade, and brackets nested deeper than any means.
const (
	longest = 1 << 16
	deepest = 16
)

// Parse reads a text. On a fault the node may be nil; what could be read is
// returned beside the faults.
func Parse(t *fault.Text) (*Node, *fault.List) {
	faults := &fault.List{}
	if f := tooMuch(t); f != nil {
		faults.Add(f)
		return nil, faults
	}
	file, err := parser.ParseBytes([]byte(t.Source()), 0)
	if err != nil {
		faults.Add(syntaxFault(t, err))
		return nil, faults
	}
	r := &reader{text: t, faults: faults}
	var root *Node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if root != nil {
			faults.Add(fault.At(r.place(doc.Body.GetToken()), "a second record begins here").
				Want("one record in a file").Fix("take the line --- out"))
			break
		}
		root = r.node(doc.Body)
	}
	if root == nil {
		root = &Node{Kind: Empty, Place: t.Place(0, 0)}
	}
	return root, faults
}

func tooMuch(t *fault.Text) *fault.Fault {
	source := t.Source()
	if len(source) > longest {
		return fault.At(t.Place(0, 0), "the file is too long: %d bytes", len(source)).Want("at most %d bytes", longest)
	}
	if i := strings.IndexFunc(source, func(r rune) bool { return r < ' ' && r != '\n' && r != '\t' }); i >= 0 {
		return fault.At(t.Place(i, i+1), "a control character stands here").Fix("take it out")
	}
	depth := 0
	for i := range len(source) {
		switch source[i] {
		case '[', '{':
			depth++
		case ']', '}':
			depth = max(0, depth-1)
		}
		if depth > deepest {
			return fault.At(t.Place(i, i+1), "too many brackets inside one another").Want("at most %d", deepest)
		}
	}
	return indentTooDeep(t)
}

// indentTooDeep refuses text indented further than any record needs, which
// the library would otherwise follow down level by level.
func indentTooDeep(t *fault.Text) *fault.Fault {
	const widest = 200
	at := 0
	for line := range strings.Lines(t.Source()) {
		if n := len(line) - len(strings.TrimLeft(line, " -?:")); n > widest {
			return fault.At(t.Place(at, at+n), "this line is indented too far").Want("at most %d places", widest)
		}
		at += len(line)
	}
	return nil
}

type reader struct {
	text   *fault.Text
	faults *fault.List
	depth  int
}

func (r *reader) node(n ast.Node) *Node {
	r.depth++
	defer func() { r.depth-- }()
	if r.depth > 2*deepest {
		return r.refuse(n, "too many levels inside one another", "fewer")
	}
	switch n := n.(type) {
	case nil, *ast.NullNode:
		return r.empty(n)
	case *ast.MappingNode:
		return r.mapping(n, n.Values)
	case *ast.MappingValueNode:
		return r.mapping(n, []*ast.MappingValueNode{n})
	case *ast.SequenceNode:
		list := &Node{Kind: List, Place: r.place(n.Start)}
		for _, v := range n.Values {
			list.Items = append(list.Items, r.node(v))
		}
		return list
	case *ast.LiteralNode:
		return &Node{Kind: Scalar, Place: r.place(n.Start), Text: n.Value.Value}
	case *ast.AnchorNode, *ast.AliasNode, *ast.MergeKeyNode:
		return r.refuse(n, "a mark for repeating text (& or *) is not read here", "the text itself; a text that begins with & or * stands in quotes")
	case *ast.TagNode:
		return r.refuse(n, "a mark of kind (!) is not read here", "the text itself; a text that begins with ! stands in quotes")
	}
	return r.scalar(n.GetToken())
}

func (r *reader) empty(n ast.Node) *Node {
	node := &Node{Kind: Empty, Place: r.text.Place(0, 0)}
	if n != nil && n.GetToken() != nil {
		node.Place = r.place(n.GetToken())
	}
	return node
}

func (r *reader) refuse(n ast.Node, message, want string) *Node {
	place := r.place(n.GetToken())
	r.faults.Add(fault.At(place, "%s", message).Want("%s", want))
	return &Node{Kind: Empty, Place: place}
}

func (r *reader) mapping(n ast.Node, values []*ast.MappingValueNode) *Node {
	m := &Node{Kind: Map, Place: r.place(n.GetToken())}
	if len(values) > 0 {
		m.Place = r.place(values[0].Key.GetToken())
	}
	seen := map[string]bool{}
	for _, v := range values {
		switch v.Key.(type) {
		case *ast.MergeKeyNode:
			r.refuse(v.Key, "a mark for repeating text (<<) is not read here", "the values themselves")
			continue
		case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
			r.refuse(v.Key, "a mark (&, * or !) before a name is not read here", "the name alone; one that begins with such a sign stands in quotes")
			continue
		}
		key := r.scalar(v.Key.GetToken())
		if seen[key.Text] {
			r.faults.Add(fault.At(key.Place, "%q stands twice", key.Text).Fix("take one of the two out"))
			continue
		}
		seen[key.Text] = true
		m.Entries = append(m.Entries, Entry{Key: key, Value: r.node(v.Value)})
	}
	return m
}

// scalar takes a text as typed. The library's token holds the value with
// quotes and line breaks resolved; where that is what the file holds letter
// for letter, places inside the text are exact.
func (r *reader) scalar(t *token.Token) *Node {
	start := r.text.Offset(t.Position.Line, t.Position.Column)
	if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
		start++
	}
	value := strings.TrimRight(t.Value, " \t\n")
	if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
		value = t.Value
	}
	n := &Node{Kind: Scalar, Text: value}
	n.Verbatim = strings.HasPrefix(r.text.Source()[start:], value)
	if n.Verbatim {
		n.Place = r.text.Place(start, start+len(value))
		return n
	}
	rest, _, _ := strings.Cut(r.text.Source()[start:], "\n")
	n.Place = r.text.Place(start, start+len(strings.TrimRight(rest, " \t")))
	return n
}

func (r *reader) place(t *token.Token) fault.Place {
	start := r.text.Offset(t.Position.Line, t.Position.Column)
	return r.text.Place(start, start+max(1, len(strings.TrimSpace(t.Value))))
}
