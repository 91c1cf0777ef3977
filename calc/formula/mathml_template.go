package formula

// What stands in a template for a name: a mark, a letter that says where the
// name stands, the name, and a closing mark. No author's text holds the marks.
const (
	slotOpen  = "\ue000"
	slotClose = "\ue001"
)

// MathTemplate writes a piece as [MathML] does, with slots for the names of
// values, so that a script can put in a name, its symbol or a number. A slot is
// U+E000, a letter, the name as it is written and U+E001. The letter says what
// the text that is put in needs:
//
//   - n, nothing;
//   - f, brackets where it does not hold together: a negative number, several;
//   - b, brackets round all but a name and a bare number: it is raised to a power;
//   - s, no markup at all: it is spoken.
func MathTemplate(n Node) string { return MathML(n, MathOptions{slots: true}) }

// slot is the slot of a name, and whether slots are wanted.
func (o MathOptions) slot(letter string, n Node) (string, bool) {
	name, ok := n.(*Name)
	if !o.slots || !ok || name.Text == "pi" {
		return "", false
	}
	return slotOpen + letter + name.Text + slotClose, true
}
