package bind

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// checkNames finds the names that two guides share and must not: codes, which
// readers quote from paper and may not differ in case alone, names of blocks,
// and pages. The guide that comes later in the order of files is the one told.
func checkNames(leaves []*Leaf, faults *fault.List) {
	byFile := slices.Clone(leaves)
	slices.SortFunc(byFile, func(x, y *Leaf) int { return strings.Compare(x.Guide.File, y.Guide.File) })
	codes := map[string]*guide.Guide{}
	blocks := map[string]fault.Place{}
	for _, l := range byFile {
		checkCode(l.Guide, codes, faults)
		for _, t := range l.Guide.Tables {
			checkBlock(t, blocks, faults)
		}
		checkPage(l, faults)
	}
}

func checkCode(g *guide.Guide, codes map[string]*guide.Guide, faults *fault.List) {
	code := g.Docket.Code
	if code == "" {
		return // the guide stage has told it
	}
	key := strings.ToLower(code)
	first, taken := codes[key]
	if !taken {
		codes[key] = g
		return
	}
	faults.Add(fault.At(docketPlace(g, "code"), "the code %q is taken: %s has the code %q", code, first.File, first.Docket.Code).
		Want("a code that no other guide has; capital and small letters count as the same").
		Fix("give this guide another code, as %s; a code that is printed already should stay as it is", freeCode(code, codes)))
}

// freeCode proposes a code of the same letter that nobody has.
func freeCode(code string, codes map[string]*guide.Guide) string {
	stem := strings.TrimRight(code, "0123456789")
	for n := 1; ; n++ {
		proposal := stem + strconv.Itoa(n)
		if _, taken := codes[strings.ToLower(proposal)]; !taken {
			return proposal
		}
	}
}

func checkBlock(t *guide.Table, blocks map[string]fault.Place, faults *fault.List) {
	if t.Name == "" {
		return
	}
	at := t.Named
	if at.Text == nil {
		at = t.Block
	}
	first, taken := blocks[t.Name]
	if !taken {
		blocks[t.Name] = at
		return
	}
	faults.Add(fault.At(at, "two blocks are named %q: the other is in %s", t.Name, whereIs(first)).
		Want("a name that no other block of the copy has: figures are found by it").
		Fix("give one of the two blocks another name"))
}

// ownPages are the pages that the book makes itself.
var ownPages = map[string]string{
	ContentsPath: "the contents have", TablesPath: "the list of tables has", ReferencesPath: "the references have", CautionsPath: "the cautions have",
	GlossaryPath: "the glossary has", IndexPath: "the index has",
	ReadingPath: "how to read the book has", WorkingsPath: "the workings have",
}

// checkPage finds a guide whose page would take the place of one of the
// book's own.
func checkPage(l *Leaf, faults *fault.List) {
	for _, folder := range []string{workingsFolder, rulesFolder} {
		if strings.HasPrefix(strings.ToLower(l.Path), folder) {
			faults.Add(fault.At(l.Guide.Text.All().Sub(0, 0), "no guide may lie in a folder %q: the workings have that folder", path.Dir(l.Guide.File)).
				Fix("call the folder after what its guides are about"))
		}
	}
	if what, own := ownPages[strings.ToLower(l.Path)]; own {
		faults.Add(fault.At(l.Guide.Text.All().Sub(0, 0), "a guide may not be called %q: %s that page", path.Base(l.Guide.File), what).
			Fix("name the file after its question, as speaker-wire.md"))
	}
}

// checkTopics finds the topics that the imprint does not list. A copy whose
// imprint lists none has its topics in the order of the alphabet.
func checkTopics(leaves []*Leaf, listed []string, faults *fault.List) {
	if len(listed) == 0 {
		return
	}
	for _, l := range leaves {
		for _, t := range l.Guide.Docket.Topics {
			if slices.Contains(listed, t) {
				continue
			}
			f := fault.At(topicPlace(l.Guide, t), "the imprint lists no topic %q", t).
				Want("one of: %s", strings.Join(listed, ", "))
			if near := fault.Near(t, listed); near != "" {
				f.Fix("write %s, or add %s to the topics in imprint.yaml", near, t)
			} else {
				f.Fix("add %s to the topics in imprint.yaml", t)
			}
			faults.Add(f)
		}
	}
}

// topicPlace returns where one topic stands in the topics of a docket.
func topicPlace(g *guide.Guide, topic string) fault.Place {
	p := docketPlace(g, "topics")
	if i := strings.Index(p.String(), topic); i >= 0 {
		return p.Sub(i, i+len(topic))
	}
	return p
}

// docketPlace returns where a value of the docket stands, and the head of the
// guide where that is not known.
func docketPlace(g *guide.Guide, key string) fault.Place {
	if p, ok := g.Docket.Places[key]; ok {
		return p
	}
	return g.Text.All().Sub(0, 0)
}

// whereIs names a place in a sentence: "speaker-wire.md, line 12".
func whereIs(p fault.Place) string {
	if p.Text == nil {
		return "another guide"
	}
	line, _ := p.Text.Position(p.Start)
	return fmt.Sprintf("%s, line %d", p.Text.Name(), line)
}
