package guide

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// A value of a block may be a figure instead of a typed one: a standing
// figure, or one of a block above in the same guide. It is written as in
// prose, and may be one case of a sweep.

// holdsFigure reports whether a value line names figures.
func holdsFigure(p fault.Place) bool {
	return strings.Contains(strings.ToLower(p.String()), "<"+scheme)
}

// readHanded reads the cases of a value line in which figures are named.
func (b *block) readHanded(in *method.Input, line fault.Place) ([]method.Point, *fault.List) {
	faults := &fault.List{}
	var points []method.Point
	for _, part := range parted(line) {
		if !holdsFigure(part) {
			more, fs := in.ReadSweep(part)
			points = append(points, more...)
			faults.Join(fs)
			continue
		}
		h, ok := b.nameFigure(part, faults)
		if !ok {
			b.unsure, b.broken = true, true // also where the fault stands in another block
			continue
		}
		p, fs := in.Take(h)
		points = append(points, p)
		faults.Join(fs)
	}
	return points, faults
}

// nameFigure finds the figure that a part of a value line names. It is not
// ok, with no fault, where the figure's own block is at fault.
func (b *block) nameFigure(part fault.Place, faults *fault.List) (h method.Handed, ok bool) {
	s := part.String()
	if !isMention(strings.TrimPrefix(s, "<")) || !strings.HasPrefix(s, "<") || !strings.HasSuffix(s, ">") {
		faults.Add(fault.At(part, "this figure is not whole").Want(mentionShape))
		return h, false
	}
	at := part.Sub(1+len(scheme), len(s)-1)
	blockName, name, found := strings.Cut(at.String(), ".")
	if !found {
		faults.Add(fault.At(at, "%q is no address of a figure", at).Want(mentionShape))
		return h, false
	}
	if blockName == standingBlock {
		st := b.reader.standing(name, at)
		if st == nil {
			return h, false
		}
		b.stood = append(b.stood, st)
		return method.Handed{Value: st.Point.Value, Text: st.Point.Text, Unit: st.Point.Unit, Sense: st.Sense, Place: part}, true
	}
	return b.fromAbove(blockName, name, at, part, faults)
}

// fromAbove finds the figure of a block above.
func (b *block) fromAbove(blockName, name string, at, part fault.Place, faults *fault.List) (h method.Handed, ok bool) {
	f := b.reader.guide.Figures[at.String()]
	if f == nil {
		other := b.reader.blocks[blockName]
		switch {
		case other == &b.label:
			faults.Add(fault.At(at, "a block takes no figure of its own").Want("a figure of a block above, or a standing figure"))
		case other == nil && !b.reader.lost:
			faults.Add(fault.At(at, "no block %q stands above this one in the guide", blockName).
				Want("a figure of a block above in this guide, or a standing figure").
				Fix("keep a value that several guides use in standing.yaml, and write <figure:%s.%s>", standingBlock, name))
		case other != nil && !other.broken && !other.doubled:
			faults.Add(other.noFigure(name, at))
		}
		return h, false
	}
	text := f.Number
	if f.State == formula.Known && f.Unit.Symbol() != "" {
		text += " " + f.Unit.Symbol()
	}
	return method.Handed{Value: f.Value, Text: text, Unit: f.Unit, Sense: f.Sense, Place: part, Limits: f.limits, Jumps: f.jumps}, true
}
