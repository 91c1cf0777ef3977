package render_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/render"
	"bindpost/templates"
)

// The guides of these tests are made by hand, as the guide stage would make
// them of the text in testdata: a fence named after a table stands for its
// block, and figures stand under their names.

func edition() guide.Edition {
	return guide.Edition{
		Title: "Wire and Listening", Publisher: "Two Rooms Stereo Club", Language: "en",
		Date: "12 October 2025", Measures: "metric",
		Topics: []string{"how to begin", "wire", "speakers"},
	}
}

// made reads a guide's text and puts hand-made tables and figures into it.
func made(t *testing.T, file string, docket guide.Docket, answer string, g guide.Guide) *guide.Guide {
	t.Helper()
	body, err := os.ReadFile(filepath.Join("testdata", filepath.Base(file)))
	if err != nil {
		t.Fatal(err)
	}
	// The answer is read with the text, so that both point into one source.
	g.Source = []byte(answer + "\n\n" + string(body))
	g.Text, g.File, g.Docket = fault.NewText(file, string(g.Source)), file, docket
	md := goldmark.New(goldmark.WithExtensions(extension.Table, extension.Footnote, extension.DefinitionList))
	g.Tree = md.Parser().Parse(text.NewReader(g.Source))
	putFigures(t, &g)
	putTables(t, &g)
	g.Docket.Answer = g.Tree.FirstChild()
	g.Tree.RemoveChild(g.Tree, g.Docket.Answer)
	return &g
}

// putFigures replaces <figure:name> by the figure of that name.
func putFigures(t *testing.T, g *guide.Guide) {
	t.Helper()
	var links []*ast.AutoLink
	_ = ast.Walk(g.Tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if l, ok := n.(*ast.AutoLink); ok && entering {
			links = append(links, l)
		}
		return ast.WalkContinue, nil
	})
	for _, l := range links {
		name, ok := strings.CutPrefix(string(l.URL(g.Source)), "figure:")
		if !ok {
			continue
		}
		f, known := g.Figures[name]
		if !known {
			t.Fatalf("no figure %q was made", name)
		}
		l.Parent().ReplaceChild(l.Parent(), l, &guide.FigureNode{Figure: f})
	}
}

// putTables replaces each fence by the table that its info word names.
func putTables(t *testing.T, g *guide.Guide) {
	t.Helper()
	for n := g.Tree.FirstChild(); n != nil; {
		next := n.NextSibling()
		if fence, ok := n.(*ast.FencedCodeBlock); ok {
			name := string(fence.Language(g.Source))
			for _, made := range g.Tables {
				if made.Name == name {
					g.Tree.ReplaceChild(g.Tree, n, &guide.TableNode{Table: made})
				}
			}
		}
		n = next
	}
}

// lossOf works the loss of a run of copper wire from the definition of
// the gauge (ASTM B258) and the resistivity of annealed copper at 20 °C
// (IEC 60028), so that the pages under test look as they will.
func lossOf(gauge, run, load float64) (ohmPerKm, wire, loss float64) {
	diameter := 0.127e-3 * math.Pow(92, (36-gauge)/39)
	each := 1.7241e-8 / (math.Pi / 4 * diameter * diameter)
	wire = 2 * run * each
	return each * 1000, wire, 20 * math.Log10((load+wire)/load)
}

func lossTable() *guide.Table {
	t := &guide.Table{
		Name: "kitchen-run", Number: "K3-T1", Method: "speaker-wire",
		Limits: []guide.Limit{{Text: "loss at most 0.5 dB", Beyond: "too thin"}},
		Sources: []*guide.Source{
			{ID: "astm-b258", Title: "Standard sizes of round wire by gauge", Clause: "clause 4", Date: "2018", Mark: "read", Says: "the diameter steps by the 39th root of 92"},
			{ID: "loop", Title: "A loop of two wires and a load, solved as a circuit", Date: "2025", Mark: "computed"},
			{ID: "half-db", Title: "Half a decibel as the most a speaker wire may lose", Mark: "practice"},
			{ID: "strand", Title: "Stranded wire of a gauge has up to 4 % more resistance", Mark: "memory"},
		},
		Cautions: []string{"bare-plugs", "amp-off"},
		Inside: &guide.Inside{
			Taken: []guide.Taken{
				{Heading: guide.Heading{Name: "load", Label: "load", Unit: unit.Must("ohm"), Sense: "rated"}, Text: "8 ohm"},
				{Heading: guide.Heading{Name: "metal", Label: "metal"}, Text: "copper", Usual: true},
				{Heading: guide.Heading{Name: "strands", Label: "strands"}, Text: "solid", Guess: true},
				{Heading: guide.Heading{Name: "temperature", Label: "temperature", Unit: unit.Must("°C")}, Text: "20 °C", Usual: true},
			},
			Rows:      &guide.Axis{Heading: guide.Heading{Name: "gauge", Label: "gauge", Unit: unit.Must("AWG")}},
			Columns:   &guide.Axis{Heading: guide.Heading{Name: "run", Label: "run", Unit: unit.Must("m"), Sense: "one way"}},
			Results:   []guide.Heading{{Name: "loss", Label: "loss", Unit: unit.Must("dB"), Round: "up"}},
			CoversNot: "a speaker whose impedance falls below its rated value",
		},
	}
	for _, gauge := range []float64{12, 14, 16, 18} {
		t.Rows.Points = append(t.Rows.Points, fmt.Sprint(gauge))
		var row []guide.Cell
		for _, run := range []float64{3, 6, 9, 12, 15} {
			_, _, loss := lossOf(gauge, run, 8)
			c := guide.Cell{
				Address: fmt.Sprintf("kitchen-run.loss.%v-awg.%v-m", gauge, run),
				Number:  fmt.Sprintf("%.2f", math.Ceil(loss*100)/100),
			}
			if loss > 0.5 {
				c.Passed, c.Beyond = true, "too thin"
			}
			row = append(row, c)
		}
		t.Cells = append(t.Cells, row)
	}
	for _, run := range []string{"3", "6", "9", "12", "15"} {
		t.Columns.Points = append(t.Columns.Points, run)
	}
	t.Work = []guide.Work{{Point: "16 AWG, 9 m", Steps: workSteps()}}
	return t
}

func workSteps() []guide.WorkStep {
	math := func(inner string) string { return "<math>" + inner + "</math>" }
	return []guide.WorkStep{
		{
			Name:     "wire",
			Rule:     math(`<mn>2</mn><mo>×</mo><mi>run</mi><mo>×</mo><mi>each</mi>`),
			RuleText: "2*run*each",
			With:     math(`<mn>2</mn><mo>×</mo><mn>9</mn><mspace width="0.2em"/><mi>m</mi><mo>×</mo><mn>13.17</mn><mspace width="0.2em"/><mtext>ohm/km</mtext>`),
			WithText: "2*9 m*13.17 ohm/km",
			Result:   "0.238 ohm", Sources: []int{0},
		},
		{
			Name: "loss",
			Rule: math(`<mn>20</mn><mspace width="0.2em"/><mtext>dB</mtext><mo>×</mo><msub><mi>log</mi><mn>10</mn></msub><mo>&#x2061;</mo>` +
				`<mrow><mo>(</mo><mfrac><mrow><mi>load</mi><mo>+</mo><mi>wire</mi></mrow><mi>load</mi></mfrac><mo>)</mo></mrow>`),
			RuleText: "20 dB*log10((load + wire)/load)",
			With: math(`<mn>20</mn><mspace width="0.2em"/><mtext>dB</mtext><mo>×</mo><msub><mi>log</mi><mn>10</mn></msub><mo>&#x2061;</mo>` +
				`<mrow><mo>(</mo><mfrac><mrow><mn>8</mn><mspace width="0.2em"/><mtext>ohm</mtext><mo>+</mo><mn>0.238</mn><mspace width="0.2em"/><mtext>ohm</mtext></mrow>` +
				`<mrow><mn>8</mn><mspace width="0.2em"/><mtext>ohm</mtext></mrow></mfrac><mo>)</mo></mrow>`),
			WithText: "20 dB*log10((8 ohm + 0.238 ohm)/8 ohm)",
			Result:   "0.26 dB", Sources: []int{1, 2},
		},
	}
}

// dampingTable has several results in its columns, a cell without a number
// and numbers of different length.
func dampingTable() *guide.Table {
	none := formula.Value{State: formula.Unknown}
	why := "the amplifier's damping factor is not known"
	return &guide.Table{
		Name: "grip", Number: "K3-T2", Method: "speaker-wire",
		Sources: []*guide.Source{{Title: "A loop of two wires and a load, solved as a circuit", Date: "2025", Mark: "computed"}},
		Inside: &guide.Inside{
			Taken: []guide.Taken{{Heading: guide.Heading{Name: "run", Label: "run", Unit: unit.Must("m"), Sense: "one way"}, Text: "9 m"}},
			Rows:  &guide.Axis{Heading: guide.Heading{Name: "gauge", Label: "gauge", Unit: unit.Must("AWG")}, Points: []string{"12", "16"}},
			Results: []guide.Heading{
				{Name: "wire", Label: "wire", Unit: unit.Must("ohm"), Sense: "out and back", Round: "up"},
				{Name: "change", Label: "change", Unit: unit.Must("dB")},
				{Name: "damping", Label: "damping", Round: "down"},
			},
			Cells: [][]guide.Cell{
				{{Address: "grip.wire.12-awg", Number: "0.0938"}, {Address: "grip.change.12-awg", Number: "−0.11"}, {Address: "grip.damping.12-awg", Value: none, Why: why}},
				{{Address: "grip.wire.16-awg", Number: "0.238"}, {Address: "grip.change.16-awg", Number: "−0.26"}, {Address: "grip.damping.16-awg", Value: none, Why: why}},
			},
			Verdicts:  []guide.Verdict{{Name: "grip", Grade: "cannot tell", Words: "the amplifier's damping factor is missing"}},
			CoversNot: "the resistance inside the speaker",
		},
	}
}

// oneTable has one row and nothing along it.
func oneTable() *guide.Table {
	return &guide.Table{
		Name: "hall-run", Number: "K3-T3", Method: "speaker-wire",
		Inside: &guide.Inside{
			Results: []guide.Heading{
				{Name: "loss", Label: "loss", Unit: unit.Must("dB")},
				{Name: "share", Label: "share", Unit: unit.Must("%"), Sense: "burned in the wire"},
			},
			Cells: [][]guide.Cell{{{Address: "hall-run.loss", Number: "0.42"}, {Address: "hall-run.share", Number: "4.7"}}},
		},
	}
}

func cautions() []*guide.Caution {
	return []*guide.Caution{
		{CautionText: &method.CautionText{
			ID: "bare-plugs", Signal: "WARNING",
			Happens: "a person can be killed by the mains",
			How:     "plugs of 4 mm on the far end of a speaker lead go into many mains sockets",
			Instead: "fix the lead to the speaker first, and leave no bare plug lying where a child can reach it",
			Ask:     "a licensed electrician, where a socket was touched by a lead",
		}},
		{CautionText: &method.CautionText{
			ID: "amp-off", Signal: "CAUTION",
			Happens: "the amplifier can be destroyed",
			How:     "one loose strand between the two posts is a short circuit, and a moment is enough",
			Instead: "turn the volume down, switch off and pull the plug before you touch a wire",
			Ask:     "the maker's manual, or a technician if the protect lamp stays lit",
		}},
	}
}

func wireGuide(t *testing.T) *guide.Guide {
	return made(t, "speaker-wire.md",
		guide.Docket{Code: "K3", Question: "How thick must speaker wire be?", Topics: []string{"wire", "speakers"}, Order: 2},
		"For most rooms <figure:plain-gauge> copper, up to <figure:plain-run> one way into <figure:plain-load>. It loses <figure:at-nine> there, which nobody hears.",
		guide.Guide{
			Tables:   []*guide.Table{lossTable(), dampingTable(), oneTable()},
			Cautions: cautions(),
			Figures: map[string]*guide.Figure{
				"plain-gauge": {Address: "kitchen-run.plain-gauge", Number: "16", Unit: unit.Must("AWG")},
				"plain-run":   {Address: "kitchen-run.plain-run", Number: "9", Unit: unit.Must("m")},
				"plain-load":  {Address: "kitchen-run.plain-load", Number: "8", Unit: unit.Must("ohm")},
				"at-nine":     {Address: "kitchen-run.at-nine", Number: "0.26", Unit: unit.Must("dB")},
				"change":      {Address: "grip.change", Number: "−0.26", Unit: unit.Must("dB")},
				"damping": {Address: "grip.damping", Why: "the amplifier's damping factor is not known",
					State: formula.Unknown},
			},
		})
}

func readingGuide(t *testing.T) *guide.Guide {
	return made(t, "how-to-read.md",
		guide.Docket{Code: "A1", Question: "How do I read this book?", Topics: []string{"how to begin"}, Order: 1},
		"Find your question in the list, read the short answer, and mind the cautions before you touch anything.",
		guide.Guide{})
}

func loadGuide(t *testing.T) *guide.Guide {
	return made(t, "two-pairs.md",
		guide.Docket{Code: "L2", Question: "May I run two pairs of speakers at once?", Topics: []string{"speakers", "wire"}, Order: 1},
		"Only if what the amplifier then sees, <figure:both> for two pairs of 8 ohm, is not below what its maker allows.",
		guide.Guide{Figures: map[string]*guide.Figure{"both": {Address: "pairs.both", Number: "4", Unit: unit.Must("ohm")}}})
}

func book(t *testing.T) *bind.Book {
	t.Helper()
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{wireGuide(t), loadGuide(t), readingGuide(t)}, Edition: edition()})
	if faults.Len() > 0 {
		t.Fatalf("binding the guides of the test:\n%v", faults)
	}
	return b
}

// drafts are the pages of the whole book, but for the rules of methods.
func drafts(t *testing.T, r *render.Renderer, b *bind.Book, sets render.Sets) []render.Draft {
	t.Helper()
	contents, err := r.Contents(b, sets)
	if err != nil {
		t.Fatal(err)
	}
	reading, err := r.Reading(b, render.Example(b))
	if err != nil {
		t.Fatal(err)
	}
	back, err := r.Back(b, sets)
	if err != nil {
		t.Fatal(err)
	}
	return append([]render.Draft{contents, reading}, back...)
}

// pages renders a book as a folder of files by path.
func pages(t *testing.T, b *bind.Book) map[string]string {
	t.Helper()
	r, err := render.New(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	sets, err := r.SetAll(b)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, d := range drafts(t, r, b, sets) {
		p, err := d.Set()
		if err != nil {
			t.Fatal(err)
		}
		files[p.Path] = string(p.HTML())
	}
	for _, l := range b.Leaves {
		p, err := r.Guide(l)
		if err != nil {
			t.Fatal(err)
		}
		files[p.Path] = string(p.HTML())
	}
	style, err := templates.Files.ReadFile(render.StyleSheet)
	if err != nil {
		t.Fatal(err)
	}
	files[render.StyleSheet] = string(style)
	return files
}

// folder writes a book's pages into a folder of the test.
func folder(t *testing.T, b *bind.Book) string {
	t.Helper()
	dir := t.TempDir()
	for path, text := range pages(t, b) {
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(path)), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}
