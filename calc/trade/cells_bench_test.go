package trade_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/unit"
)

// cells are a table of twenty cells, as a method works them and as a function
// does that was written for it by hand.
type cells struct {
	name, result  string
	fixed         []string
	rows, columns side
	native        func(row, column at) float64
}

// side is what a table runs along, its values parted by commas as an author types
// them.
type side struct{ name, points string }

// at is a value of a side as a function takes it: in base units, or a word.
type at struct {
	number float64
	word   string
}

// tables are the cells that are timed. Their functions are the formulas of the
// method files, those of borrowed methods put in.
func tables() []cells {
	var (
		db       = unit.Must("dB").ToBase
		ohm      = unit.Must("ohm").ToBase
		spl      = unit.Must("dB SPL").ToBase
		metre    = unit.Must("m").ToBase
		copper   = unit.Must("%IACS").ToBase(100)
		alu      = unit.Must("%IACS").ToBase(61)
		farad    = unit.Must("pF").ToBase
		hertz    = unit.Must("Hz").ToBase
		celsius  = unit.Must("°C").ToBase(20)
		sixteen  = unit.Must("AWG").ToBase(16)
		awg      = unit.Must("AWG").ToBase(36)
		mm       = unit.Must("mm").ToBase(0.127)
		stranded = 1.02
	)
	each := func(gauge float64, metal string, strands string, temperature float64) float64 {
		conductivity, coefficient := copper, 0.00393
		if metal == "aluminium" {
			conductivity, coefficient = alu, 0.00403
		}
		diameter := mm * math.Pow(92, (awg-gauge)/39)
		area := math.Pi / 4 * diameter * diameter
		factor := 1.0
		if strands == "stranded" {
			factor = stranded
		}
		cold := factor / (conductivity * area)
		return cold * (1 + coefficient*(temperature-celsius))
	}
	oneWatt := func(sensitivity float64, basis string, load float64) float64 {
		if basis == "watt" || load == 8 {
			return sensitivity
		}
		return sensitivity - db(10)*math.Log10(ohm(8)/load)
	}
	gain := func(playing string) float64 {
		switch playing {
		case "single":
			return 0
		case "unlike":
			return db(10) * math.Log10(2)
		}
		return db(20) * math.Log10(2)
	}
	return []cells{
		{"speaker-wire", "loss", []string{"load=6 ohm"}, side{"gauge", "12, 14, 16, 18 AWG"}, side{"run", "2 m, 4 m, 6 m, 8 m, 10 m"},
			func(gauge, run at) float64 {
				load := ohm(6)
				wire := 2 * run.number * each(gauge.number, "copper", "solid", celsius)
				return db(20) * math.Log10((load+wire)/load)
			}},
		{"speaker-wire", "swing", []string{"load=6 ohm", "factor=100", "low=4.8 ohm", "high=60 ohm", "gauge=16 AWG"},
			side{"metal", "copper, aluminium"}, side{"run", "2, 3, 4, 5, 6, 7, 8, 9, 10, 11 m"},
			func(metal, run at) float64 {
				inner, low, high := ohm(6)/100, ohm(4.8), ohm(60)
				series := inner + 2*run.number*each(sixteen, metal.word, "solid", celsius)
				return db(20)*math.Log10(high/(high+series)) - db(20)*math.Log10(low/(low+series))
			}},
		{"seat-level", "level_at_seat", []string{"sensitivity=86 dB SPL", "basis=watt", "load=8 ohm"},
			side{"power", "1, 2, 5, 10 W"}, side{"distance", "2, 2.5, 3, 3.5, 4 m"},
			func(power, distance at) float64 {
				spread := db(20) * math.Log10(distance.number/metre(1))
				return oneWatt(spl(86), "watt", ohm(8)) + db(10)*math.Log10(power.number) - spread + gain("unlike")
			}},
		{"line-lead", "corner", []string{"per_metre=100 pF/m", "frequency=20 kHz"},
			side{"output_ohms", "100, 600, 1000, 2200 ohm"}, side{"length", "1, 2, 3, 5, 10 m"},
			func(output, length at) float64 {
				return 1 / (2 * math.Pi * output.number * (farad(100) * length.number))
			}},
		{"line-lead", "treble_change", []string{"per_metre=100 pF/m", "output_ohms=1 kohm"},
			side{"frequency", "5, 10, 15, 20 kHz"}, side{"length", "1, 2, 3, 5, 10 m"},
			func(frequency, length at) float64 {
				corner := 1 / (2 * math.Pi * ohm(1000) * (farad(100) * length.number))
				x := frequency.number / corner
				return -db(10) * math.Log10(1+x*x)
			}},
		{"other-load", "power", []string{"rated_load=8 ohm"}, side{"load", "4, 6, 8, 16 ohm"}, side{"rated", "20, 30, 40, 50, 60 W"},
			func(load, rated at) float64 { return rated.number * ohm(8) / load.number }},
		{"boundary-notch", "notch", nil, side{"wall", "0.3, 0.5, 0.8, 1.2 m"}, side{"sound", "340, 341, 342, 343, 344 m/s"},
			func(wall, sound at) float64 { return (2*1 - 1) * sound.number / (4 * wall.number) }},
		{"room-mode", "frequency", []string{"room_height=2.4 m", "half_waves_along=1", "half_waves_across=1", "half_waves_upright=0"},
			side{"room_length", "4, 5, 6, 7 m"}, side{"room_width", "3, 3.5, 4, 4.5, 5 m"},
			func(long, wide at) float64 {
				a, b, c := 1/long.number, 1/wide.number, 0/metre(2.4)
				return metre(343) / 2 * math.Sqrt(a*a+b*b+c*c)
			}},
		{"cartridge-resonance", "peak", nil, side{"coil", "400, 500, 600, 700 mH"}, side{"capacitance", "150, 200, 250, 300, 350 pF"},
			func(coil, capacitance at) float64 {
				return 1 / (2 * math.Pi * math.Sqrt(coil.number*capacitance.number))
			}},
		{"disc-deemphasis", "change", nil, side{"tone", "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20 kHz"}, side{},
			func(tone, _ at) float64 {
				short, long := 2*math.Pi*tone.number*15e-6/hertz(1), 2*math.Pi*tone.number*50e-6/hertz(1)
				return db(10) * math.Log10((1+short*short)/(1+long*long))
			}},
	}
}

// laid is a table with its values read.
type laid struct {
	cells
	method method.Method
	values method.Values
	moving []string
	points [2][]method.Point // along the rows and the columns
	typed  [2][]at
}

func (c cells) laid(tb testing.TB) *laid {
	m, ok := trade.Library().Method(c.name)
	if !ok {
		tb.Fatalf("there is no method %s", c.name)
	}
	read := func(name, typed string) []method.Point {
		points, faults := m.Sheet().Input(name).ReadSweep(fault.NewText("test", typed).All())
		if faults.Stopped() {
			tb.Fatal(faults)
		}
		return points
	}
	l := &laid{cells: c, method: m, values: method.Values{}}
	for _, line := range c.fixed {
		name, typed, _ := strings.Cut(line, "=")
		l.values[name] = read(name, typed)[0]
	}
	for i, s := range []side{c.rows, c.columns} {
		if s.name == "" {
			l.points[i], l.typed[i] = make([]method.Point, 1), make([]at, 1)
			continue
		}
		l.points[i], l.moving = read(s.name, s.points), append(l.moving, s.name)
		for _, p := range l.points[i] {
			l.typed[i] = append(l.typed[i], at{p.Value.Number, p.Value.Word})
		}
	}
	return l
}

// each calls do for the points of every cell.
func (l *laid) each(do func(moved []*method.Point)) {
	moved := make([]*method.Point, len(l.moving))
	for i := range l.points[0] {
		for j := range l.points[1] {
			if moved[0] = &l.points[0][i]; len(moved) > 1 {
				moved[1] = &l.points[1][j]
			}
			do(moved)
		}
	}
}

// cellValues works the cells.
func (l *laid) cellValues(into []formula.Value) {
	s, n := method.NewSweep(l.method, l.values, l.moving, l.result), 0
	l.each(func(moved []*method.Point) {
		s.Value(&into[n], moved...)
		n++
	})
}

// outcomes works them with all else that the press tells of a cell: verdicts,
// cautions, references.
func (l *laid) outcomes(into []*method.Outcome) {
	s, n := method.NewSweep(l.method, l.values, l.moving, l.result), 0
	l.each(func(moved []*method.Point) {
		into[n] = s.Run(slices.Clone(moved)...)
		n++
	})
}

// function works them with the function written by hand.
func (l *laid) function(into []float64) {
	n := 0
	for _, row := range l.typed[0] {
		for _, column := range l.typed[1] {
			into[n] = l.native(row, column)
			n++
		}
	}
}

const inTable = 20

// TestCellsByHand holds the functions to the methods that they stand against.
func TestCellsByHand(t *testing.T) {
	for _, c := range tables() {
		l, got, want := c.laid(t), make([]formula.Value, inTable), make([]float64, inTable)
		l.cellValues(got)
		l.function(want)
		for i, v := range got {
			if math.Abs(v.Number-want[i]) > 1e-12*math.Abs(want[i]) || v.Number == 0 {
				t.Errorf("%s of %s is %v in cell %d, and by hand %v", c.result, c.name, v.Number, i, want[i])
			}
		}
	}
}

// BenchmarkCells times tables of twenty cells, turn by turn as methods and as the
// same formulas in Go: ratio is how many times as long the methods take.
func BenchmarkCells(b *testing.B) {
	values := make([]formula.Value, inTable)
	eachTable(b, func(l *laid) { l.cellValues(values) })
}

// BenchmarkCellsTold is the same with all else that is told of a cell.
func BenchmarkCellsTold(b *testing.B) {
	outcomes := make([]*method.Outcome, inTable)
	eachTable(b, func(l *laid) { l.outcomes(outcomes) })
}

// eachTable times each table, and all of them together.
func eachTable(b *testing.B, work func(*laid)) {
	var all []*laid
	for _, c := range tables() {
		l := c.laid(b)
		b.Run(l.name+"."+l.result, func(b *testing.B) { againstGo(b, work, l) })
		all = append(all, l)
	}
	b.Run("all", func(b *testing.B) { againstGo(b, work, all...) })
}

func againstGo(b *testing.B, work func(*laid), these ...*laid) {
	const turn = 200 // tables on end, so that reading the clock costs nothing
	numbers := make([]float64, inTable)
	ways := [2]func(*laid){work, func(l *laid) { l.function(numbers) }}
	var took [2]time.Duration
	for b.Loop() {
		for i, way := range ways {
			start := time.Now()
			for range turn {
				for _, l := range these {
					way(l)
				}
			}
			took[i] += time.Since(start)
		}
	}
	done := float64(b.N * turn * len(these) * inTable)
	b.ReportMetric(float64(took[0])/done, "method-ns/cell")
	b.ReportMetric(float64(took[1])/done, "go-ns/cell")
	b.ReportMetric(float64(took[0])/float64(took[1]), "ratio")
}
