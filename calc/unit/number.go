package unit

// ScanNumber returns the length of the number at the head of s: digits, a
// point with digits after it, "e" with a power of ten. A sign is not part of
// it. 0: there is none.
func ScanNumber(s string) int {
	n := digits(s)
	if n == 0 {
		return 0
	}
	if n+1 < len(s) && s[n] == '.' {
		if m := digits(s[n+1:]); m > 0 {
			n += 1 + m
		}
	}
	if n+1 < len(s) && (s[n] == 'e' || s[n] == 'E') {
		sign := 0
		if s[n+1] == '+' || s[n+1] == '-' {
			sign = 1
		}
		if m := digits(s[n+1+sign:]); m > 0 {
			n += 1 + sign + m
		}
	}
	return n
}

// digits counts the digits at the head of s.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
