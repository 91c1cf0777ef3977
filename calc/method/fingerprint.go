package method

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// Own reports whether a method was read on top of the shipped ones, as an
// author's own is; and of a name that nobody knows, that it may yet become one.
func (l *Library) Own(name string) bool {
	m, known := l.methods[name]
	return !known || l.base != nil && !l.lent(m)
}

// Fingerprint names by hash all that can be read of a method: its rules and its
// words, the references and cautions that it names, and the methods that it
// borrows from. A name that nobody knows has "".
func (l *Library) Fingerprint(name string) string {
	m, known := l.methods[name]
	if !known {
		return ""
	}
	s := m.Sheet()
	h := sha256.New()
	fmt.Fprintf(h, "%s %t\n", s.Hash, l.Broken(name))
	if d, ok := m.(*Data); ok {
		fmt.Fprintf(h, "%s\n", d.source)
	}
	for _, id := range s.References {
		if r, ok := l.references[id]; ok {
			fmt.Fprintf(h, "%q\n", []string{r.ID, r.Title, r.Clause, r.Date, r.Mark, r.Says})
		}
	}
	for _, id := range s.Cautions {
		fmt.Fprintf(h, "%q\n", l.cautions[id].told())
	}
	for _, lender := range s.Borrows {
		fmt.Fprintf(h, "%s %s\n", lender, l.Fingerprint(lender))
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Common names by hash what any guide may read of the library, whichever
// methods it names: the shipped set, and of an author's own methods their names
// and questions, and the cautions that they bring.
func (l *Library) Common() string {
	l.commonly.Do(func() {
		if l.base == nil {
			l.common = l.hash
			return
		}
		h := sha256.New()
		fmt.Fprintf(h, "%s\n", l.base.Common())
		for _, id := range sortedKeys(l.cautions) {
			if l.base.cautions[id] != l.cautions[id] {
				fmt.Fprintf(h, "%q\n", l.cautions[id].told())
			}
		}
		for _, name := range l.Names() {
			if l.Own(name) {
				fmt.Fprintf(h, "%q %q\n", name, l.methods[name].Sheet().Asks)
			}
		}
		l.common = hex.EncodeToString(h.Sum(nil))
	})
	return l.common
}

// told is all that is read of a caution; none of one that is not there.
func (c *Caution) told() []string {
	if c == nil {
		return nil
	}
	texts := []string{c.ID, c.Signal, c.Happens, c.How, c.Instead, c.Ask, c.Unless}
	for _, w := range c.Words {
		texts = append(texts, w.String())
	}
	for _, u := range c.Units {
		texts = append(texts, u.Symbol())
	}
	return texts
}
