package unit

import "sync"

// kindName is how one kind is told to an author, and the unit its values are
// kept in.
type kindName struct {
	words   string
	base    Unit
	example string
}

// The kinds that the trade has a word for. A kind's unit is written as an
// author writes it.
var kindRows = []struct{ base, words, example string }{
	{"number", "a plain number", "2"},
	{"m", "a length", "9 m"},
	{"m^2", "an area", "2.5 mm2"},
	{"m^3", "a volume", "50 m3"},
	{"kg", "a mass", "12 kg"},
	{"s", "a time", "75 us"},
	{"Hz", "a frequency or speed of turning", "1 kHz"},
	{"m/s", "a speed", "343 m/s"},
	{"m/s^2", "an acceleration", "9.8 m/s^2"},
	{"N", "a force", "18 mN"},
	{"Pa", "a pressure", "1 Pa"},
	{"J", "an energy", "20 J"},
	{"W", "a power", "45 W"},
	{"W/m^2", "a power per area", "1 W/m^2"},
	{"A", "a current", "2.5 A"},
	{"A s", "an electric charge", "1 A s"},
	{"V", "a voltage", "2.83 V"},
	{"V/m", "a field strength", "1 mV/m"},
	{"ohm", "a resistance", "8 ohm"},
	{"ohm/m", "a resistance per length", "13.2 ohm/km"},
	{"ohm m", "a resistivity", "0.0172 uohm m"},
	{"S", "a conductance", "1 mS"},
	{"S/m", "a conductivity", "100 %IACS"},
	{"F", "a capacitance", "250 pF"},
	{"F/m", "a capacitance per length", "120 pF/m"},
	{"H", "an inductance", "500 mH"},
	{"H/m", "an inductance per length", "0.6 uH/m"},
	{"K", "a temperature step", "5 K"},
	{"1/K", "a change per temperature step", "0.004/K"},
	{"K/W", "a temperature step per power", "2 K/W"},
	{"rad", "an angle", "24 deg"},
	{"rad/m", "an angle per length", "0.02 deg/mm"},
	{"dB", "a step in decibels", "0.5 dB"},
	{"dB/m", "a loss per length", "1.79 dB/100 ft"},
	{"dB/octave", "a slope", "6 dB/octave"},
	{"octave", "an interval of pitch", "8 cent"},
	{"bit", "an amount of data", "16 bit"},
	{"bit/s", "a data rate", "128 kbit/s"},
	{"money", "a sum of money", "100 money"},
	{"m/N", "a compliance", "15 um/mN"},
	{"N/m", "a stiffness", "100 N/m"},
	{"kg/m", "a mass per length", "10 g/m"},
	{"kg/m^3", "a density", "1.2 kg/m^3"},
	{"Pa^2 s", "a sound exposure", "1.6 Pa^2 h"},
	{"s/m", "a time per length", "0.161 s/m"},
	{"1/m", "a number per length", "4/m"},
	{"°C", "a temperature", "20 °C"},
	{"AWG", "a wire gauge", "16 AWG"},
	{"dB SPL", "a sound level", "87 dB"},
	{"dBA", "an A-weighted sound level", "85 dBA"},
	{"dBW", "a power level", "20 dBW"},
	{"dBV", "a voltage level", "-10 dBV"},
	{"dBuV/m", "a field strength level", "54 dBuV/m"},
	{"dBi", "an antenna gain", "2.15 dBi"},
}

var kindNames = sync.OnceValue(func() map[Kind]kindName {
	names := map[Kind]kindName{}
	for _, r := range kindRows {
		base, _ := scanUnit(r.base, false) // none for "number"
		names[base.Kind()] = kindName{words: r.words, base: base, example: r.example}
	}
	return names
})
