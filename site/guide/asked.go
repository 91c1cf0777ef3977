package guide

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/site/folder"
)

// Asked is what a guide asked of its kit beside what every guide may read. With
// the guide's text it says when the guide must be made anew.
type Asked struct {
	Methods  []string // the author's own that it names, and names that nobody knew, sorted
	Standing []string // standing figures, and names that were none, sorted
	// All stands where something is wrong with the guide: any change to the kit
	// may mend it, or change what is said of it.
	All bool
}

// HashOf names by hash everything that a guide of a text is made from, where it
// asks such things of the kit.
func HashOf(t *fault.Text, kit Kit, a Asked) string { return hashOf([]byte(t.Source()), kit, a) }

func hashOf(source []byte, kit Kit, a Asked) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n%s\n%s\n%+v\n", folder.HashOf(source), kit.Library.Common(), trade.ShippedRears().Hash(), kit.Edition)
	for _, name := range a.Methods {
		fmt.Fprintf(h, "method %s %s %s\n", name, kit.Library.Fingerprint(name), kit.Words)
	}
	for _, name := range a.Standing {
		fmt.Fprintf(h, "standing %s %s\n", name, kit.Standing.fingerprint(name))
	}
	if a.All {
		fmt.Fprintf(h, "all %s %s %s\n", kit.Library.Hash(), kit.Standing.whole(), kit.Words)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// method returns the method of a name, and notes that the guide asked for it.
func (r *reader) method(name string) (method.Method, bool) {
	if r.kit.Library.Own(name) && !slices.Contains(r.asked.Methods, name) {
		r.asked.Methods = append(r.asked.Methods, name)
	}
	return r.kit.Library.Method(name)
}

// standingOf returns the standing figure of a name, and notes that the guide
// asked for it; nil where there is none that is sound.
func (r *reader) standingOf(name string) *Standing {
	if !slices.Contains(r.asked.Standing, name) {
		r.asked.Standing = append(r.asked.Standing, name)
	}
	return r.kit.standing(name)
}

// noteAsked sets down in the guide what it asked for.
func (r *reader) noteAsked() {
	slices.Sort(r.asked.Methods)
	slices.Sort(r.asked.Standing)
	r.asked.All = r.faults.Len() > 0 || r.guide.Lost || len(r.guide.Broken) > 0
	r.guide.Asked, r.guide.Hash = r.asked, hashOf(r.source, r.kit, r.asked)
}

// fingerprint tells all that can be read of a standing figure, or why there is
// none.
func (s *Standings) fingerprint(name string) string {
	if s == nil {
		return ""
	}
	one := s.byName[name]
	if one == nil {
		_, unsound := s.byName[name]
		return fmt.Sprintf("none %t %t", unsound, s.lost)
	}
	return fmt.Sprintf("%q %q %q", []string{one.Point.Text, one.Sense}, one.Source, KeptValue(one.Point.Value))
}

// whole names by hash the text of all standing figures.
func (s *Standings) whole() string {
	if s == nil {
		return ""
	}
	return s.hash
}
