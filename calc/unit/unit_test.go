package unit

import "testing"

func TestSmoke(t *testing.T) {
	for _, s := range []string{"ohm/km", "mm2", "Pa^2 h", "dB/100 ft", "number", "%", "%IACS", "um/mN", "°C", "dBuV/m", "dB SPL", "AWG", "1/K", "/K", "m/s^2", "kbit/s", "MiB", "m s^-2", "cm/dyn"} {
		u := Must(s)
		t.Log(s, u.Symbol(), u.Spoken(), u.Kind(), u.ToBase(1), Format{Unit: u, Figures: 3}.Text(1), u.Kind().Base().Symbol())
	}
	for k, n := range kindNames() {
		t.Log(k, n.words, n.base.Symbol(), n.base.mul, n.base.div)
	}
}
