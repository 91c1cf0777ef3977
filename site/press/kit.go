package press

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"bindpost/calc/fault"
	"bindpost/site/folder"
	"bindpost/site/guide"
	"bindpost/site/render"
)

// kit is what the guides of a copy are made with, and what is to be told of it.
type kit struct {
	guide.Kit
	from   string // hash of the texts that it was read from
	faults *fault.List
}

// readKit reads what the guides of a copy are made with.
func readKit(c *folder.Copy, o Order, r *render.Renderer) kit {
	k := kit{from: kitTexts(c), faults: &fault.List{}}
	if !slices.Contains(c.Lost, "imprint.yaml") {
		k.Edition = o.Setting.over(readImprint(c.Imprint, r, k.faults))
	}
	k.Library = inLanguage(c, k.Edition.Language, o.Library, k.faults)
	var fs *fault.List
	k.Standing, fs = guide.ReadStanding(c.Standing, slices.Contains(c.Lost, "standing.yaml"), k.Edition)
	k.faults.Join(fs)
	adviseNothing(k.Library, k.faults, c.Imprint, c.Standing)
	if used := spokenIn(c.Phrases, k.Edition.Language); used != nil {
		k.Words = folder.Hash(used)
	}
	return k
}

// kitTexts names by hash all texts of a copy that a kit is read from.
func kitTexts(c *folder.Copy) string {
	h := sha256.New()
	for _, t := range slices.Concat([]*fault.Text{c.Imprint, c.Standing}, c.Methods, c.Phrases) {
		if t == nil {
			fmt.Fprintln(h, "none")
			continue
		}
		fmt.Fprintf(h, "%q %d\n%s", t.Name(), len(t.Source()), t.Source())
	}
	fmt.Fprintf(h, "%q", c.Lost)
	return hex.EncodeToString(h.Sum(nil))
}
