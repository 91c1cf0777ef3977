package formula

import "testing"

func BenchmarkParse(b *testing.B) {
	p := placed("20 dB*log10((load + wire)/load)")
	for b.Loop() {
		ParseBody(p)
	}
}

func BenchmarkEval(b *testing.B) {
	n, _ := ParseBody(placed("20*log10((load + x)/load)"))
	f, faults := Check(n, fuzzScope)
	if faults.Len() > 0 {
		b.Fatal(faults)
	}
	for b.Loop() {
		f.Eval(fuzzEnv)
	}
}
