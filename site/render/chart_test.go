package render_test

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// ruling is one side of a chart, its own points rising.
func ruling(label, symbol, sense string, own ...float64) guide.Ruling {
	return guide.Ruling{Heading: heading(label, symbol, sense), Own: own}
}

// ownPoint is a point of the table as its cell prints it.
func ownPoint(x, y float64, at, text string) guide.ChartPoint {
	return guide.ChartPoint{X: x, Y: y, Low: y, High: y, Own: true, At: at, Text: text}
}

func between(x, y float64) guide.ChartPoint {
	return guide.ChartPoint{X: x, Y: y, Low: y, High: y}
}

// charted sets a chart and returns its figure.
func charted(t *testing.T, c guide.Chart) string {
	t.Helper()
	page := setTable(t, &guide.Table{
		Number: "A1-T1",
		Inside: &guide.Inside{
			Results: []guide.Heading{c.Up.Heading},
			Cells:   [][]guide.Cell{numbers("1")},
			Charts:  []guide.Chart{c},
		},
	})
	from, to := strings.Index(page, `<figure class="chart">`), strings.Index(page, "</figure>")
	if from < strings.Index(page, "</table>") || to < from {
		t.Fatalf("no chart stands below the table:\n%s", page)
	}
	return page[from:to] + "</figure>\n"
}

// plainChart has two lines, one of them cut and one of them computed between
// the table's points, and three limits.
func plainChart() guide.Chart {
	return guide.Chart{
		Up: ruling("loss", "dB", ""), Along: ruling("run", "m", "one way", 3, 6, 9, 12), Each: heading("gauge", "AWG", ""), Between: true,
		Lines: []guide.ChartLine{
			{Name: "12 AWG", Points: []guide.ChartPoint{ownPoint(3, 0.04, "3 m", "0.04 dB"), between(4, 0.05), ownPoint(6, 0.07, "6 m", "0.07 dB"), ownPoint(9, 0.11, "9 m", "0.11 dB"), ownPoint(12, 0.14, "12 m", "0.14 dB")}},
			{Name: "14 AWG", Points: []guide.ChartPoint{ownPoint(3, 0.06, "3 m", "0.06 dB"), {X: 9, Y: 0.17, Low: 0.17, High: 0.17, Own: true, Apart: true, At: "9 m", Text: "0.17 dB"}, ownPoint(12, 0.145, "12 m", "0.15 dB")}},
		},
		Levels:  []guide.ChartLevel{{At: 0.1, Text: "loss at most 0.1 dB", Beyond: "too thin", Above: true}, {At: 9, Text: "loss at most 9 dB", Above: true}},
		Undrawn: []string{"loss at most 0.1 dB*run/1 m"},
		Left:    []string{"14 AWG and 6 m"},
	}
}

// limitedChart is ruled by tens on both sides and has limits of values.
func limitedChart() guide.Chart {
	c := guide.Chart{
		Up: ruling("watts", "W", "continuous"), Along: ruling("tone", "Hz", "", 20, 1000, 20000), FromTo: true,
		Lines: []guide.ChartLine{{Points: []guide.ChartPoint{
			{X: 20, Y: 2, Low: 1.5, High: 2.6, Own: true, At: "20 Hz", Text: "1.5 to 2.6 W"},
			{X: 1000, Y: 60, Low: 50, High: 70, Own: true, At: "1000 Hz", Text: "50 to 70 W"},
			{X: 20000, Y: 30, Low: 30, High: 30, Own: true, At: "20000 Hz", Text: "30 W"},
		}}},
	}
	c.Up.Tens, c.Along.Tens = true, true
	return c
}

// TestGoldenCharts compares charts with those that were looked at and found
// right.
func TestGoldenCharts(t *testing.T) {
	for name, c := range map[string]guide.Chart{"chart-plain": plainChart(), "chart-limited": limitedChart()} {
		t.Run(name, func(t *testing.T) {
			file, got := filepath.Join("testdata", "golden", name+".html"), charted(t, c)
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("the chart is not as it was; if it is right, run the test with -update\n%s", firstDifference(got, string(want)))
			}
		})
	}
}

// TestChartTells reads what a chart says to those who listen, and in notes.
func TestChartTells(t *testing.T) {
	text := func(page, from, to string) string {
		_, rest, _ := strings.Cut(page, from)
		rest, _, _ = strings.Cut(rest, to)
		return strings.Join(strings.Fields(regexp.MustCompile(`<span class="spoken">[^<]*</span>|<[^>]*>`).ReplaceAllString(rest, "")), " ")
	}
	plain, limited := charted(t, plainChart()), charted(t, limitedChart())
	falling := plainChart()
	falling.Lines = []guide.ChartLine{
		{Name: "12 AWG", Points: []guide.ChartPoint{ownPoint(3, 0.14, "3 m", "0.14 dB"), ownPoint(9, 0.11, "9 m", "0.11 dB"), ownPoint(12, 0.04, "12 m", "0.04 dB")}},
		{Name: "14 AWG", Points: []guide.ChartPoint{ownPoint(3, 0.14, "3 m", "0.14 dB"), ownPoint(9, 0.01, "9 m", "0.01 dB"), ownPoint(12, 0.04, "12 m", "0.04 dB")}},
	}
	for _, c := range []struct{ got, want string }{
		{text(plain, "<title", "</title>"), `id="A1-T1-D1-title">Table A1-T1 drawn: loss over run (one way)`},
		{text(plain, `<desc id="A1-T1-D1-desc">`, "</desc>"), "Loss in decibels over run (one way) in metres, in 2 lines, one for each gauge. " +
			"12 gauge: from 0.04 decibels at 3 metres to 0.14 decibels at 12 metres. " +
			"14 gauge: from 0.06 decibels at 3 metres to 0.15 decibels at 12 metres, highest with 0.17 decibels at 9 metres. " +
			"Limit: loss at most 0.1 decibels. A figure beyond it is marked “too thin”. Table A1-T1 above has every figure."},
		{text(charted(t, falling), "each gauge.", " Limit:"), "12 gauge: from 0.14 decibels at 3 metres to 0.04 decibels at 12 metres. " +
			"14 gauge: from 0.14 decibels at 3 metres to 0.04 decibels at 12 metres, lowest with 0.01 decibels at 9 metres."},
		{text(plain, "</svg>", "</figure>"), "Each dot is a figure of the table before it is rounded; the line between dots was computed too. Without a dot, for want of a figure: 14 AWG and 6 m. " +
			"Limit far beyond the drawing: loss at most 9 dB. Limit not drawn, for it is not one level: loss at most 0.1 dB*run/1 m."},
		{text(limited, `<desc id="A1-T1-D1-desc">`, "</desc>"), "Watts (continuous) in watts over tone in hertz, in one line. " +
			"It goes from 1.5 to 2.6 watts at 20 hertz to 30 watts at 20000 hertz, highest with 50 to 70 watts at 1000 hertz. Table A1-T1 above has every figure."},
		{text(limited, "</svg>", "</figure>"), "Each dot is a figure of the table before it is rounded; the line only joins them, and nothing was computed between. " +
			"Each upright stroke runs from the least to the most that its figure may be; the line is that of the middle. Ruled by tens, so that equal lengths multiply alike: watts and tone."},
	} {
		if got := strings.Join(strings.Fields(strings.ReplaceAll(c.got, "\u00a0", " ")), " "); got != c.want {
			t.Errorf("the chart says\n%s\nwant\n%s", got, c.want)
		}
	}
}

// drawnScale reads the scale of one side off a chart, as a reader does: from
// two of its labels.
type drawnScale struct {
	tens             bool
	at1, v1, at2, v2 float64
}

func (s drawnScale) value(at float64) float64 {
	share := (at - s.at1) / (s.at2 - s.at1)
	if s.tens {
		return s.v1 * math.Pow(s.v2/s.v1, share)
	}
	return s.v1 + (s.v2-s.v1)*share
}

var (
	labels = regexp.MustCompile(`<text class="(end|middle)" x="([^"]*)" y="([^"]*)">(−?[0-9.]+)</text>`)
	dots   = regexp.MustCompile(`<circle class="dot" cx="([^"]*)" cy="([^"]*)"`)
)

func scales(t *testing.T, page string, c guide.Chart) (x, y drawnScale) {
	t.Helper()
	x.tens, y.tens = c.Along.Tens, c.Up.Tens
	seen := map[string]int{}
	for _, m := range labels.FindAllStringSubmatch(page, -1) {
		side, at := &x, number(t, m[2])
		if m[1] == "end" {
			side, at = &y, number(t, m[3])-17.0/3 // words stand on a line below their middle
		}
		if seen[m[1]]++; seen[m[1]] == 1 {
			side.at1, side.v1 = at, number(t, m[4])
		}
		side.at2, side.v2 = at, number(t, m[4])
	}
	if seen["end"] < 2 || seen["middle"] < 2 {
		t.Fatalf("the chart has no scales: %v\n%s", seen, page)
	}
	return x, y
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestDotsStandAtTheirFigures reads every dot of many charts back against the
// labels: it must stand at its figure to within half a unit of the last
// printed place, or what a hundredth of the drawing's unit is worth.
func TestDotsStandAtTheirFigures(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 7))
	for range 300 {
		c := guide.Chart{Up: ruling("loss", "dB", ""), Along: ruling("run", "m", "")}
		c.Up.Tens, c.Along.Tens = random.IntN(2) == 0, random.IntN(2) == 0
		places := random.IntN(3)
		unitPlace := math.Pow10(-places)
		var line guide.ChartLine
		x := 1 + random.Float64()
		for range 3 + random.IntN(6) {
			y := math.Round((1+60*random.Float64())/unitPlace) * unitPlace
			if !c.Up.Tens && random.IntN(3) == 0 {
				y = -y
			}
			c.Along.Own = append(c.Along.Own, x)
			line.Points = append(line.Points, ownPoint(x, y, "", strconv.FormatFloat(y, 'f', places, 64)))
			x += 0.5 + 3*random.Float64()
		}
		c.Lines = []guide.ChartLine{line}
		page := charted(t, c)
		xs, ys := scales(t, page, c)
		frame := numbersIn(t, page, "frame")
		drawn := dots.FindAllStringSubmatch(page, -1)
		if len(drawn) != len(line.Points) {
			t.Fatalf("%d dots for %d points", len(drawn), len(line.Points))
		}
		for i, d := range drawn {
			p := line.Points[i]
			if x, y := number(t, d[1]), number(t, d[2]); x < frame[0] || x > frame[2] || y < frame[1] || y > frame[5] {
				t.Fatalf("the dot of %s dB lies outside the frame %v", p.Text, frame)
			}
			const fine = 0.011 // of the drawing: two coordinates of two places each
			mapped, worth := ys.value(number(t, d[2])), math.Abs(ys.value(number(t, d[2])+fine)-ys.value(number(t, d[2])))
			if math.Abs(mapped-p.Y) > max(unitPlace/2, worth) {
				t.Fatalf("the dot of %s dB stands at %g dB\n%s", p.Text, mapped, page)
			}
			mapped, worth = xs.value(number(t, d[1])), math.Abs(xs.value(number(t, d[1])+fine)-xs.value(number(t, d[1])))
			if math.Abs(mapped-p.X) > 2*worth {
				t.Fatalf("the dot at %g m stands at %g m\n%s", p.X, mapped, page)
			}
		}
	}
}

// TestAmountsAgainstNothing holds a chart of amounts to begin at nothing where
// they go through twice their least, and one of levels or of steps in a narrow
// piece not to.
func TestAmountsAgainstNothing(t *testing.T) {
	for _, c := range []struct {
		name     string
		unit     string
		low      float64
		high     float64
		nothing  bool
		greatest float64
	}{
		{"amounts", "W", 45, 95, true, 100},
		{"near one another", "W", 70, 95, false, 95},
		{"levels", "dB SPL", 40, 95, false, 100},
	} {
		t.Run(c.name, func(t *testing.T) {
			chart := guide.Chart{Up: ruling("power", c.unit, ""), Along: ruling("run", "m", "", 1, 2), Lines: []guide.ChartLine{{Points: []guide.ChartPoint{ownPoint(1, c.low, "", ""), ownPoint(2, c.high, "", "")}}}}
			page := charted(t, chart)
			_, y := scales(t, page, chart)
			frame := numbersIn(t, page, "frame")
			least, greatest := y.value(frame[5]), y.value(frame[1])
			if nothing := math.Abs(least) < 0.01; nothing != c.nothing || math.Abs(greatest-c.greatest) > 0.01 {
				t.Errorf("figures from %g to %g are drawn from %g to %g", c.low, c.high, least, greatest)
			}
		})
	}
}

// TestLinesStayInTheirFrame draws a line that has no end between two points:
// it is cut at the frame, and the frame is that of the table's figures.
func TestLinesStayInTheirFrame(t *testing.T) {
	c := guide.Chart{Up: ruling("back", "dB", ""), Along: ruling("load", "ohm", "", 60, 90), Between: true, Lines: []guide.ChartLine{{Points: []guide.ChartPoint{
		ownPoint(60, 19, "60 ohm", "19.0 dB"), between(70, 29), between(74, 43), between(74.9, 63), between(75, 160),
		{X: 75, Y: 160, Low: 160, High: 160, Apart: true}, between(76, 43), ownPoint(90, 20.8, "90 ohm", "20.8 dB"),
	}}}}
	page := charted(t, c)
	frame := numbersIn(t, page, "frame")
	top, foot := slices.Min(ordinates(frame)), slices.Max(ordinates(frame))
	curve := numbersIn(t, page, "curve curve-1")
	for _, y := range ordinates(curve) {
		if y < top-0.01 || y > foot+0.01 {
			t.Errorf("the line goes to %g, and the frame from %g to %g", y, top, foot)
		}
	}
	if !slices.Contains(ordinates(curve), top) {
		t.Errorf("the line is not cut at the frame, but goes through %v", ordinates(curve))
	}
	_, y := scales(t, page, c)
	if highest := y.value(top); highest > 40 {
		t.Errorf("the frame goes to %g dB for figures of 19 and 20.8 dB", highest)
	}
}

// numbersIn are the coordinates of the path of a class.
func numbersIn(t *testing.T, page, class string) []float64 {
	t.Helper()
	m := regexp.MustCompile(`<path class="` + class + `" d="([^"]*)"`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no path of class %q:\n%s", class, page)
	}
	var all []float64
	for _, text := range regexp.MustCompile(`[0-9.]+`).FindAllString(m[1], -1) {
		all = append(all, number(t, text))
	}
	return all
}

func ordinates(path []float64) []float64 {
	var all []float64
	for i := 1; i < len(path); i += 2 {
		all = append(all, path[i])
	}
	return all
}

// TestGaugesRuled holds the labels of a gauge to the trade's way of writing.
func TestGaugesRuled(t *testing.T) {
	c := guide.Chart{
		Up: ruling("wire", "ohm", ""), Along: guide.Ruling{Heading: guide.Heading{Label: "gauge", Unit: unit.Must("AWG")}, Whole: true, Own: []float64{-2, 0, 2, 4}},
		Lines: []guide.ChartLine{{Points: []guide.ChartPoint{ownPoint(-2, 1, "3/0 AWG", "1 ohm"), ownPoint(4, 4, "4 AWG", "4 ohm")}}},
	}
	page := charted(t, c)
	for _, want := range []string{">3/0</text>", ">1/0</text>", ">2</text>", ">4</text>", ">Gauge, AWG</text>"} {
		if !strings.Contains(page, want) {
			t.Errorf("the chart does not hold %s:\n%s", want, page)
		}
	}
}
