package unit

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"bindpost/calc/fault"
	"bindpost/site/browser"
)

// TestScript holds what the reader's browser reads and prints against what the
// program does.
func TestScript(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{
		"units.js":  "const bindpost = {};\n" + strings.Replace(Script(), `"use strict";`, "", 1),
		"page.html": `<!DOCTYPE html><meta charset="utf-8"><script src="units.js"></script>`,
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	tab := browser.Open(t)
	browser.Visit(t, tab, browser.Address(filepath.Join(folder, "page.html")))
	t.Run("every spelling", func(t *testing.T) { readsAlike(t, tab, spellings()) })
	t.Run("the values of the cases", func(t *testing.T) { readsAlike(t, tab, typedInCases(t)) })
	t.Run("numbers of every shape", func(t *testing.T) { readsAlike(t, tab, shapes()) })
	t.Run("drawn values", func(t *testing.T) { printsAlike(t, tab, drawnPrints()) })
	t.Run("ties", func(t *testing.T) { printsAlike(t, tab, ties()) })
}

// spellings is a value in each spelling of each unit, with its prefixes, and in
// some that are made of two.
func spellings() []string {
	var all, words []string
	for word := range index() {
		words = append(words, word)
	}
	slices.Sort(words)
	for i, word := range words {
		all = append(all, "2 "+word, "-0.5"+word, "1 1/2 "+word, "7 "+word+"^2", "3 m/"+word, "5 "+word+" per "+words[(i*7)%len(words)])
	}
	for _, s := range slang {
		all = append(all, "4 "+s.word)
	}
	return all
}

// typedInCases is what testdata/unit types.
func typedInCases(t *testing.T) (all []string) {
	for _, file := range caseFiles(t) {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(strings.ToValidUTF8(string(archive.Files[0].Data), "?")) {
			_, value, as := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
			if !as {
				value = strings.TrimSuffix(line, "\n")
			}
			all = append(all, value)
		}
	}
	return all
}

// shapes are numbers as people write them, before units that are read with
// more than a number.
func shapes() (all []string) {
	numbers := []string{
		"0", "00", "000", "1/0", "4/0", "5/0", "3/4", "1 3/4", "½", "2½", "2 ⅔", "⅞", "33 1/3", "1.", ".5", ",5", "2,5", "1,000", "1 000", "1.000.000",
		"1'000", "1_000", "1,2,3", "12,34", "1e3", "1.5e-9", "1e400", "1e-400", "2 × 10⁻⁹", "2x10^3", "3·10^-3", "1e3 x 10^3", "+4", "-4", "−4", "- 4", "--4",
		"007", "1/", "/2", "1 /2", "5 6", "1/2/3", "12345678901234567890123456789012345678901234", "٣", "", " ", "9\u00a0", "1\u20093", "0/0",
	}
	for _, n := range numbers {
		for _, u := range []string{"", " m", "ft 6 in", " ft 12 in", " ft 6", " lb 3 oz", " h 5 min", " AWG", "ga", " °", " ° C", " %IACS", " dB SPL", " dB(A)", "/K", " 1/K", "\"", " m,", " m 3", " m)"} {
			all = append(all, n+u)
		}
	}
	return all
}

// read is what the browser read.
type scriptRead struct {
	X                  float64
	Symbol, Kind, Many string
	Code               string
}

func readsAlike(t *testing.T, tab context.Context, texts []string) {
	list, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	got := browser.Ask[[]scriptRead](t, tab, string(list)+`.map(s => {
		const q = bindpost.read(s);
		return q.code ? {Code: q.code} : {X: q.x, Symbol: q.unit.symbol, Kind: q.unit.kind, Many: q.unit.many || ""};
	})`)
	read := 0
	for i, text := range texts {
		q, f := Read(fault.NewText("typed", text).All())
		switch {
		case f != nil && got[i].Code == "":
			t.Errorf("%q is refused, and the browser reads %+v: %v", text, got[i], f)
		case f != nil:
		case got[i].Code != "":
			t.Errorf("%q is read, and the browser refuses it: %s", text, got[i].Code)
		default:
			read++
			want := scriptRead{X: q.Value, Symbol: q.Unit.Symbol(), Kind: scriptKind(q.Unit.Kind()), Many: q.Unit.Spoken()}
			if got[i] != want {
				t.Errorf("%q is %+v, and the browser reads %+v", text, want, got[i])
			}
		}
	}
	t.Logf("%d of %d are values", read, len(texts))
}

// scriptPrint is a value and how it is to be printed.
type scriptPrint struct {
	f Format
	v float64
}

// ties are values that lie exactly half way between two printed ones, or as
// near to that as a number can lie, and those that a printer falls over.
func ties() (all []scriptPrint) {
	plain := []float64{
		0, 0.125, 0.375, 2.5, 3.5, 0.5, 1.5, -0.125, -2.5, -0.004, 0.045, 1.005, 9.995, 99.95, 999.5, 0.1 + 0.2, 1e12, 1e12 + 0.5, 123456789012.5,
		100000000000.125, 100000000000.375, 1000000000.0625, 1000000000.1875, 1e-6, 9.9999995e-7, 1e-7, 1e21, 1.5e300, 5e-324, 1.2e307, -1e15, 4503599627370497.5,
	}
	for _, x := range plain {
		for near := range 3 {
			y := x
			if near > 0 {
				y = math.Nextafter(x, []float64{0, math.Inf(-1), math.Inf(1)}[near])
			}
			for _, way := range []Rounding{Either, Up, Down} {
				for digits := range 5 {
					all = append(all, scriptPrint{Format{Places: digits, Round: way}, y}, scriptPrint{Format{Figures: digits + 1, Round: way}, y})
				}
			}
		}
	}
	for n := -6.0; n < 20; n += 0.5 {
		all = append(all, scriptPrint{Format{Unit: Must("AWG")}, n}, scriptPrint{Format{Unit: Must("AWG"), Places: 1}, n}, scriptPrint{Format{Unit: Must("°F")}, n})
	}
	return slices.DeleteFunc(all, func(p scriptPrint) bool { return math.IsInf(p.v, 0) })
}

// drawnPrints are values of all magnitudes in all units.
func drawnPrints() (all []scriptPrint) {
	r := rand.New(rand.NewPCG(3, 14))
	var units []Unit
	for _, row := range table {
		units = append(units, row.under(prefix{mul: 1, div: 1}))
	}
	for _, symbol := range []string{"ohm/km", "dB/100 ft", "Pa^2 h", "mm2", "1/K", "µF", "kohm"} {
		units = append(units, Must(symbol))
	}
	for range 20_000 {
		f := Format{Unit: units[r.IntN(len(units))], Round: Rounding(r.IntN(3))}
		if digits := r.IntN(8); r.IntN(2) == 0 {
			f.Places = digits
		} else {
			f.Figures = digits + 1
		}
		x := math.Pow(10, 24*r.Float64()-10) * float64(1-2*r.IntN(2))
		if r.IntN(3) == 0 {
			x = math.Round(x*1000) / 1000 // few digits, as authors have
		}
		if x = f.Unit.ToBase(x); !math.IsInf(x, 0) && !math.IsInf(f.Unit.FromBase(x), 0) {
			all = append(all, scriptPrint{f, x})
		}
	}
	return all
}

func printsAlike(t *testing.T, tab context.Context, all []scriptPrint) {
	var asked []string
	for _, p := range all {
		asked = append(asked, fmt.Sprintf("[{unit: %s, places: %d, figures: %d, round: %q}, %s]", p.f.Unit.Script(), p.f.Places, p.f.Figures, p.f.Round.Way(), asJSON(p.v)))
	}
	got := browser.Ask[[][2]any](t, tab, "["+strings.Join(asked, ",")+"].map(([f, v]) => [bindpost.text(f, v), bindpost.printed(f, v)])")
	for i, p := range all {
		if text := p.f.Text(p.v); got[i][0] != text {
			t.Errorf("%v is printed %q by %+v, and in the browser %q", p.v, text, p.f, got[i][0])
		}
		if stands := p.f.Printed(p.v); got[i][1] != stands {
			t.Errorf("%v stands for %v by %+v, and in the browser for %v", p.v, stands, p.f, got[i][1])
		}
	}
	t.Logf("%d values", len(all))
}
