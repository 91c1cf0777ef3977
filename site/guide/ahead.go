package guide

import (
	"strings"

	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// ReadAhead reads no more of a guide than the docket at its head, for somebody
// who wants to know where the guides will stand before any of them is made. It
// tells no fault; a guide whose docket does not open it has an empty one.
func ReadAhead(t *fault.Text, kit Kit) *Guide {
	head := docketText(t.Source())
	r := &reader{
		kit: kit, text: t, source: []byte(head), faults: &fault.List{}, blocks: map[string]*label{}, guards: map[*method.Caution]int{},
	}
	r.guide = &Guide{Text: t, File: t.Name(), Source: r.source}
	r.guide.Tree = markdown().Parse(text.NewReader(r.source))
	r.findFences()
	r.readDocket()
	ahead := r.guide.Light()
	ahead.Cautions = nil
	return ahead
}

// docketText returns the text of the docket that opens a guide, with its fences;
// "" where none does.
func docketText(source string) string {
	const fence = "```"
	if !strings.HasPrefix(source, fence+docketWord) {
		return ""
	}
	end := strings.Index(source[len(fence):], "\n"+fence)
	if end < 0 {
		return ""
	}
	return source[:len(fence)+end+len("\n"+fence)]
}
