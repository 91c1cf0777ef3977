package guide

import (
	"strings"

	"bindpost/calc/fault"
)

// readCaption looks at the words of a caption: they say what the table shows,
// and so hold nothing that is computed, and no advice that no page prints.
func (b *block) readCaption() {
	if b.caption.Text == nil {
		return
	}
	r := b.reader
	if i := strings.Index(b.caption.String(), "<"+scheme); i >= 0 {
		b.fault(fault.At(b.caption.Sub(i, i+len("<"+scheme)), "a caption holds no figures").Fix("put the figure into the prose, or a cell into the table"))
	}
	for _, f := range findFigures(b.caption.String()) {
		b.fault(fault.At(b.caption.Sub(f.start, f.end), "%q is typed in a caption", b.caption.Sub(f.start, f.end)).
			Want("words; what the table took stands below its caption by itself"))
	}
	r.checkQuestion(b.caption)
}
