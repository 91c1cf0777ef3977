package unit

import "math"

// row is one unit of the table. Its value in base units is
// (x - zero)*mul/div; whole numbers in mul and div keep decimal conversions
// as exact as a float64 can be. A mul or div of 0 stands for 1.
type row struct {
	symbol   string   // as typed in a formula; may not be a name
	also     []string // other symbols, read wherever a symbol is
	words    []string // spellings read in typed values only; a name may be like them
	print    string   // when not as the symbol
	one      string   // for a screen reader, of one and of many
	many     string   // when not one + "s"
	dims     Dims
	scale    Scale
	mul, div float64
	zero     float64 // the base's zero, in this unit
	prefixes string  // that may stand before the symbol
	prefixed bool    // the symbol never stands without a prefix
}

// 0 dBu is sqrt(0.6) V, the voltage of 1 mW in 600 ohm: 10*log10(0.6) dBV.
const dBuInDBV = -2.218487496163564

// The table of units. Sources: the SI for its own units; the international
// yard and pound, the nautical mile, the international-table btu, the
// circular mil, 58 MS/m for 100 % IACS and the levels are checked against GNU
// units in the tests. 0 dBf is 1 fW. A half-wave dipole has 2.15 dBi, as the
// trade rounds it.
var table = []row{
	// length
	{symbol: "m", one: "metre", words: []string{"meter", "meters"}, dims: Dims{metre: 2}, prefixes: "n µ m c k"},
	{symbol: "in", one: "inch", many: "inches", words: []string{`"`, "″"}, dims: Dims{metre: 2}, mul: 254, div: 10000},
	{symbol: "ft", one: "foot", many: "feet", words: []string{"'", "′"}, dims: Dims{metre: 2}, mul: 3048, div: 10000, prefixes: "k"},
	{symbol: "yd", one: "yard", dims: Dims{metre: 2}, mul: 9144, div: 10000},
	{symbol: "mile", one: "mile", words: []string{"mi"}, dims: Dims{metre: 2}, mul: 1609344, div: 1000},
	{symbol: "nmi", one: "nautical mile", dims: Dims{metre: 2}, mul: 1852},
	{symbol: "mil", one: "mil", dims: Dims{metre: 2}, mul: 254, div: 10000000},
	{symbol: "cmil", one: "circular mil", dims: Dims{metre: 4}, mul: math.Pi / 4 * 25.4 * 25.4, div: 1e12, prefixes: "k"},
	// mass
	{symbol: "g", one: "gram", words: []string{"gramme", "grammes"}, dims: Dims{kilogram: 2}, div: 1000, prefixes: "µ m k"},
	{symbol: "lb", one: "pound", words: []string{"lbs"}, dims: Dims{kilogram: 2}, mul: 45359237, div: 1e8},
	{symbol: "oz", one: "ounce", dims: Dims{kilogram: 2}, mul: 45359237, div: 16e8},
	// time
	{symbol: "s", one: "second", words: []string{"sec", "secs"}, dims: Dims{second: 2}, prefixes: "p n µ m"},
	{symbol: "min", one: "minute", words: []string{"mins"}, dims: Dims{second: 2}, mul: 60},
	{symbol: "h", one: "hour", words: []string{"hr", "hrs"}, dims: Dims{second: 2}, mul: 3600},
	{symbol: "day", one: "day", dims: Dims{second: 2}, mul: 86400},
	{symbol: "week", one: "week", dims: Dims{second: 2}, mul: 604800},
	{symbol: "Hz", one: "hertz", many: "hertz", dims: Dims{second: -2}, prefixes: "m k M G"},
	{symbol: "rpm", one: "revolution per minute", many: "revolutions per minute", dims: Dims{second: -2}, div: 60},
	// force, pressure, energy, power
	{symbol: "N", one: "newton", dims: Dims{kilogram: 2, metre: 2, second: -4}, prefixes: "µ m k"},
	{symbol: "dyn", one: "dyne", dims: Dims{kilogram: 2, metre: 2, second: -4}, div: 1e5},
	{symbol: "Pa", one: "pascal", dims: Dims{kilogram: 2, metre: -2, second: -4}, prefixes: "µ m h k M"},
	{symbol: "J", one: "joule", dims: Dims{kilogram: 2, metre: 4, second: -4}, prefixes: "µ m k M"},
	{symbol: "btu", also: []string{"BTU", "Btu"}, print: "BTU", one: "British thermal unit", dims: Dims{kilogram: 2, metre: 4, second: -4}, mul: 105505585262, div: 1e8},
	{symbol: "W", one: "watt", dims: Dims{kilogram: 2, metre: 4, second: -6}, prefixes: "f p n µ m k M"},
	// electricity
	{symbol: "A", one: "ampere", words: []string{"amp", "amps"}, dims: Dims{ampere: 2}, prefixes: "p n µ m k"},
	{symbol: "V", one: "volt", dims: Dims{kilogram: 2, metre: 4, second: -6, ampere: -2}, prefixes: "n µ m k M"},
	{symbol: "ohm", also: []string{"Ω", "Ohm"}, one: "ohm", words: []string{"Ohms"}, dims: Dims{kilogram: 2, metre: 4, second: -6, ampere: -4}, prefixes: "n µ m k M G"},
	{symbol: "S", one: "siemens", many: "siemens", dims: Dims{kilogram: -2, metre: -4, second: 6, ampere: 4}, prefixes: "n µ m k M"},
	{symbol: "%IACS", print: "% IACS", one: "percent IACS", many: "percent IACS", dims: Dims{kilogram: -2, metre: -6, second: 6, ampere: 4}, mul: 580000},
	{symbol: "F", one: "farad", dims: Dims{kilogram: -2, metre: -4, second: 8, ampere: 4}, prefixes: "f p n µ m"},
	{symbol: "H", one: "henry", many: "henries", words: []string{"henrys"}, dims: Dims{kilogram: 2, metre: 4, second: -4, ampere: -4}, prefixes: "n µ m"},
	// angle, pitch, data, ratio, money
	{symbol: "rad", one: "radian", dims: Dims{radian: 2}, prefixes: "µ m"},
	{symbol: "deg", also: []string{"°"}, print: "°", one: "degree", dims: Dims{radian: 2}, mul: math.Pi, div: 180},
	{symbol: "arcmin", one: "minute of arc", many: "minutes of arc", dims: Dims{radian: 2}, mul: math.Pi, div: 10800},
	{symbol: "octave", one: "octave", dims: Dims{octave: 2}},
	{symbol: "cent", one: "cent", dims: Dims{octave: 2}, div: 1200},
	{symbol: "bit", one: "bit", dims: Dims{bit: 2}, prefixes: "k M G"},
	{symbol: "byte", one: "byte", dims: Dims{bit: 2}, mul: 8},
	{symbol: "B", one: "byte", dims: Dims{bit: 2}, mul: 8, prefixes: "k M G Ki Mi Gi", prefixed: true},
	{symbol: "%", one: "percent", many: "percent", words: []string{"pct"}, div: 100},
	{symbol: "money", one: "money", many: "money", dims: Dims{money: 2}},
	// temperature
	{symbol: "K", one: "kelvin", dims: Dims{kelvin: 2}, prefixes: "m"},
	{symbol: "°C", also: []string{"degC"}, one: "degree Celsius", many: "degrees Celsius", dims: Dims{kelvin: 2}, scale: Temperature},
	{symbol: "°F", also: []string{"degF"}, one: "degree Fahrenheit", many: "degrees Fahrenheit", dims: Dims{kelvin: 2}, scale: Temperature, mul: 5, div: 9, zero: 32},
	// wire gauge
	{symbol: "AWG", one: "gauge", many: "gauge", words: []string{"awg", "ga"}, scale: Gauge},
	// levels
	{symbol: "dB", one: "decibel", dims: Dims{decibel: 2}},
	{symbol: "dB SPL", also: []string{"dBSPL"}, one: "decibel of sound pressure", many: "decibels of sound pressure", dims: Dims{decibel: 2}, scale: SoundLevel},
	{symbol: "dBA", one: "A-weighted decibel", words: []string{"dB(A)"}, dims: Dims{decibel: 2}, scale: WeightedLevel},
	{symbol: "dBW", one: "decibel above one watt", many: "decibels above one watt", dims: Dims{decibel: 2}, scale: PowerLevel},
	{symbol: "dBm", one: "decibel above one milliwatt", many: "decibels above one milliwatt", dims: Dims{decibel: 2}, scale: PowerLevel, zero: 30},
	{symbol: "dBf", one: "decibel above one femtowatt", many: "decibels above one femtowatt", dims: Dims{decibel: 2}, scale: PowerLevel, zero: 150},
	{symbol: "dBV", one: "decibel above one volt", many: "decibels above one volt", dims: Dims{decibel: 2}, scale: VoltageLevel},
	{symbol: "dBu", one: "decibel above 0.775 volts", many: "decibels above 0.775 volts", dims: Dims{decibel: 2}, scale: VoltageLevel, zero: -dBuInDBV},
	{symbol: "dBuV", also: []string{"dBµV"}, print: "dBµV", one: "decibel above one microvolt", many: "decibels above one microvolt", dims: Dims{decibel: 2}, scale: VoltageLevel, zero: 120},
	{symbol: "dBuV/m", also: []string{"dBµV/m"}, print: "dBµV/m", one: "decibel above one microvolt per metre", many: "decibels above one microvolt per metre", dims: Dims{decibel: 2}, scale: FieldLevel},
	{symbol: "dBi", one: "decibel above an even radiator", many: "decibels above an even radiator", dims: Dims{decibel: 2}, scale: AntennaGain},
	{symbol: "dBd", one: "decibel above a dipole", many: "decibels above a dipole", dims: Dims{decibel: 2}, scale: AntennaGain, zero: -2.15},
}
