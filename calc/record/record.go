// Package record reads YAML with places: every key and value knows where in
// its file it stands, and keeps its text as it was typed. Only a plain part of
// YAML is read: maps, lists and text. Anchors, aliases, tags and several
// documents in one file are refused, so that a method file means what a
// person of the trade reads in it. Numbers are never decoded here: `010` and
// `1_000` would otherwise turn into 8 and 1000.
package record

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// Kind is what a node holds.
type Kind uint8

const (
	Empty Kind = iota // nothing typed, or ~
	Scalar
	Map
	List
)

// String returns the kind in words.
func (k Kind) String() string {
	switch k {
	case Empty:
		return "nothing"
	case Scalar:
		return "a text"
	case Map:
		return "a set of named values"
	case List:
		return "a list"
	}
	return "something unknown"
}

// Node is a piece of a record.
type Node struct {
	Kind     Kind
	Place    fault.Place // a scalar's text inside its quotes; else where the piece begins
	Text     string      // a scalar's text
	Verbatim bool        // Text is exactly what Place covers, so that offsets into one hold for the other
	Entries  []Entry     // of a map, in order
	Items    []*Node     // of a list, in order
}

// Entry is a key of a map with its value.
type Entry struct {
	Key   *Node
	Value *Node
}

// Get returns the value under a key, and nil where n is nil, no map, or has
// no such key.
func (n *Node) Get(key string) *Node {
	if n == nil {
		return nil
	}
	for _, e := range n.Entries {
		if e.Key.Text == key {
			return e.Value
		}
	}
	return nil
}

// Line returns the text under a key, and "" where there is none or where it is
// no text.
func (n *Node) Line(key string) string {
	if v := n.Get(key); v != nil && v.Kind == Scalar {
		return v.Text
	}
	return ""
}

// Keys checks that n is a map whose keys are all known, and returns a fault
// for each that is not. An empty node passes.
func (n *Node) Keys(what string, known ...string) *fault.List {
	faults := &fault.List{}
	if n == nil || n.Kind == Empty {
		return faults
	}
	if n.Kind != Map {
		faults.Add(fault.At(n.Place, "%s is %s here", what, n.Kind).Want("named values: %s", sample(known)))
		return faults
	}
	for _, e := range n.Entries {
		if !slices.Contains(known, e.Key.Text) {
			f := fault.At(e.Key.Place, "%s has no %q", what, e.Key.Text).Want("one of: %s", strings.Join(known, ", "))
			if mend := e.mend(known); mend != "" {
				f.Fix("%s", mend)
			}
			faults.Add(f)
		}
	}
	return faults
}

// mend says what may have been meant by a key that is not known. One without a
// value is often the end of a text that holds a comma, or a key and its value
// without a colon between them.
func (e Entry) mend(known []string) string {
	if key, value, ok := strings.Cut(e.Key.Text, " "); e.Value.Kind == Empty {
		if ok && slices.Contains(known, key) {
			return key + ": " + value
		}
		before := strings.TrimRight(e.Key.Place.Text.Source()[:e.Key.Place.Start], " ")
		if strings.HasSuffix(before, ",") {
			return `put a text that holds a comma between straight quotes: "so, and so"`
		}
	}
	return fault.Near(e.Key.Text, known)
}

// Words returns the texts of a list of scalars; a single scalar counts as a
// list of one. Anything else in it is a fault.
func (n *Node) Words(what string) ([]*Node, *fault.List) {
	faults := &fault.List{}
	if n == nil || n.Kind == Empty {
		return nil, faults
	}
	if n.Kind == Scalar {
		return []*Node{n}, faults
	}
	if n.Kind != List {
		faults.Add(fault.At(n.Place, "%s is %s here", what, n.Kind).Want("a list: [first, second]"))
		return nil, faults
	}
	var words []*Node
	for _, item := range n.Items {
		if item.Kind != Scalar {
			faults.Add(fault.At(item.Place, "%s holds %s", what, item.Kind).Want("a text"))
			continue
		}
		words = append(words, item)
	}
	return words, faults
}

func sample(words []string) string {
	if len(words) > 3 {
		return strings.Join(words[:3], ", ") + " …"
	}
	return strings.Join(words, ", ")
}
