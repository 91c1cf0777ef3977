package render

import (
	"cmp"
	"fmt"
	"html/template"
	"regexp"
	"strconv"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// Booklet puts the pages of a manual together for one print. Each link bears the
// number of the side to which it leads, where sides tells it by the link's mark.
// A manual whose imprint names no paper is set on the first of those that there
// are, for a booklet has to lie on one. The function file hands over the files
// that pages need, by their names in them.
func (r *Renderer) Booklet(b *bind.Book, pages []Page, file func(name string) ([]byte, error), sides map[string]int) ([]byte, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return nil, err
	}
	onPaper := *b
	onPaper.Edition.Paper = cmp.Or(b.Edition.Paper, guide.Papers[0])
	still := make([]Page, len(pages))
	for i, p := range pages {
		p.Scripts = nil // nothing on paper moves
		still[i] = p
	}
	whole, err := r.Together(&onPaper, still, file)
	if err != nil {
		return nil, err
	}
	whole = titleMark.ReplaceAllLiteral(whole, []byte("<title>"+template.HTMLEscapeString(b.Edition.Title)+"</title>"))
	return inwardMark.ReplaceAllFunc(whole, func(mark []byte) []byte {
		on := cmp.Or(sides[string(inwardMark.FindSubmatch(mark)[1])], unknownSide)
		named := w.fill("side-named", "number", strconv.Itoa(on))
		return fmt.Appendf(mark[:len(mark)-1:len(mark)-1], ` data-on="%d" data-on-side="%s">`, on, named)
	}), nil
}

// unknownSide stands for the number of a side before it is known: as wide as
// most will be.
const unknownSide = 100

var (
	titleMark  = regexp.MustCompile(`<title>[^<]*</title>`)
	inwardMark = regexp.MustCompile(`<a href="#([^"]*)">`)
)
