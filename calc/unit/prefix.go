package unit

// prefix is a decimal or binary multiple that can stand before a symbol.
type prefix struct {
	mark     string
	also     string // another way of typing the mark
	word     string
	mul, div float64
}

var prefixes = []prefix{
	{mark: "f", word: "femto", mul: 1, div: 1e15},
	{mark: "p", word: "pico", mul: 1, div: 1e12},
	{mark: "n", word: "nano", mul: 1, div: 1e9},
	{mark: "µ", also: "u", word: "micro", mul: 1, div: 1e6},
	{mark: "m", word: "milli", mul: 1, div: 1e3},
	{mark: "c", word: "centi", mul: 1, div: 1e2},
	{mark: "h", word: "hecto", mul: 1e2, div: 1},
	{mark: "k", word: "kilo", mul: 1e3, div: 1},
	{mark: "M", word: "mega", mul: 1e6, div: 1},
	{mark: "G", word: "giga", mul: 1e9, div: 1},
	{mark: "Ki", word: "kibi", mul: 1 << 10, div: 1},
	{mark: "Mi", word: "mebi", mul: 1 << 20, div: 1},
	{mark: "Gi", word: "gibi", mul: 1 << 30, div: 1},
}
