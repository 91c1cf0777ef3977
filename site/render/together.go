package render

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html"
	"html/template"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// Together puts pages one after another into a page that needs no file beside
// it: what the pages need stands in it, and its policy names the hash of each.
// A link to a page that is not among them keeps its words only. The function
// file hands over the files that pages need, by their names in them.
func (r *Renderer) Together(b *bind.Book, pages []Page, file func(name string) ([]byte, error)) ([]byte, error) {
	t := &together{pages: map[string]Page{}, file: file}
	for _, p := range pages {
		t.pages[p.Path] = p
	}
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return nil, err
	}
	v := togetherView{pageHead: pageHead{words: w, Edition: b.Edition, Code: pages[0].Code, Question: pages[0].Question}}
	if err := t.collect(pages); err != nil {
		return nil, err
	}
	style := slices.Concat(t.style, footStrips(v.pageHead, pages))
	v.Style, v.StyleHash = template.HTML("<style>"+string(style)+"</style>"), hashed(style)
	if t.script != nil {
		v.Script, v.ScriptHash = template.HTML("<script>"+string(t.script)+"</script>"), hashed(t.script)
	}
	for _, p := range pages {
		body, err := t.body(p)
		if err != nil {
			return nil, err
		}
		v.Bodies = append(v.Bodies, template.HTML(body))
	}
	var out bytes.Buffer
	if err := r.templates.set.ExecuteTemplate(&out, "together", v); err != nil {
		return nil, fmt.Errorf("setting the pages together: %w", err)
	}
	return out.Bytes(), nil
}

// togetherView is what the template of pages put together is filled with.
type togetherView struct {
	pageHead
	Style      template.HTML
	StyleHash  string
	Script     template.HTML
	ScriptHash string // "" where no page calls a script
	Bodies     []template.HTML
}

// together knows what goes into one page.
type together struct {
	pages  map[string]Page // by path
	file   func(name string) ([]byte, error)
	style  []byte
	script []byte
}

// collect fetches the style and the scripts of the pages, each once. The
// scripts become one, in an order that is right for each page.
func (t *together) collect(pages []Page) error {
	var names []string
	for _, p := range pages {
		names = merged(names, slices.Concat(p.Scripts, p.Later))
	}
	for _, name := range names {
		script, err := t.file(name)
		if err != nil {
			return err
		}
		t.script = append(append(t.script, enclosed(script)...), ";\n"...)
	}
	style, err := t.file(StyleSheet)
	t.style = style
	return err
}

// merged returns names with more of them put in, so that both orders hold: a new
// one stands before the first that follows it among the more.
func merged(names, more []string) []string {
	for i := len(more) - 1; i >= 0; i-- {
		if slices.Contains(names, more[i]) {
			continue
		}
		at := len(names)
		if i+1 < len(more) {
			at = slices.Index(names, more[i+1])
		}
		names = slices.Insert(slices.Clone(names), at, more[i])
	}
	return names
}

// enclosed returns a script that does not end the element that it stands in:
// in a string or a pattern of a script, "<\/" is the same as "</".
func enclosed(script []byte) []byte {
	return bytes.ReplaceAll(script, []byte("</script"), []byte(`<\/script`))
}

// hashed returns the hash of an element's text as a policy names it.
func hashed(text []byte) string {
	sum := sha256.Sum256(text)
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// Pages are of our own making, so that their marks always have this shape; an
// author's "<" is never one in them.
var (
	linkMark    = regexp.MustCompile(`<a href="([^"]*)">`)
	linkEnd     = []byte("</a>")
	pictureMark = regexp.MustCompile(`(<img [^>]*src=")([^"]*)(")`)
)

// body returns the body of a page with its links leading inside the whole and
// its pictures in it.
func (t *together) body(p Page) ([]byte, error) {
	var out []byte
	rest := p.Body
	for {
		at := linkMark.FindSubmatchIndex(rest)
		if at == nil {
			break
		}
		out = append(out, rest[:at[0]]...)
		mark, address := rest[at[0]:at[1]], template.URL(rest[at[2]:at[3]])
		rest = rest[at[1]:]
		end := bytes.Index(rest, linkEnd)
		if end < 0 {
			return nil, fmt.Errorf("a link of %s has no end: %s", p.Path, mark)
		}
		text := rest[:end]
		rest = rest[end+len(linkEnd):]
		if to, ok := t.inside(p, string(address)); ok {
			text = slices.Concat([]byte(`<a href="#`+to+`">`), text, linkEnd)
		}
		out = append(out, text...)
	}
	return t.pictures(p, withoutWays(append(out, rest...)))
}

// waysMark finds the words at the foot of a page that lead to other pages.
var waysMark = regexp.MustCompile(`(?s)<nav class="moving">.*?</nav>\n`)

// withoutWays takes the words at the foot of a page out where none of them
// leads anywhere now.
func withoutWays(body []byte) []byte {
	return waysMark.ReplaceAllFunc(body, func(ways []byte) []byte {
		if linkMark.Match(ways) {
			return ways
		}
		return nil
	})
}

// inside returns the id to which a link of a page leads, and whether it is
// among the pages.
func (t *together) inside(p Page, address string) (id string, ok bool) {
	page, mark, _ := strings.Cut(address, "#")
	if page == "" {
		return mark, true
	}
	to, ok := t.pages[resolved(p, page)]
	if mark == "" {
		mark = to.ID
	}
	return mark, ok
}

// resolved returns the path from the head of the manual of what a page names.
func resolved(p Page, address string) string {
	return path.Join(path.Dir(p.Path), unescaped(address))
}

// unescaped undoes what [href] did to an address.
func unescaped(address string) string {
	address = html.UnescapeString(address)
	if plain, err := url.PathUnescape(address); err == nil {
		return plain
	}
	return address
}

// pictureKinds are the kinds of pictures by the ends of their names, which the
// copy was held to.
var pictureKinds = map[string]string{".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg"}

// pictures puts the pictures that a body names into it.
func (t *together) pictures(p Page, body []byte) ([]byte, error) {
	var failed error
	body = pictureMark.ReplaceAllFunc(body, func(mark []byte) []byte {
		parts := pictureMark.FindSubmatch(mark)
		name := resolved(p, string(parts[2]))
		data, err := t.file(name)
		if err != nil {
			failed = err
			return mark
		}
		address := "data:" + pictureKinds[strings.ToLower(path.Ext(name))] + ";base64," + base64.StdEncoding.EncodeToString(data)
		return slices.Concat(parts[1], []byte(address), parts[3])
	})
	return body, failed
}

// footStrips returns the style by which the sides of each page are printed
// with that page's own strip at their foot. Pages that run on share one.
func footStrips(h pageHead, pages []Page) []byte {
	var b bytes.Buffer
	b.WriteString("\n/* The strip at the foot of each printed side. */\n")
	leaf := 0
	for i, p := range pages {
		if p.RunsOn == "" || i == 0 || pages[i-1].RunsOn != p.RunsOn {
			leaf++
			fmt.Fprintf(&b, "@page leaf-%d { %s@bottom-left { content: %s; } @bottom-center { content: %s \"\\A\" %s; } }\n",
				leaf, h.size(), cssText(p.Code), cssText(cmp.Or(p.RunsOn, p.Question)), cssText(h.Manual()))
		}
		fmt.Fprintf(&b, "@media print { #%s { page: leaf-%d; } }\n", cssName(p.ID), leaf)
	}
	return b.Bytes()
}

// size returns the line of a style by which a side has the paper of the
// edition.
func (h pageHead) size() string {
	if !slices.Contains(guide.Papers, h.Edition.Paper) {
		return ""
	}
	return "size: " + strings.ToLower(h.Edition.Paper) + "; "
}

// cssText writes text as a style holds it: what could end the text, or the
// element that the style stands in, by its number.
func cssText(s string) string { return `"` + cssEscaped(s, isTextSign) + `"` }

// cssName writes an id as the name of a style's rule.
func cssName(s string) string { return cssEscaped(s, isNameSign) }

func cssEscaped(s string, plain func(rune) bool) string {
	var b strings.Builder
	for _, r := range s {
		if plain(r) {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, `\%x `, r)
	}
	return b.String()
}

func isTextSign(r rune) bool { return r >= ' ' && !strings.ContainsRune(`"\<`, r) }

func isNameSign(r rune) bool { return unicode.IsLetter(r) || r == '-' }
