package guide

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
)

// termScheme is the scheme word of a word that differs by region: <term:aerial>.
const termScheme = "term:"

const termShape = "<term:aerial>: the name of a word of which readers elsewhere have another, with a hyphen for a space"

// isTerm reports whether a label of an autolink calls a regional word.
func isTerm(label string) bool {
	return len(label) >= len(termScheme) && strings.EqualFold(label[:len(termScheme)], termScheme)
}

// setTerm puts the edition's word in the place of <term:…>.
func (r *reader) setTerm(m *ast.AutoLink) {
	label := string(m.Label(r.source))
	at := r.text.Place(m.Pos()+1+len(termScheme), m.Pos()+1+len(label))
	word, ok := r.regionalWord(at)
	if !ok {
		return
	}
	node := ast.NewString([]byte(word))
	node.SetAttributeString(signPlace, [2]int{m.Pos(), m.Pos() + len(label) + len("<>")})
	m.Parent().ReplaceChild(m.Parent(), m, node)
}

// signPlace is the attribute of a word that stands in the place of a sign: from
// where to where the sign goes in the guide.
const signPlace = "sign"

// signOf returns where the sign is in whose place a word stands; false where it
// stands in none.
func signOf(n *ast.String) (sign [2]int, ok bool) {
	v, _ := n.AttributeString(signPlace)
	sign, ok = v.([2]int)
	return sign, ok
}

// regionalWord returns the edition's word for a name as a guide calls it, and
// tells one that is none.
func (r *reader) regionalWord(at fault.Place) (string, bool) {
	word, ok := r.regional(at.String())
	if ok {
		return word, true
	}
	names := r.kit.Library.RegionalNames()
	f := fault.At(at, "%q is no word of those that differ by region", at).Want("one of: %s", strings.Join(names, ", "))
	if near := fault.Close(strings.ReplaceAll(at.String(), "-", " "), names); near != "" {
		f.Fix("<term:%s>", strings.ReplaceAll(near, " ", "-"))
	} else {
		f.Fix("write the word as it stands, if readers everywhere have it")
	}
	r.faults.Add(f)
	return "", false
}

// regional looks a name up, in which a hyphen may stand for a space. A capital
// at its head makes one at the head of the word; an article before it is that of
// the edition's word, whichever was typed: an-earth-pin prints "a ground prong".
func (r *reader) regional(typed string) (string, bool) {
	small := strings.ToLower(typed)
	if word, ok := r.wordOf(small); ok {
		return capitalAs(typed, word), true
	}
	for _, article := range []string{"a-", "an-", "a ", "an "} {
		if name, found := strings.CutPrefix(small, article); found {
			if word, ok := r.wordOf(name); ok {
				return capitalAs(typed, withArticle(word)), true
			}
		}
	}
	return "", false
}

// wordOf returns the edition's word for a name in small letters.
func (r *reader) wordOf(name string) (word string, ok bool) {
	if word, ok = r.kit.Library.Regional(name); ok {
		return word, true
	}
	return r.kit.Library.Regional(strings.ReplaceAll(name, "-", " "))
}

// capitalAs puts a capital at the head of a word where what was typed has one.
func capitalAs(typed, word string) string {
	if first, _ := utf8.DecodeRuneInString(typed); unicode.IsUpper(first) {
		head, size := utf8.DecodeRuneInString(word)
		return string(unicode.ToUpper(head)) + word[size:]
	}
	return word
}

// withArticle puts a or an before a word, by how it is spelled: none of the words
// that differ by region is spoken otherwise at its head.
func withArticle(word string) string {
	if word != "" && strings.ContainsRune("aeiouAEIOU", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}

// called finds <term:…> in words that are no Markdown.
var called = regexp.MustCompile(`(?i)<` + termScheme + `([^<>]*)>`)

// plainTerms puts the edition's words into a piece of plain words.
func (r *reader) plainTerms(p fault.Place) string {
	s, done := p.String(), 0
	var b strings.Builder
	for _, m := range called.FindAllStringSubmatchIndex(s, -1) {
		b.WriteString(s[done:m[0]])
		word, ok := r.regionalWord(p.Sub(m[2], m[3]))
		if !ok {
			word = s[m[2]:m[3]]
		}
		b.WriteString(word)
		done = m[1]
	}
	return b.String() + s[done:]
}

// sayPlain says plain words of a guide with the edition's words in them.
func (s *saying) sayPlain(p fault.Place, r *reader) {
	text, done := p.String(), 0
	for _, m := range called.FindAllStringSubmatchIndex(text, -1) {
		s.say(text[done:m[0]], p.Start+done)
		if word, ok := r.regional(text[m[2]:m[3]]); ok {
			s.sayWord(word, [2]int{p.Start + m[0], p.Start + m[1]})
		}
		done = m[1]
	}
	s.say(text[done:], p.Start+done)
}
