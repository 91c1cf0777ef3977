package guide

import (
	"slices"
	"strconv"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/unit"
	"bindpost/calc/wiring"
)

// check holds the joints to the rules of wiring, and tells what does not pass:
// a stop where two things may not be joined, a warning where it is not known
// whether they may. What the author says it comes to is not told again.
func (h *hookup) check() {
	h.wire()
	if len(h.wired.Joints) > mostLeads {
		h.fault(fault.At(h.opening, "this hook-up has %d leads, left and right counted each", len(h.wired.Joints)).
			Want("at most %d, which a small screen holds", mostLeads).Fix("two drawings"))
		return
	}
	h.checkWords(h.title)
	h.found = h.wired.Check()
	worst := h.worst()
	if h.panel.Text == nil && h.verdict.Text != nil && h.verdict.String() != worst {
		h.fault(h.otherVerdict(worst))
	}
	if h.verdict.String() == worst {
		return
	}
	told := map[string]bool{}
	for i, f := range h.found {
		if !h.toldElsewhere(i) {
			h.tell(f, told)
		}
	}
	h.tellAsks()
}

// toldElsewhere reports whether what a finding says is told by another one: a
// load that is too low is told of an amplifier once, at the last loudspeaker that
// makes it so, and that its terminals have several leads goes with it.
func (h *hookup) toldElsewhere(i int) bool {
	f, box := h.found[i], func(f wiring.Finding) string { return h.wired.Jacks[h.wired.Joints[f.Joint].From].Box }
	tooLow := func(o wiring.Finding) bool {
		return o.Rule == wiring.Load && o.Grade == wiring.DoNotConnect && o.Known && box(o) == box(f)
	}
	switch f.Rule {
	case wiring.Load:
		return tooLow(f) && slices.ContainsFunc(h.found[i+1:], func(o wiring.Finding) bool {
			return tooLow(o) && h.lineOf(o.Joint) != h.lineOf(f.Joint)
		})
	case wiring.Twice:
		return f.At == h.wired.Joints[f.Joint].From && slices.ContainsFunc(h.found, tooLow)
	}
	return false
}

// otherVerdict is the fault of a verdict that is not what the check comes to. A
// drawing of what nobody must join that passes is drawn wrong, or the check does
// not see the fault: that has to be looked at before the line is changed.
func (h *hookup) otherVerdict(worst string) *fault.Fault {
	f := fault.At(h.verdict, "this hook-up is %q, and the line says %q", worst, h.verdict)
	if method.Worse(h.verdict.String(), worst) {
		return f.Want("a drawing that shows the fault that is meant").
			Fix("look first whether the drawing shows it; and only if nothing is wrong with the hook-up: verdict: %s", worst)
	}
	return f.Fix("verdict: %s", worst)
}

// wire makes the hook-up that the rules are held against.
func (h *hookup) wire() {
	h.wired = h.rears.Frame()
	for _, b := range h.boxes {
		b.Onto(h.wired, b.name)
	}
	for n, l := range h.lines {
		for i := range max(len(l.from.sides), len(l.to.sides)) {
			l.joints = append(l.joints, len(h.wired.Joints))
			joint := wiring.Joint{From: h.jack(l.from, i), To: h.jack(l.to, i), Lead: n, By: l.by}
			h.wired.Joints = append(h.wired.Joints, joint)
			h.brings = append(h.brings, h.rears.Cautions(h.wired, joint))
		}
	}
	for i, joint := range h.wired.Joints { // a loop is seen when all are there
		h.brings[i] = h.rears.Cautions(h.wired, joint)
	}
}

// jack finds the jack of an end, for the first side or the second.
func (h *hookup) jack(e hookedEnd, i int) int {
	side := e.sides[min(i, len(e.sides)-1)]
	return slices.IndexFunc(h.wired.Jacks, func(j wiring.Jack) bool {
		return j.Box == e.box.name && j.Mark == e.rear.Name && j.Side == side
	})
}

// worst is the worst grade of the whole hook-up.
func (h *hookup) worst() string {
	worst := wiring.Worst(h.found).String()
	for _, l := range h.lines {
		if h.asks(l) && method.Worse(method.AskFirst, worst) {
			worst = method.AskFirst
		}
	}
	return worst
}

// asks reports whether a line brings a caution for which somebody has to be
// asked first.
func (h *hookup) asks(l *hookedLine) bool { return h.rears.AskFirst(h.brings[l.joints[0]]) }

// tellAsks warns of the lines to ask about.
func (h *hookup) tellAsks() {
	for _, l := range h.lines {
		if h.asks(l) {
			c, _ := h.reader.kit.Library.Caution(h.askCaution(l))
			h.fault(fault.At(l.at, "somebody has to be asked before this is joined: %s", sentenceStart(c)).
				Want("the line verdict: %s, which prints it as such", method.AskFirst).Graded(fault.Warn))
		}
	}
}

func sentenceStart(c *method.Caution) string {
	if c == nil {
		return "the papers"
	}
	return c.Ask
}

func (h *hookup) askCaution(l *hookedLine) string {
	for _, id := range h.brings[l.joints[0]] {
		if h.rears.AskFirst([]string{id}) {
			return id
		}
	}
	return ""
}

// lineOf finds the line of a joint.
func (h *hookup) lineOf(joint int) *hookedLine {
	for _, l := range h.lines {
		if slices.Contains(l.joints, joint) {
			return l
		}
	}
	return nil
}

// tell tells one finding that does not fit, each once for a line and a rule.
func (h *hookup) tell(f wiring.Finding, told map[string]bool) {
	l := h.lineOf(f.Joint)
	key := strconv.Itoa(l.at.Start) + string(f.Rule)
	if f.Grade == wiring.Fits || told[key] {
		return
	}
	told[key] = true
	made := h.faultOf(f, l)
	if f.Grade != wiring.DoNotConnect {
		made.Graded(fault.Warn)
		if made.Try == "" {
			made.Fix("find it out; or the line verdict: %s, which prints it as such", f.Grade)
		}
	}
	h.fault(made)
}

// faultOf words a finding for the author.
func (h *hookup) faultOf(f wiring.Finding, l *hookedLine) *fault.Fault {
	whole := l.from.at.To(l.to.at)
	from, to := l.from.rear, l.to.rear
	switch f.Rule {
	case wiring.Direction:
		return h.wrongWay(f, l)
	case wiring.Twice:
		return h.usedTwice(f, l)
	case wiring.Sides:
		return fault.At(whole, "left is joined to right here").Want("left to left, and right to right")
	case wiring.Stages:
		return h.wrongStages(f, l)
	case wiring.Level:
		return h.wrongLevel(l)
	case wiring.Ends:
		if from.Is == nil || to.Is == nil {
			return fault.At(whole, "it is not known which plugs go into these sockets").Want("their connectors, in a socket line")
		}
		return fault.At(whole, "no lead of the catalogue goes from a %s to a %s", from.Is.Name, to.Is.Name).Want("two sockets that a lead joins")
	case wiring.Bridging, wiring.Wanted, wiring.Load:
		return h.wrongOhms(f, l)
	}
	return fault.At(whole, "this closes a loop: what comes out of %s gets back to where it began, and howls", l.from.box.says).
		Want("no way from an output back to its own input").Fix("take this joint out, or lead it to the tape loop, which comes in behind the record output")
}

// wrongWay is the fault of an end that the signal passes the wrong way.
func (h *hookup) wrongWay(f wiring.Finding, l *hookedLine) *fault.Fault {
	e, is, want := l.from, "an input, and nothing comes out of it", "an output"
	if f.At == h.wired.Joints[f.Joint].To {
		e, is, want = l.to, "an output, and nothing goes into it", "an input"
	}
	made := fault.At(e.at, "%q of %s is %s", e.rear.Name, e.box.says, is)
	var can []string
	for _, s := range e.box.Sockets {
		if s.Out && want == "an output" || s.In && want == "an input" {
			can = append(can, s.Name)
		}
	}
	if len(can) > 0 {
		want += " of it: " + strings.Join(can, ", ")
	}
	return made.Want("%s", want)
}

// usedTwice is the fault of a socket to which two leads go.
func (h *hookup) usedTwice(f wiring.Finding, l *hookedLine) *fault.Fault {
	e := l.from
	if f.At == h.wired.Joints[f.Joint].To {
		e = l.to
	}
	line, _ := h.reader.text.Position(h.lineOf(f.Other).at.Start)
	return fault.At(e.at, "%q of %s has a lead already, from line %d", e.rear.Name, e.box.says, line).Want("one lead to a socket").
		Fix("another socket; or a box between that shares it")
}

// wrongStages is the fault of a chain with no phono stage, or with two.
func (h *hookup) wrongStages(f wiring.Finding, l *hookedLine) *fault.Fault {
	whole := l.from.at.To(l.to.at)
	made := fault.At(whole, "no phono preamplifier lies between the cartridge and %q, which would hear a whisper", l.to.rear.Name)
	if f.Count > 1 {
		made = fault.At(whole, "this would be the second phono preamplifier in the chain, driven far beyond what it can take")
	}
	if f.Grade == wiring.Doubtful {
		made = fault.At(whole, "it is not known how many phono preamplifiers lie between the cartridge and %q", l.to.rear.Name)
	}
	made.Want("exactly one phono preamplifier between a cartridge and the rest")
	for _, s := range l.to.box.Sockets {
		phono := s.Is != nil && slices.Contains(h.wired.Cartridges, s.Is.Signal)
		if s.In && f.Grade == wiring.DoNotConnect && phono == (f.Count == 0) && s.Is.Signal != "ground" {
			return made.Fix("%s of %s", s.Name, l.to.box.name)
		}
	}
	if f.Count == 0 && f.Grade == wiring.DoNotConnect {
		made.Fix("box: pre is phono preamplifier, with a joint before it and one behind it")
	}
	return made
}

// wrongLevel is the fault of a signal that is not the one that is wanted.
func (h *hookup) wrongLevel(l *hookedLine) *fault.Fault {
	whole, from, to := l.from.at.To(l.to.at), l.from.rear.Is, l.to.rear.Is
	if from == nil || to == nil {
		return fault.At(whole, "it is not known what these sockets carry").Want("their connectors, in a socket line")
	}
	made := fault.At(whole, "%q gives %s, and %q takes %s", l.from.rear.Name, signalWords(from.Signal), l.to.rear.Name, signalWords(to.Signal))
	why, instead := h.rears.NoWay(from, to)
	if why != "" {
		made = fault.At(whole, "%s: %s", made.Message, why)
		return made.Want("%s", instead)
	}
	if way, found := h.rears.Find(from.Name, to.Name); found {
		return made.Want("between them, as a box of its own: %s", partNames(way.Parts))
	}
	return made.Want("the same at both ends")
}

// signalWords names a signal of the catalogue in a sentence: a moving-magnet
// signal.
func signalWords(signal string) string {
	switch signal {
	case "ground":
		return "no signal but ground"
	case "one channel":
		return "a signal of one channel"
	}
	return withArticle(strings.ReplaceAll(signal, " ", "-") + " signal")
}

// wrongOhms is the fault of impedances that do not go together, or are not
// known.
func (h *hookup) wrongOhms(f wiring.Finding, l *hookedLine) *fault.Fault {
	whole := l.from.at.To(l.to.at)
	if !f.Known {
		return h.noOhms(f, l)
	}
	have, want := printOhms(f.Have), printOhms(f.Want)
	switch f.Rule {
	case wiring.Bridging:
		return fault.At(whole, "the input has %s, less than %d times the %s of the output", have, wiring.BridgingLeast, want).
			Want("at least %d times", wiring.BridgingLeast).Fix("another socket; or the line verdict: %s, which prints it as such", wiring.Doubtful)
	case wiring.Wanted:
		return fault.At(whole, "the input has %s, and the cartridge wants %s", have, want).Want("the load that the cartridge's papers state")
	}
	if f.Count > 1 {
		return fault.At(whole, "%d loudspeakers side by side make %s, below the %s that the amplifier must at least have", f.Count, have, want).
			Want("no load below the amplifier's lowest")
	}
	return fault.At(whole, "the loudspeaker has %s, below the %s that the amplifier must at least have", have, want).
		Want("no load below the amplifier's lowest")
}

// noOhms names the ohms that a rule turns on and that nobody has stated.
func (h *hookup) noOhms(f wiring.Finding, l *hookedLine) *fault.Fault {
	var lacks, lines []string
	if l.from.rear.Ohms.Value <= 0 && f.Rule != wiring.Load {
		lacks = append(lacks, "the ohms of "+l.from.rear.Name+" of "+l.from.box.says)
		lines = append(lines, "socket: "+l.from.rear.Name+" of "+l.from.box.name+", and its ohms")
	}
	if l.from.rear.Least.Value <= 0 && f.Rule == wiring.Load {
		lacks = append(lacks, "the lowest load of "+l.from.rear.Name+" of "+l.from.box.says)
		lines = append(lines, "socket: "+l.from.rear.Name+" of "+l.from.box.name+", at least 4 ohm")
	}
	if l.to.rear.Ohms.Value <= 0 {
		lacks = append(lacks, "the ohms of "+l.to.rear.Name+" of "+l.to.box.says)
		lines = append(lines, "socket: "+l.to.rear.Name+" of "+l.to.box.name+", 8 ohm")
		if f.Rule != wiring.Load {
			lines[len(lines)-1] = "socket: " + l.to.rear.Name + " of " + l.to.box.name + ", and its ohms"
		}
	}
	if lacks == nil { // of another loudspeaker side by side with this one
		return fault.At(l.from.at.To(l.to.at), "a loudspeaker or a lowest load beside this one is not known").Want("the ohms of every loudspeaker")
	}
	return fault.At(l.from.at.To(l.to.at), "nobody has stated %s, so this is doubtful", strings.Join(lacks, " and ")).
		Want("%s", strings.Join(lines, "; "))
}

// printOhms prints an impedance that was worked out: in kohm from a thousand on.
func printOhms(v float64) string {
	const figures = 3
	u := unit.Must("ohm")
	if v >= 1000 {
		u = unit.Must("kohm")
	}
	number := unit.Format{Unit: u, Figures: figures}.Number(v)
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	return number + " " + u.Symbol()
}
