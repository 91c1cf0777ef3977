package render

import (
	"cmp"
	"html/template"
	"regexp"
	"slices"
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
	var still, index []Page
	for _, p := range pages {
		p.Scripts = nil // nothing on paper moves
		if p.Path == bind.IndexPath {
			index = append(index, p)
		} else {
			still = append(still, p)
		}
	}
	still = append(still, index...) // a thumb looks for it at the very end
	whole, err := r.Together(&onPaper, still, file)
	if err != nil {
		return nil, err
	}
	whole = titleMark.ReplaceAllLiteral(whole, []byte("<title>"+template.HTMLEscapeString(b.Edition.Title)+"</title>"))
	side := func(mark string) string { return strconv.Itoa(cmp.Or(sides[mark], unknownSide)) }
	whole = inwardMark.ReplaceAllFunc(whole, func(mark []byte) []byte {
		parts := inwardMark.FindSubmatch(mark)
		to, class := string(parts[1]), ""
		if len(parts[2]) > 0 {
			class = ` class="close-set"`
		}
		return slices.Concat([]byte(`<a href="#`+to+`"`+class+` data-on="`+side(to)+`">`), parts[2])
	})
	return paperMark.ReplaceAllFunc(whole, func(mark []byte) []byte {
		code := string(paperMark.FindSubmatch(mark)[1])
		return []byte(`<span class="on-paper"> ` + string(w.fill("link-on-side", "code", code, "number", side(code))) + `</span>`)
	}), nil
}

// unknownSide stands for the number of a side before it is known: as wide as
// most will be.
const unknownSide = 100

var (
	titleMark = regexp.MustCompile(`<title>[^<]*</title>`)
	paperMark = regexp.MustCompile(`<span class="on-paper" data-to="([^"]*)">[^<]*</span>`)
	// with the words of the link where they are one word, which is not parted
	inwardMark = regexp.MustCompile(`<a href="#([^"]*)">([^\s<]*</a>)?`)
)
