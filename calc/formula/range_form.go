package formula

import "math"

// A form is a value taken apart into what each moving value x makes of it by
// itself: the sum of a constant and of log*ln x + line*x for each of them, or
// the exponential of that sum. Products, powers and roots of moving values are
// such exponentials, their levels in decibels such sums. A name that stands
// twice in a formula stands once in its form, so that what cancels in truth
// cancels here: a range and a slope that come from a form are as narrow as can
// be.
type form struct {
	exp   bool
	c     span
	terms []term // by moving value
	// off is how far the value, as it is worked, may be off the form: by
	// rounding on the way, and by jumps too small to count. It is a share of
	// the value where exp is set.
	off float64
}

// term is what one moving value adds: log*ln x + line*x.
type term struct{ log, line, x span }

// operationOff is more than one operation is off, as a share of its result,
// and functionOff more than a function of the library.
const (
	operationOff = 0x1p-52
	functionOff  = 0x1p-48
)

// Mover returns the bend of the moving value number i of n, which moves from
// lo to hi.
func Mover(lo, hi float64, i, n int) Bend {
	b := Bend{Range: Between(lo, hi), Slopes: make([]Slope, n), form: &form{terms: make([]term, n)}}
	b.Slopes[i] = Slope{1, 1}
	b.form.terms[i] = term{line: pointSpan(1), x: span{lo, hi}}
	return b
}

// span is the range of a term.
func (t term) span() span {
	switch {
	case t.log == (span{}):
		return t.line.times(t.x)
	case t.slope().lo >= 0 || t.slope().hi <= 0:
		return t.at(t.x.lo).hull(t.at(t.x.hi))
	}
	return t.log.times(logSpan(t.x)).plus(t.line.times(t.x))
}

func (t term) at(x float64) span {
	return t.log.times(logSpan(pointSpan(x))).plus(t.line.times(pointSpan(x)))
}

func (t term) slope() span {
	if t.log == (span{}) {
		return t.line
	}
	return t.log.over(t.x).plus(t.line)
}

func (t term) still() bool { return t.log == (span{}) && t.line == (span{}) }

func logSpan(x span) span {
	if x == pointSpan(1) {
		return span{}
	}
	y, _ := rangeFaces["ln"].over([]span{x})
	return y
}

func expSpan(x span) span {
	if x == (span{}) {
		return pointSpan(1)
	}
	y, _ := rangeFaces["exp"].over([]span{x})
	return y
}

// sum is the range of the sum of a form.
func (f *form) sum() span {
	y := f.c
	for _, t := range f.terms {
		y = y.plus(t.span())
	}
	return y
}

// span is the range of the value of a form, what it may be off included.
func (f *form) span() span {
	y := f.sum()
	if f.exp {
		y = expSpan(y)
	}
	by := f.strays(y)
	return y.plus(span{-by, by})
}

// strays is how far the value may be off the form, y its range.
func (f *form) strays(y span) float64 {
	if f.exp {
		return f.off * 1.001 * y.magnitude().hi
	}
	return f.off * 1.001
}

// slopes of a form whose range is y.
func (f *form) slopes(y span) []span {
	all := make([]span, len(f.terms), len(f.terms)+1)
	for i, t := range f.terms {
		if all[i] = t.slope(); f.exp && !t.still() {
			all[i] = all[i].times(y)
		}
	}
	by := f.strays(y)
	return append(all, span{-by, by})
}

// only returns the one moving value of a form, -1 where there is none or more
// than one.
func (f *form) only() int {
	only := -1
	for i, t := range f.terms {
		switch {
		case t.still():
		case only >= 0:
			return -1
		default:
			only = i
		}
	}
	return only
}

// changed returns a form with terms made from those of the form, and with
// another constant.
func (f *form) changed(exp bool, c span, off float64, change func(term) term) *form {
	g := &form{exp: exp, c: c, off: off, terms: make([]term, len(f.terms))}
	for i, t := range f.terms {
		if !t.still() {
			g.terms[i] = change(t)
		}
	}
	return g
}

// scaled multiplies the sum of a form.
func (f *form) scaled(by span, off float64) *form {
	return f.changed(f.exp, f.c.times(by), off, func(t term) term { return term{t.log.times(by), t.line.times(by), t.x} })
}

// added adds the sums of two forms of one sort.
func (f *form) added(g *form, off float64) *form {
	if len(f.terms) < len(g.terms) {
		f, g = g, f
	}
	y := f.changed(f.exp, f.c.plus(g.c), off, func(t term) term { return t })
	for i, t := range g.terms {
		if !t.still() {
			y.terms[i] = term{y.terms[i].log.plus(t.log), y.terms[i].line.plus(t.line), t.x}
		}
	}
	return y
}

// plain returns the form of a value as a sum, nil where it has none.
func (b bent) plain() *form {
	switch f := b.form; {
	case b.slopes == nil:
		return &form{c: b.span()}
	case f == nil || !f.exp:
		return f
	default:
		if i := f.only(); i < 0 || f.terms[i].log != pointSpan(1) || f.terms[i].line != (span{}) {
			return nil
		}
		k := expSpan(f.c)
		return f.changed(false, span{}, f.strays(b.span()), func(t term) term { return term{line: k, x: t.x} })
	}
}

// power returns the form of a value as an exponential, nil where it has none.
func (b bent) power() *form {
	f := b.form
	switch {
	case !(b.Lo > 1e-200 && b.Hi < 1e200):
		return nil
	case b.slopes == nil:
		return &form{exp: true, c: logSpan(b.span())}
	case f == nil || f.exp:
		return f
	}
	i := f.only()
	if i < 0 || f.c != (span{}) || f.terms[i].log != (span{}) || !(f.terms[i].line.lo > 0) || !(f.terms[i].x.lo > 0) {
		return nil
	}
	k := logSpan(f.terms[i].line)
	return f.changed(true, k, f.off/b.Lo, func(t term) term { return term{log: pointSpan(1), x: t.x} })
}

// formed takes a form for what it says more than the value itself.
func (b *bent) formed(f *form) {
	if f == nil || b.Empty() || b.Only != nil || b.rough || math.IsNaN(f.off) || math.IsInf(f.off, 0) {
		return
	}
	y := b.span().meet(f.span())
	if y.empty() || !y.bounded() {
		return
	}
	b.Lo, b.Hi, b.form, b.slopes = y.lo, y.hi, f, f.slopes(y)
}

// operatedForm is the form of one operation, y its range.
func operatedForm(op Op, l, r bent, y span) *form {
	round := operationOff * y.magnitude().hi
	switch op {
	case Add, Sub:
		a, b := l.plain(), r.plain()
		if a == nil || b == nil {
			return nil
		}
		if op == Sub {
			b = b.scaled(pointSpan(-1), b.off)
		}
		return a.added(b, a.off+b.off+round)
	case Mul, Div:
		if f := scaledForm(op, l, r, round); f != nil {
			return f
		}
		a, b := l.power(), r.power()
		if a == nil || b == nil {
			return nil
		}
		if op == Div {
			b = b.scaled(pointSpan(-1), b.off)
		}
		return a.added(b, a.off+b.off+operationOff)
	}
	return poweredForm(l, r)
}

// scaledForm is the form of a sum times or over what does not move.
func scaledForm(op Op, l, r bent, round float64) *form {
	if op == Mul && l.slopes == nil {
		l, r = r, l
	}
	if r.slopes != nil || l.form == nil || l.form.exp {
		return nil
	}
	by := r.span()
	if op == Div {
		if by.holds(0) {
			return nil
		}
		by = pointSpan(1).over(by)
	}
	return l.form.scaled(by, l.form.off*by.magnitude().hi+round)
}

// poweredForm is the form of x^n where one of the two does not move.
func poweredForm(x, n bent) *form {
	switch e := n.span(); {
	case n.slopes == nil && e.lo == e.hi:
		if f := x.power(); f != nil {
			return f.scaled(e, f.off*math.Abs(e.lo)+powerUnits(x.span(), e.lo)*operationOff)
		}
	case x.slopes == nil && x.Lo > 0:
		if f := n.plain(); f != nil {
			by := logSpan(x.span())
			units := math.Max(powerUnits(x.span(), e.lo), powerUnits(x.span(), e.hi))
			g := f.scaled(by, f.off*by.magnitude().hi+units*operationOff)
			g.exp = true
			return g
		}
	}
	return nil
}

// calledForm is the form of a built-in function of one argument, y its range.
func calledForm(name string, x bent, y span) *form {
	var per span // a logarithm is the natural one over this
	switch name {
	case "sqrt":
		if f := x.power(); f != nil {
			return f.scaled(pointSpan(0.5), f.off/2+operationOff)
		}
		return nil
	case "exp":
		f := x.plain()
		if f == nil {
			return nil
		}
		return f.changed(true, f.c, f.off+functionOff, func(t term) term { return t })
	case "ln":
		per = pointSpan(1)
	case "log10":
		per = natural(math.Ln10)
	case "log2":
		per = natural(math.Ln2)
	default:
		return nil
	}
	f := x.power()
	if f == nil {
		return nil
	}
	off := f.off/per.lo + functionOff*(1+y.magnitude().hi)
	g := f.scaled(pointSpan(1).over(per), off)
	g.exp = false
	return g
}
