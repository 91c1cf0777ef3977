package trade

import (
	"context"
	_ "embed"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/site/browser"
)

// scriptDraws is how many points of each formula method the reader's browser
// works, and textDraws of how many it prints the results.
func scriptDraws() int {
	if raced {
		return 300
	}
	return 10_000
}

const textDraws = 300

// driver answers for many points at one stroke.
//
//go:embed testdata/points.js
var pointsDriver string

// TestScripts works every formula method in Chromium, at ten thousand points
// drawn within its hard bounds, a third of them with facts that are not known,
// and sees that it comes to what it comes to here: numbers to one part in 10¹²,
// or of the largest term where the last step is a difference; words, gaps with
// their reasons, verdicts and cautions to the letter; and printed texts too.
func TestScripts(t *testing.T) {
	tab := scriptPage(t)
	var worked, differences, rounded atomic.Int64
	t.Run("methods", func(t *testing.T) {
		eachData(t, func(t *testing.T, d *method.Data) { // one is drawn and held while the page works another
			b := newBatch(t, d, rand.New(rand.NewPCG(61, uint64(len(d.Sheet().Name)))))
			b.answers(browser.Ask[batchAnswer](t, tab, b.question()))
			worked.Add(int64(len(b.points)))
			differences.Add(int64(b.differences))
			rounded.Add(int64(b.rounded))
		})
	})
	t.Logf("%d points; %d numbers were differences of near values, and %d rest on one", worked.Load(), differences.Load(), rounded.Load())
	if rounded.Load()*1000 > worked.Load() {
		t.Errorf("rounding parts %d numbers in %d points", rounded.Load(), worked.Load())
	}
}

// scriptPage opens a page on disk that calls the scripts of all methods, under
// the policy that pages of a manual have.
func scriptPage(t *testing.T) context.Context {
	t.Helper()
	folder, page := t.TempDir(), `<!DOCTYPE html><meta charset="utf-8">`+
		`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'">`
	write := func(name, script string) {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(script), 0o600); err != nil {
			t.Fatal(err)
		}
		page += `<script src="` + name + `"></script>`
	}
	write("figures.js", method.ScriptRuntime())
	var done []string
	for _, name := range namesHeld() {
		for _, one := range Library().Scripted(name) {
			if !slices.Contains(done, one) {
				done = append(done, one)
				write(one+".js", Library().Script(one))
			}
		}
	}
	write("points.js", pointsDriver)
	write("page.html", "") // and calls itself, which is nothing
	if err := os.WriteFile(filepath.Join(folder, "page.html"), []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	tab := browser.Open(t)
	browser.Visit(t, tab, browser.Address(filepath.Join(folder, "page.html")))
	return tab
}

// What stands in a stream of numbers before a value says what it is. A word and
// a reason stand in it by their place in a list of texts.
const (
	tagAbsent = iota
	tagNumber
	tagWord
	tagUnknown
	tagList
	tagNone
	tagFailed
)

// batch is the points of one method, as they go to the browser.
type batch struct {
	t                    *testing.T
	data                 *method.Data
	points               []method.Values
	stream               []float64
	texts                []string
	places               map[string]int
	differences, rounded int // numbers that wanted the one or the other allowance
}

// batchAnswer is what the browser made of them.
type batchAnswer struct {
	Stream  string
	Texts   []string
	Printed [][]string
}

func newBatch(t *testing.T, d *method.Data, r *rand.Rand) *batch {
	b := &batch{t: t, data: d, places: map[string]int{}}
	draw := drawer{r, d.Sheet()}
	for n := 0; n < 40*scriptDraws() && len(b.points) < scriptDraws(); n++ {
		v, ok := draw.point()
		if !ok {
			continue
		}
		if n%3 == 0 {
			v = forgetting(r, d.Sheet(), v)
		}
		b.points = append(b.points, v)
		for _, in := range d.Sheet().Takes {
			p, given := v[in.Name]
			if !given {
				b.stream = append(b.stream, tagAbsent)
				continue
			}
			b.put(p.Value)
		}
	}
	if len(b.points) < scriptDraws() {
		t.Fatalf("only %d points could be drawn", len(b.points))
	}
	return b
}

// forgetting takes facts away: some are not known, some are left out.
func forgetting(r *rand.Rand, s *method.Sheet, v method.Values) method.Values {
	for _, in := range s.Takes {
		if _, given := v[in.Name]; !given || r.IntN(3) > 0 {
			continue
		}
		v = v.With(in.Name, method.Point{
			Value: formula.CannotTell(in.Fact() + " is not known"), Text: method.DontKnow,
		})
		if (in.Optional || in.Usually != nil) && r.IntN(2) == 0 {
			delete(v, in.Name)
		}
	}
	return v
}

func (b *batch) put(v formula.Value) {
	switch {
	case v.State == formula.Unknown:
		b.stream = append(b.stream, tagUnknown, b.place(v.Why))
	case v.List != nil:
		b.stream = append(b.stream, tagList, float64(len(v.List)))
		for _, m := range v.List {
			b.put(m)
		}
	case v.Word != "":
		b.stream = append(b.stream, tagWord, b.place(v.Word))
	default:
		b.stream = append(b.stream, tagNumber, v.Number)
	}
}

func (b *batch) place(text string) float64 {
	n, ok := b.places[text]
	if !ok {
		n = len(b.texts)
		b.texts, b.places[text] = append(b.texts, text), n
	}
	return float64(n)
}

// question is what the page is asked.
func (b *batch) question() string {
	bytes := make([]byte, 0, 8*len(b.stream))
	for _, x := range b.stream {
		bytes = binary.LittleEndian.AppendUint64(bytes, math.Float64bits(x))
	}
	texts, err := json.Marshal(b.texts)
	if err != nil {
		b.t.Fatal(err)
	}
	return fmt.Sprintf("points(%q, %d, %q, %s, %d)", b.data.Sheet().Name, len(b.points),
		base64.StdEncoding.EncodeToString(bytes), texts, textDraws)
}

// answers holds the browser's answers against those of the program.
func (b *batch) answers(a batchAnswer) {
	bytes, err := base64.StdEncoding.DecodeString(a.Stream)
	if err != nil {
		b.t.Fatal(err)
	}
	got := &stream{bytes: bytes, texts: a.Texts}
	for n, v := range b.points {
		o := b.data.Run(v)
		for i, res := range b.data.Sheet().Gives {
			want, x := o.Results.Of(res.Name), got.value()
			if !b.agrees(x, want) && !b.inDifference(x, want, v, res) && !b.inRounding(x, v, res) {
				b.t.Fatalf("%s is %s at %v, and in the browser %s", res.Name, told(want), typedTexts(v), told(x))
			}
			if n < len(a.Printed) && a.Printed[n][i] != res.Text(want) {
				b.t.Fatalf("%s is printed %q at %v, and in the browser %q", res.Name, res.Text(want), typedTexts(v), a.Printed[n][i])
			}
		}
		for _, want := range o.Verdicts {
			if grade, words := got.text(), got.text(); grade != want.Grade || words != want.Words {
				b.t.Fatalf("%s is %s, %q at %v, and in the browser %s, %q", want.Name, want.Grade, want.Words, typedTexts(v), grade, words)
			}
		}
		cautions := make([]string, int(got.number()))
		for i := range cautions {
			cautions[i] = got.text()
		}
		if want := ids(o.Cautions); !slices.Equal(cautions, want) {
			b.t.Fatalf("%v bring the cautions %v, and in the browser %v", typedTexts(v), want, cautions)
		}
	}
	if len(got.bytes) > 0 {
		b.t.Errorf("the browser answered %d numbers too many", len(got.bytes)/8)
	}
}

func told(v formula.Value) string { return fmt.Sprintf("%+v", v) }

func ids(cautions []*method.Caution) []string {
	all := make([]string, len(cautions))
	for i, c := range cautions {
		all[i] = c.ID
	}
	return all
}

// stream is what is left to be read of an answer.
type stream struct {
	bytes []byte
	texts []string
}

func (s *stream) number() float64 {
	x := math.Float64frombits(binary.LittleEndian.Uint64(s.bytes))
	s.bytes = s.bytes[8:]
	return x
}

func (s *stream) text() string { return s.texts[int(s.number())] }

func (s *stream) value() formula.Value {
	switch int(s.number()) {
	case tagNumber:
		return formula.Value{Number: s.number()}
	case tagWord:
		return formula.WordOf(s.text())
	case tagUnknown:
		return formula.CannotTell(s.text())
	case tagNone:
		return formula.NoValue(s.text())
	case tagList:
		list := make([]formula.Value, int(s.number()))
		for i := range list {
			list[i] = s.value()
		}
		return formula.Value{List: list}
	}
	return formula.Value{State: formula.Failed, Why: s.text()}
}

// scriptShare is how near the browser's number must be, as a share.
const scriptShare = 1e-12

func (b *batch) agrees(got, want formula.Value) bool {
	if got.State != want.State || len(got.List) != len(want.List) {
		return false
	}
	switch {
	case want.State == formula.Failed: // of what a borrowed method does not cover, a page says how far it does
		return got.Why != "" && strings.HasPrefix(want.Fault.Message, got.Why)
	case want.State != formula.Known:
		return got.Why == want.Why
	case want.List != nil:
		return slices.EqualFunc(got.List, want.List, b.agrees)
	case want.Word != "":
		return got.Word == want.Word
	}
	return math.Abs(got.Number-want.Number) <= scriptShare*math.Max(math.Abs(got.Number), math.Abs(want.Number))
}

// inDifference reports whether a number that does not agree comes of a last
// step that is a sum or a difference, and misses by no more than the share of
// its largest term.
func (b *batch) inDifference(got, want formula.Value, v method.Values, res *method.Result) bool {
	if got.State != formula.Known || want.State != formula.Known || want.Word != "" || len(got.List) != len(want.List) {
		return false
	}
	steps := b.data.Work(v, res.Name)[0]
	if len(steps) == 0 || steps[len(steps)-1].Rule == nil {
		return false
	}
	last := steps[len(steps)-1]
	for i := range max(1, len(want.List)) {
		x, y, member := got, want, -1
		if want.List != nil {
			x, y, member = got.List[i], want.List[i], i
		}
		largest := 0.0
		for _, term := range termsOf(last.Rule) {
			if lookedUp(term) {
				return false // which the oracle does not know
			}
			largest = math.Max(largest, math.Abs((&oracle{t: b.t}).number(last, term, member)))
		}
		if x.State != y.State || math.Abs(x.Number-y.Number) > scriptShare*math.Max(largest, math.Abs(y.Number)) {
			return false
		}
	}
	b.differences++
	return true
}

// termsOf returns the terms of a sum or difference, none of anything else.
func termsOf(n formula.Node) []formula.Node {
	sum, ok := n.(*formula.Binary)
	if !ok || sum.Op != formula.Add && sum.Op != formula.Sub {
		return nil
	}
	var all []formula.Node
	for _, side := range []formula.Node{sum.Left, sum.Right} {
		if inner := termsOf(side); inner != nil {
			all = append(all, inner...)
		} else {
			all = append(all, side)
		}
	}
	return all
}

// inRounding reports whether a number that does not agree is one that rounding
// alone can bring about, where near values cancel before the last step: it lies
// within the bounds of all that the method may come to here, which are rounded
// outwards at every step.
func (b *batch) inRounding(got formula.Value, v method.Values, res *method.Result) bool {
	if got.State != formula.Known || got.Word != "" || got.List != nil {
		return false
	}
	bounds := b.data.Over(method.Box{Values: v}, res.Name).Range
	if !bounds.Holds(got) || bounds.Hi-bounds.Lo > mostRounding {
		return false
	}
	b.rounded++
	return true
}

// mostRounding is how wide such bounds may be, in base units; a printed figure
// is never as fine.
const mostRounding = 1e-6
