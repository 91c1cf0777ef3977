package method

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// setHash names by hash the method's own text, the constants that it shares,
// and the methods that it borrows from.
func (d *Data) setHash(library *Library) {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n", d.source)
	for _, name := range sortedKeys(d.constants) {
		fmt.Fprintf(h, "%s %s\n", name, d.constants[name].number.Text)
	}
	for _, name := range d.sheet.Borrows {
		if m, ok := library.methods[name]; ok {
			fmt.Fprintf(h, "%s %s\n", name, m.Sheet().Hash)
		}
	}
	d.sheet.Hash = hex.EncodeToString(h.Sum(nil))
}
