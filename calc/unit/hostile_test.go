package unit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"bindpost/calc/fault"
)

// checkRead reads a text as an author's value and holds whatever comes out to
// its promises: a finite value, or a fault whose place lies in the text.
func checkRead(t *testing.T, s string) {
	t.Helper()
	text := fault.NewText("hostile", s)
	for _, want := range []*Unit{nil, ptr(Must("m")), ptr(Must("dB SPL")), ptr(Must("AWG")), ptr(Must("%"))} {
		var q Quantity
		var f *fault.Fault
		if want == nil {
			q, f = Read(text.All())
		} else {
			q, f = ReadAs(text.All(), *want)
		}
		if f == nil {
			checkQuantity(t, q)
			continue
		}
		if f.Place.Text != text || f.Place.Start < 0 || f.Place.End < f.Place.Start || f.Place.End > len(text.Source()) {
			t.Fatalf("%q: the place of %q is %+v", s, f.Message, f.Place)
		}
		if f.Message == "" || f.Wanted == "" || len(f.Error()) > 3000 {
			t.Fatalf("%q: %v", s, f)
		}
	}
}

func ptr(u Unit) *Unit { return &u }

func checkQuantity(t *testing.T, q Quantity) {
	t.Helper()
	if math.IsNaN(q.Value) || math.IsInf(q.Value, 0) || q.Value == 0 && math.Signbit(q.Value) {
		t.Fatalf("%q = %v", q.Text, q.Value)
	}
	if u, n := ScanUnit(q.Unit.Symbol()); n != len(q.Unit.Symbol()) || u.Kind() != q.Unit.Kind() {
		t.Fatalf("%q has the unit %q, which reads as %q", q.Text, q.Unit.Symbol(), u.Symbol())
	}
	again, f := Read(fault.NewText("again", q.Text).All())
	if f != nil || again.Value != q.Value || again.Unit != q.Unit && q.Unit.Kind().Scale != SoundLevel {
		t.Fatalf("%q reads differently the second time: %v", q.Text, f)
	}
	if x := q.Unit.FromBase(q.Value); math.Abs(x) < 1e100 && (x == 0 || math.Abs(x) > 1e-100) {
		printed := Format{Unit: q.Unit, Figures: 6}.Text(q.Value)
		if _, f := Read(fault.NewText("printed", printed).All()); f != nil {
			t.Fatalf("%q is printed %q: %v", q.Text, printed, f)
		}
	}
}

// hostile returns long and broken texts of about n bytes, by name.
func hostile(n int) map[string]string {
	rnd := rand.New(rand.NewPCG(7, 8))
	noise := make([]byte, n)
	for i := range noise {
		noise[i] = byte(rnd.IntN(256))
	}
	return map[string]string{
		"digits": strings.Repeat("9", n), "point and digits": "0." + strings.Repeat("9", n), "brackets": strings.Repeat("(", n),
		"strokes": "1" + strings.Repeat("/", n), "units": "1 " + strings.Repeat("m ", n/2), "powers": "1 m" + strings.Repeat("^2", n/2),
		"raised": "1 m" + strings.Repeat("²", n/2), "letters": "1 " + strings.Repeat("k", n), "spaces": "1" + strings.Repeat(" ", n) + "m",
		"commas": strings.Repeat("1,", n/2), "thousands": "1" + strings.Repeat(" 000", n/4), "fraction": "1/" + strings.Repeat("9", n),
		"mixed": "1 1/" + strings.Repeat("9", n), "zeros": strings.Repeat("0", n) + " AWG", "minus": strings.Repeat("-", n),
		"exponent": "1e" + strings.Repeat("9", n), "tens": "1 × 10^" + strings.Repeat("9", n), "noise": string(noise), "nothing": strings.Repeat("\u00a0", n/2),
		"feet": "5 ft " + strings.Repeat("6 in ", n/5), "control": "1 " + strings.Repeat("\x00", n), "raised power": "1 × 10" + strings.Repeat("⁹", n/3),
	}
}

// TestHostileText puts a million bytes of each to the doors that take a place.
func TestHostileText(t *testing.T) {
	for name, s := range hostile(1 << 20) {
		t.Run(name, func(t *testing.T) {
			checkRead(t, s)
			for n := 1; n < 2*longestValue; n += 13 { // across the length that is refused
				checkRead(t, s[:min(n, len(s))])
			}
			if _, f := Parse(fault.NewText("unit", s).All()); f == nil {
				t.Error("a hostile text is a unit")
			}
			if f := Unknown(fault.NewText("unit", s).All()); len(f.Error()) > 3000 {
				t.Error("the fault repeats the whole text")
			}
		})
	}
}

// TestScansGrowWithLength holds the doors that take the rest of a formula to
// a cost that grows with the text, not with its square: four times the text
// may cost neither sixteen times the memory nor sixteen times the time.
func TestScansGrowWithLength(t *testing.T) {
	short, long := hostile(1<<14), hostile(1<<16)
	for name := range short {
		t.Run(name, func(t *testing.T) {
			for try := 1; ; try++ {
				before, fewer := scanCost(short[name])
				after, more := scanCost(long[name])
				if more > 8*fewer+1<<16 {
					t.Fatalf("%d bytes taken for 16 KB, %d for 64 KB", fewer, more)
				}
				if after < 10*before+5*time.Millisecond {
					return
				}
				if try == 5 { // five times, so that a busy machine is no fault
					t.Fatalf("%v for 16 KB, %v for 64 KB", before, after)
				}
			}
		})
	}
}

// scanCost returns the shortest of three times that the scans take on s, and
// the memory that they use in one.
func scanCost(s string) (least time.Duration, bytes uint64) {
	least = time.Hour
	for range 3 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		ScanUnit(s)
		ScanUnit(strings.TrimLeft(s, "1 "))
		ScanNumber(s)
		ScanValue(s)
		IsWord(s)
		least = min(least, time.Since(start))
		runtime.ReadMemStats(&after)
		bytes = after.TotalAlloc - before.TotalAlloc
	}
	return least, bytes
}

func FuzzRead(f *testing.F) {
	for _, file := range caseFiles(f) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			f.Add(strings.TrimSuffix(line, "\n"))
		}
	}
	f.Fuzz(func(t *testing.T, s string) {
		checkRead(t, s)
		if n := ScanValue(s); n > 0 {
			q, fault := Read(fault.NewText("value", s[:n]).All())
			if fault != nil {
				t.Fatalf("%q holds the value %q: %v", s, s[:n], fault)
			}
			checkQuantity(t, q)
		}
		if u, n := ScanUnit(s); n > 0 {
			if again, m := ScanUnit(s[:n]); m != n || again != u {
				t.Fatalf("%q holds the unit %q, but that holds %q", s, s[:n], s[:m])
			}
			if back, m := ScanUnit(u.Symbol()); m != len(u.Symbol()) || back.Kind() != u.Kind() {
				t.Fatalf("%q is printed %q", s[:n], u.Symbol())
			}
		}
	})
}

func ExampleRead() {
	q, _ := Read(fault.NewText("typed", "5 ft 6 in").All())
	fmt.Println(q.Value, q.Unit.Kind().Base().Symbol(), "is", q.Unit.Kind())
	// Output: 1.6764 m is a length
}

func ExampleReadAs() {
	_, f := ReadAs(fault.NewText("guides/wire.md", "8 ohm").All(), Must("m"))
	fmt.Println(f)
	// Output:
	// guides/wire.md:1:3: stop: "8 ohm" is a resistance, and a length is wanted
	//   8 ohm
	//     ^^^
	//   wanted: a length, such as 9 m
}

func ExampleParse() {
	u, _ := Parse(fault.NewText("unit", "dB/100 ft").All())
	fmt.Println(u.Symbol(), "counts", u.Kind())
	fmt.Println(u.Spoken())
	// Output:
	// dB/100 ft counts a loss per length
	// decibels per 100 feet
}

func ExampleScanUnit() {
	u, n := ScanUnit("ohm/km*run")
	fmt.Println(u.Symbol(), n)
	// Output: ohm/km 6
}

func ExampleKind_Times() {
	watts := Must("V").Kind().Times(Must("A").Kind())
	fmt.Println(watts, "in", watts.Base().Symbol())
	// Output: a power in W
}
