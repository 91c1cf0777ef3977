package guide

import (
	"regexp"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"
)

// neverMark is what an author puts before advice that he warns against:
// *Never do this:*. It covers what follows it in its paragraph, and a list that
// follows a paragraph which is the mark alone.
const neverMark = "Never do this"

var neverMarked = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(^|[.!?] )` + neverMark + `(:|\.|$)`) })

// advice is what a saying says of its author's own advice: up to a mark that
// warns against the rest.
func (s *saying) advice() string {
	text := s.text.String()
	if s.marked {
		return ""
	}
	if !strings.Contains(text, neverMark) {
		return text
	}
	if m := neverMarked().FindStringIndex(text); m != nil {
		return text[:m[0]]
	}
	return text
}

// underMark reports whether a block stands in a list that a mark stands over.
func (r *reader) underMark(n ast.Node) bool {
	for p := n.Parent(); p != nil; p = p.Parent() {
		if p.Kind() != ast.KindList || p.PreviousSibling() == nil || p.PreviousSibling().Kind() != ast.KindParagraph {
			continue
		}
		if over := r.saying(p.PreviousSibling()).text.String(); strings.Trim(over, ":. ") == neverMark {
			return true
		}
	}
	return false
}
