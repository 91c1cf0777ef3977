package trade

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// The criteria of a search, each with the entry that it rests on.
const (
	byPeaks   = "peaks"
	bySquares = "squares"
)

var searchReference = map[string]string{byPeaks: "search-peaks", bySquares: "search-squares"}

// aligner is the method alignment-search.
type aligner struct {
	sheet   *method.Sheet
	library *method.Library // nil until the entries are read
	says    said
}

var (
	_ method.Method  = (*aligner)(nil)
	_ method.Entried = (*aligner)(nil)
	_ method.Worded  = (*aligner)(nil)
)

// AlignmentSearch returns the method alignment-search: the null points, the
// offset angle and the overhang for which an arm's true error over radius is
// least, in its greatest value (criterion peaks) or in its mean square
// (criterion squares). It takes the criterion, the arm's effective length of
// 120 to 450 mm, and the radii of the innermost (50 to 80 mm) and outermost
// (100 to 160 mm) groove, and starts from the method alignment; every error is
// worked by the method arm-geometry. rules are the texts of these two. An arm
// that is not longer than the outermost radius fails.
func AlignmentSearch(rules ...*fault.Text) method.Method {
	h := sha256.New()
	h.Write([]byte("alignment-search 1"))
	for _, t := range rules {
		h.Write([]byte(t.Source()))
	}
	return &aligner{sheet: &method.Sheet{
		Name: "alignment-search", Asks: "Where do the null points stand by the true angle?", Area: "turntable",
		Takes: alignmentInputs(), Gives: alignmentResults(), Moves: alignmentMoves(), Borrows: []string{"alignment", "arm-geometry"},
		CoversNot: "the least error in degrees without regard to the radius, and how exactly a cartridge can be set by eye",
		Notes:     "Searched over overhang and offset angle together; a start stands at the closed form of alignment.",
		Hash:      hex.EncodeToString(h.Sum(nil)),
	}, says: said{
		"not known": "{fact} is not known",
		byPeaks:     "the setting whose greatest error over radius, worked by arm-geometry, is least",
		bySquares:   "the setting whose mean square of error over radius, worked by arm-geometry, is least",
		"null":      "{result} of arm-geometry with this setting",
		"weight":    "weight of arm-geometry over the grooves, with this setting",
	}}
}

func alignmentInputs() []*method.Input {
	criterion := &method.Input{
		Name: "criterion", Choice: []string{byPeaks, bySquares},
		Print: map[string]string{byPeaks: "equal peaks of error", bySquares: "least mean square of error"},
		Says:  "what is made least: the greatest error over radius, or its mean square",
	}
	peaks := word(byPeaks)
	criterion.Usually = &peaks
	arm := lengthOf("arm", "120 mm", "450 mm", "230 mm")
	arm.Says, arm.Sense = "the arm's effective length, from its pivot to the stylus", "pivot to stylus"
	innermost := lengthOf("innermost", "50 mm", "80 mm", "60.325 mm")
	innermost.Says = "the radius of the innermost groove with sound"
	outermost := lengthOf("outermost", "100 mm", "160 mm", "146.05 mm")
	outermost.Says = "the radius of the outermost groove with sound"
	return []*method.Input{criterion, arm, innermost, outermost}
}

// lengthOf makes an input of a length between two others.
func lengthOf(name, from, to, book string) *method.Input {
	in := &method.Input{Name: name, Unit: unit.Must("mm")}
	bound := func(s string) *method.Bound { return &method.Bound{Value: amountOf(s), Text: s} }
	in.From, in.To = bound(from), bound(to)
	in.Book = []method.Point{pointOf(in, book)}
	return in
}

// amountOf reads a length of our own, in metres.
func amountOf(s string) float64 {
	q, f := unit.Read(fault.NewText("a length", s).All())
	if f != nil {
		panic("trade: a length of alignment-search cannot be read: " + f.Error())
	}
	return q.Value
}

// pointOf reads a value of our own.
func pointOf(in *method.Input, s string) method.Point {
	p, faults := in.Read(fault.NewText(in.Name, s).All())
	if faults.Stopped() {
		panic("trade: a value of alignment-search cannot be read: " + faults.String())
	}
	return p
}

func alignmentResults() []*method.Result {
	give := func(name, says, in string, f unit.Format) *method.Result {
		f.Unit = unit.Must(in)
		return &method.Result{Name: name, Of: name, Says: says, Unit: f.Unit, Format: f}
	}
	tenths, hundredths, three := unit.Format{Places: 1, Round: unit.Either}, unit.Format{Places: 2, Round: unit.Either}, unit.Format{Figures: 3, Round: unit.Up}
	return []*method.Result{
		give("inner_null", "inner null point", "mm", tenths),
		give("outer_null", "outer null point", "mm", tenths),
		give("offset", "angle by which the cartridge is turned in", "deg", hundredths),
		give("overhang", "way of the stylus past the spindle", "mm", hundredths),
		give("peak", "greatest error over radius", "deg/mm", three),
		give("mean", "root of the mean square of error over radius", "deg/mm", three),
	}
}

// alignmentMoves says how the results go with the lengths.
func alignmentMoves() []method.Move {
	var all []method.Move
	for _, line := range strings.Split(`inner_null rises arm, inner_null rises innermost, inner_null rises outermost, outer_null rises innermost, outer_null rises outermost, `+
		`offset falls arm, offset rises innermost, offset rises outermost, overhang falls arm, overhang rises innermost, overhang rises outermost, `+
		`peak falls arm, peak falls innermost, peak rises outermost, mean falls arm, mean falls innermost, mean rises outermost`, ", ") {
		w := strings.Fields(line)
		all = append(all, method.Move{Result: w[0], Way: w[1], With: w[2]})
	}
	return append(all, method.Move{
		Result: "outer_null", Way: "neither", With: "arm",
		Because: "a longer arm brings the null point in where peaks are made least, and out where the mean square is",
	})
}

// Texts implements [method.Worded].
func (a *aligner) Texts(visit func(key string, text *string)) { a.says.texts(visit) }

// Sheet implements [method.Method].
func (a *aligner) Sheet() *method.Sheet { return a.sheet }

// With implements [method.Entried].
func (a *aligner) With(l *method.Library) (method.Method, *fault.List) {
	faults, sheet := &fault.List{}, *a.sheet
	b := &aligner{sheet: &sheet, library: l, says: a.says}
	for _, id := range []string{searchReference[byPeaks], searchReference[bySquares], "arm-triangle"} {
		if _, ok := l.Reference(id); ok {
			sheet.References = append(sheet.References, id)
		}
	}
	if _, ok := l.Caution("stylus-care"); ok {
		sheet.Cautions = []string{"stylus-care"}
	}
	b.addCases(faults)
	return b, faults
}

// alignmentCases are criterion, arm, innermost, outermost, result, value,
// margin and reference.
const alignmentCases = `peaks | 230 mm | 60.325 mm | 146.05 mm | inner_null | 65.97431462 mm | 0.01 mm | search-peaks
peaks | 230 mm | 60.325 mm | 146.05 mm | outer_null | 121.0503086 mm | 0.01 mm | search-peaks
squares | 230 mm | 60.325 mm | 146.05 mm | inner_null | 69.99532838 mm | 0.001 mm | search-squares
squares | 237 mm | 60.325 mm | 146.05 mm | outer_null | 115.95466286 mm | 0.001 mm | search-squares
squares | 305 mm | 60.325 mm | 146.05 mm | overhang | 13.63737449 mm | 0.001 mm | search-squares
`

func (a *aligner) addCases(faults *fault.List) {
	text, at := fault.NewText("the cases of alignment-search", alignmentCases), 0
	for line := range strings.Lines(alignmentCases) {
		place := text.Place(at, at+len(line)-1)
		at += len(line)
		c := strings.Split(place.String(), " | ")
		reference, ok := a.library.Reference(c[7])
		if !ok {
			faults.Add(fault.At(place, "there is no reference %q", c[7]).Want("a name from the reference entries"))
			continue
		}
		v := method.Values{"criterion": word(c[0])}
		for i, name := range []string{"arm", "innermost", "outermost"} {
			v[name] = pointOf(a.sheet.Input(name), c[1+i])
		}
		want := method.Want{Result: c[4], Value: formula.Quantity(amountOf(c[5])), Within: amountOf(c[6]), Place: column(place, c, 5)}
		a.sheet.Cases = append(a.sheet.Cases, &method.Case{
			Values: v, Wants: []method.Want{want}, Reference: reference, Place: place,
		})
	}
}

// Run implements [method.Method].
func (a *aligner) Run(v method.Values, results ...string) *method.Outcome {
	taken, at := takenOf(a.sheet, v)
	o := method.NewOutcome(taken)
	found := a.search(at["criterion"].Value.Word, v, o)
	for _, r := range a.sheet.Gives {
		if len(results) == 0 || slices.Contains(results, r.Name) {
			o.Results.Set(r.Name, found(r.Name))
		}
	}
	if c, ok := a.library.Caution("stylus-care"); ok {
		o.Cautions = append(o.Cautions, c)
	}
	return o
}

// search finds the setting and returns what each result is; what led to it is
// added to the outcome.
func (a *aligner) search(criterion string, v method.Values, o *method.Outcome) func(string) formula.Value {
	every := func(x formula.Value) func(string) formula.Value { return func(string) formula.Value { return x } }
	for _, name := range []string{"arm", "innermost", "outermost"} {
		if p, ok := v[name]; !ok || !p.Known() {
			return every(formula.CannotTell(a.says.say("not known", "fact", a.sheet.Input(name).Fact())))
		}
	}
	failed := func(f *fault.Fault) func(string) formula.Value {
		o.Faults.Add(f)
		return every(formula.FailedAt(f))
	}
	g := grooves{arm: v["arm"].Value.Number, innermost: v["innermost"].Value.Number, outermost: v["outermost"].Value.Number}
	if g.arm <= g.outermost {
		return failed(fault.At(v["arm"].Place, "the arm must be longer than the outermost radius").Want("arm > outermost"))
	}
	start, ok := a.start(&g, v)
	s := start
	if ok && criterion == bySquares {
		s, ok = g.leastSquares(start)
	} else if ok {
		s, ok = g.leastPeak(start)
	}
	if !ok {
		return failed(fault.At(v["arm"].Place, "no setting was found for this arm and these radii").Want("an arm and radii of a record player"))
	}
	nulls := g.run(s, g.innermost, "inner_null", "outer_null")
	if r, ok := a.library.Reference(searchReference[criterion]); ok {
		o.References = append(o.References, r)
	}
	o.References = append(o.References, nulls.References...)
	return func(name string) formula.Value {
		switch name {
		case "overhang":
			return formula.Quantity(s.overhang)
		case "offset":
			return formula.Quantity(s.offset)
		case "peak":
			return formula.Quantity(g.peak(s))
		case "mean":
			return formula.Quantity(g.mean(s))
		}
		return nulls.Results.Of(name)
	}
}

// start is the setting that the closed form gives.
func (a *aligner) start(g *grooves, v method.Values) (setting, bool) {
	geometry, ok := a.library.Method("arm-geometry")
	closed, and := a.library.Method("alignment")
	if !ok || !and {
		return setting{}, false
	}
	g.geometry = geometry
	r := closed.Run(method.Values{"criterion": word(byPeaks), "arm": v["arm"], "innermost": v["innermost"], "outermost": v["outermost"]}, "overhang", "offset").Results
	return setting{r.Of("overhang").Number, r.Of("offset").Number}, r.Of("overhang").State == formula.Known && r.Of("offset").State == formula.Known
}

// Work implements [method.Method]: what was searched for, and the result.
func (a *aligner) Work(v method.Values, results ...string) [][]method.Worked {
	all, o := make([][]method.Worked, len(results)), a.Run(v)
	criterion := byPeaks
	if p, ok := v["criterion"]; ok && p.Known() {
		criterion = p.Value.Word
	}
	searched := a.says.say(criterion)
	for i, result := range results {
		if o.Results.Of(result).State == formula.Failed || o.Results.Of(result).State == formula.Unknown {
			continue
		}
		for _, name := range []string{"overhang", "offset"} {
			if name == result || result != "overhang" && result != "offset" {
				all[i] = append(all[i], a.step(name, searched, o))
			}
		}
		switch result {
		case "inner_null", "outer_null":
			all[i] = append(all[i], a.step(result, a.says.say("null", "result", result), o))
		case "peak", "mean":
			all[i] = append(all[i], a.step(result, a.says.say("weight"), o))
		}
	}
	return all
}

func (a *aligner) step(name, how string, o *method.Outcome) method.Worked {
	x := o.Results.Of(name)
	return method.Worked{
		Name: name, Method: a.sheet.Name, Borrowed: how, Value: x, Text: a.sheet.Result(name).Text(x), References: o.References,
		Given: func(string) (string, bool) { return "", false }, Symbol: func(string) string { return "" },
	}
}
