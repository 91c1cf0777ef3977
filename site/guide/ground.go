package guide

import (
	"maps"

	"bindpost/calc/method"
)

// ground is what the values at the points of a table are made of.
type ground struct {
	sheet         *method.Sheet
	fixed         method.Values // the first case of every value
	rows, columns axis
	partly        []*method.Input // of the values, those that are asked for at some points only
}

func (b *block) ground() *ground {
	return &ground{sheet: b.sheet, fixed: b.fixed, rows: b.rows, columns: b.columns, partly: b.partly}
}

// worked are the values with which a method was worked. Those at a table's
// points are made when somebody asks, for a table has many and few are asked
// for.
type worked struct {
	ground      *ground
	row, column int
	values      method.Values // where they stand in no table
}

// Values returns the values with which the method was worked.
func (w worked) Values() method.Values {
	if w.ground == nil {
		return w.values
	}
	return w.ground.valuesAt(w.row, w.column)
}

// side returns the point of a value along a side of the table; nil for any other,
// and where it may be left out.
func (w worked) side(name string) *method.Point {
	g := w.ground
	switch {
	case g == nil || g.partly != nil:
		return nil
	case g.rows.input != nil && g.rows.input.Name == name:
		return &g.rows.points[w.row]
	case g.columns.input != nil && g.columns.input.Name == name:
		return &g.columns.points[w.column]
	}
	return nil
}

func (g *ground) valuesAt(row, column int) method.Values {
	v := maps.Clone(g.fixed)
	if g.rows.input != nil {
		v[g.rows.input.Name] = g.rows.points[row]
	}
	if g.columns.input != nil {
		v[g.columns.input.Name] = g.columns.points[column]
	}
	return g.together(v)
}

func (g *ground) together(v method.Values) method.Values { return together(g.sheet, g.partly, v) }

// together leaves out of the values at a point what is asked for at other points
// only.
func together(s *method.Sheet, partly []*method.Input, v method.Values) method.Values {
	for _, in := range partly {
		if !asked(s, in, v) {
			delete(v, in.Name)
		}
	}
	return v
}

// pointsAt returns the points of the moving values at a point of the table: nil
// for one that is not asked for there. They may be put into the room.
func (g *ground) pointsAt(row, column int, moving []string, room []*method.Point) []*method.Point {
	if g.partly != nil {
		return g.valuesAt(row, column).Points(moving)
	}
	points := room[:0]
	if g.rows.input != nil {
		points = append(points, &g.rows.points[row])
	}
	if g.columns.input != nil {
		points = append(points, &g.columns.points[column])
	}
	return points
}
