package press

// MadeBy returns how many guides a forme makes anew while something is done.
func MadeBy(f *Forme, do func()) int {
	before := map[string]*made{}
	for file, m := range f.guides {
		before[file] = m
	}
	do()
	count := 0
	for file, m := range f.guides {
		if before[file] != m {
			count++
		}
	}
	return count
}
