package guide

import "bindpost/calc/fault"

// Hookup is what a hookup block prints: boxes joined by leads, drawn and told in
// numbered steps; or, of a panel, the rear of one box.
type Hookup struct {
	Title  string
	Boxes  []HookupBox // in the order in which they are drawn, the way of the signal
	Steps  []HookupStep
	Lines  []HookupLine // as the author listed them, with what was compared
	Grade  string       // the worst of all
	Panel  bool         // the rear of one box, with nothing joined
	Powers bool         // a lead goes to loudspeakers
}

// HookupBox is a box, with those of its sockets that a lead goes to; of a panel
// with all of them.
type HookupBox struct {
	Name    string // as the author calls it in his lines
	Says    string // as readers are told: "record player"
	Called  bool   // the author's own words, which stand as they are
	Two     bool   // one box on the left, and one on the right
	Sockets []HookupSocket
}

// HookupSocket is one socket for one side; of a panel, a pair counts as one.
type HookupSocket struct {
	Mark   string // what is printed beside it: "PHONO"
	Side   string // left, right; "" for both or neither
	Out    bool   // a signal comes out of it
	Lead   bool   // it is the plug on a lead of the box's own
	Pair   bool   // of a panel, it is two of them
	Family string // its shape, by the family of its connector: "phono"; "" where it is not known
	Signal string // what it carries: "line"; "" where that is not known
	Looks  string // what it looks like, in words
	Ohms   string // as it is printed, "" where it is not known
	Usual  bool   // nobody typed the ohms

	name string // as the author's lines call it
}

// HookupStep is one lead for one side, from one end to the other.
type HookupStep struct {
	From, To HookupEnd
	Line     int      // its place in Lines
	Side     string   // left, right, or ""
	Parts    []string // what goes between, in order; none where a box's own lead goes straight in
	Length   string   // as typed, "" where it is not said
	Again    bool     // the end at its output went in at the step before
	Ends     bool     // the end at its input did
	Speaker  bool     // it carries a loudspeaker's two wires
	Ground   bool     // it is a ground wire
}

// HookupEnd is where a step begins or ends: places in Boxes and in the sockets
// of one, and what the end of the lead is called there.
type HookupEnd struct {
	Box, Socket int
	Plug        string // "phono plug"; "" where it is not known
}

// HookupLine is one joint as its author listed it, held to the rules.
type HookupLine struct {
	Grade    string
	Place    fault.Place
	Steps    []int // places in Steps
	Compared []HookupCompared
}

// HookupCompared is one rule to which a joint was held.
type HookupCompared struct {
	Rule  string // level, stages, ends, bridging, wanted, load, howl, sides, pins …
	Grade string
	Known bool   // what it turns on is known
	Count int    // of stages, or of loudspeakers side by side
	Have  string // what stands there, as it is printed
	Want  string // what it is held against
	Usual bool   // one of the two was typed by nobody, and is what such boxes usually have
}
