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

// ruled is a method in Go that works the formulas of data methods, and finds
// by itself only what no formula says.
type ruled struct {
	sheet      *method.Sheet
	library    *method.Library // nil until the entries are read
	shared     []string        // inputs that values/AREA.yaml describes; they stand before the sheet's own
	optional   []string        // those of them that need not be known
	references []string
	cases      string // lines: values, result, what it is, within, reference
	rule       string // how the results are found, in words
	says       said   // what else it says
	// answer gives the results from the values that are known.
	answer func(l *method.Library, at method.Values) map[string]formula.Value
}

var (
	_ method.Method  = (*ruled)(nil)
	_ method.Entried = (*ruled)(nil)
	_ method.Worded  = (*ruled)(nil)
)

// hashOf is the hash of a method in Go: of its name and edition, and of the
// rules that it works.
func hashOf(edition string, rules ...*fault.Text) string {
	h := sha256.New()
	h.Write([]byte(edition))
	for _, t := range rules {
		h.Write([]byte("\n" + t.Source()))
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Texts implements [method.Worded].
func (r *ruled) Texts(visit func(key string, text *string)) {
	visit("rule", &r.rule)
	r.says.texts(visit)
}

// Sheet implements [method.Method].
func (r *ruled) Sheet() *method.Sheet { return r.sheet }

// With implements [method.Entried].
func (r *ruled) With(l *method.Library) (method.Method, *fault.List) {
	faults, b, sheet := &fault.List{}, *r, *r.sheet
	b.library, b.sheet, sheet.Takes = l, &sheet, nil
	for _, name := range r.shared {
		in, fs := l.Shared(name)
		faults.Join(fs)
		if in != nil {
			own := *in
			own.Optional = own.Optional || slices.Contains(r.optional, name)
			sheet.Takes = append(sheet.Takes, &own)
		}
	}
	sheet.Takes = append(sheet.Takes, r.sheet.Takes...)
	sheet.References = r.references
	b.addCases(faults)
	return &b, faults
}

func (r *ruled) addCases(faults *fault.List) {
	text, at := fault.NewText("the cases of "+r.sheet.Name, r.cases), 0
	for line := range strings.Lines(r.cases) {
		place := text.Place(at, at+len(line)-1)
		at += len(line)
		c := strings.Split(place.String(), " | ")
		reference, ok := r.library.Reference(c[4])
		if !ok {
			faults.Add(fault.At(place, "there is no reference %q", c[4]).Want("a name from the reference entries"))
			continue
		}
		v := method.Values{}
		for _, typed := range strings.Split(c[0], "; ") {
			name, value, _ := strings.Cut(typed, "=")
			v[name] = pointOf(r.sheet.Input(name), value)
		}
		want := method.Want{Result: c[1], Value: wantedOf(c[2]), Within: amountOf(c[3]), Place: column(place, c, 2)}
		r.sheet.Cases = append(r.sheet.Cases, &method.Case{Values: v, Wants: []method.Want{want}, Reference: reference, Place: place})
	}
}

// column is the place of one column of a row of cases.
func column(row fault.Place, columns []string, n int) fault.Place {
	start := 0
	for _, c := range columns[:n] {
		start += len(c) + len(" | ")
	}
	return row.Sub(start, start+len(columns[n]))
}

// wantedOf reads what a case wants: an amount, amounts joined by "and", or
// none.
func wantedOf(s string) formula.Value {
	if s == "none" {
		return formula.Value{State: formula.None}
	}
	var all []formula.Value
	for _, part := range strings.Split(s, " and ") {
		all = append(all, formula.Quantity(amountOf(part)))
	}
	if len(all) == 1 {
		return all[0]
	}
	return formula.ListOf(all...)
}

// Run implements [method.Method].
func (r *ruled) Run(v method.Values, results ...string) *method.Outcome {
	taken, at := takenOf(r.sheet, v)
	o := method.NewOutcome(taken)
	found := r.answer(r.library, at)
	for _, res := range r.sheet.Gives {
		if len(results) == 0 || slices.Contains(results, res.Name) {
			o.Results.Set(res.Name, found[res.Name])
		}
	}
	for _, name := range r.references {
		if ref, ok := r.library.Reference(name); ok {
			o.References = append(o.References, ref)
		}
	}
	return o
}

// members are the numbers of a list, or the one number that a value is.
func members(v formula.Value) []float64 {
	if v.List == nil {
		return []float64{v.Number}
	}
	all := make([]float64, len(v.List))
	for i, m := range v.List {
		all[i] = m.Number
	}
	return all
}

// listOf is the list of some numbers.
func listOf(numbers []float64) formula.Value {
	all := make([]formula.Value, len(numbers))
	for i, x := range numbers {
		all[i] = formula.Quantity(x)
	}
	return formula.Value{List: all}
}

// each gives all results of a sheet one value: a reason.
func each(s []*method.Result, v formula.Value) map[string]formula.Value {
	all := map[string]formula.Value{}
	for _, r := range s {
		all[r.Name] = v
	}
	return all
}

// giving makes a result of a method in Go.
func giving(name, says, in string, f unit.Format) *method.Result {
	f.Unit = unit.Must(in)
	return &method.Result{Name: name, Of: name, Says: says, Unit: f.Unit, Format: f}
}

// Work implements [method.Method]: how a result was found, and the result.
func (r *ruled) Work(v method.Values, results ...string) [][]method.Worked {
	all, o := make([][]method.Worked, len(results)), r.Run(v)
	for i, result := range results {
		all[i] = workedOf(r.sheet, result, r.rule, o.Results.Of(result), o.References)
	}
	return all
}
