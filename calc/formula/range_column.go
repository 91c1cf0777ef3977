package formula

// lookUp joins the cells of every row whose keys are possible. Where a key may
// also be something that no row has, the look-up may fail.
func (r *ranger) lookUp(n *Call, col *Column, f *ranged) bent {
	args := make([]Range, len(n.Args))
	possible := true
	for i, a := range n.Args {
		args[i] = r.of(a, f).Range
		possible = possible && (!args[i].Empty() || len(args[i].Words) > 0)
	}
	if !possible {
		return bent{Range: noRange.carrying(args...)}
	}
	found, rows := noRange, 0
	for _, row := range col.Rows {
		if !row.possible(args) {
			continue
		}
		rows++
		if row.Empty {
			found.Unknown = true
		} else {
			found = found.Join(RangeOf(Quantity(row.Value)))
		}
	}
	found = found.carrying(args...)
	found.Failed = found.Failed || !covered(col.Rows, args, 0)
	return bent{Range: found, rough: rows > 1}
}

func (r Row) possible(args []Range) bool {
	for i, k := range r.Keys {
		if !k.possible(args[i]) {
			return false
		}
	}
	return true
}

// possible reports whether a value of the range may count as the key.
func (k Key) possible(x Range) bool {
	if k.Word != "" {
		return x.Holds(WordOf(k.Word))
	}
	for _, only := range x.Only {
		if same(only, k.Number) {
			return true
		}
	}
	return x.Only == nil && !x.Empty() && (x.span().holds(k.Number) || same(x.Lo, k.Number) || same(x.Hi, k.Number))
}

// covered reports whether each combination of the values that the keys from
// one on may have stands in a row. Values that cannot be told one by one lie
// between the rows, too.
func covered(rows []Row, args []Range, key int) bool {
	if key == len(args) {
		return len(rows) > 0
	}
	numbers, told := args[key].numbers()
	if !told {
		return false
	}
	for _, word := range args[key].Words {
		if !covered(having(rows, key, WordOf(word)), args, key+1) {
			return false
		}
	}
	for _, number := range numbers {
		if !covered(having(rows, key, Quantity(number)), args, key+1) {
			return false
		}
	}
	return true
}

// having returns the rows that have a value as one of their keys.
func having(rows []Row, key int, v Value) []Row {
	var kept []Row
	for _, r := range rows {
		if r.Keys[key].is(v) {
			kept = append(kept, r)
		}
	}
	return kept
}
