package galley

import (
	"bytes"
	"strconv"
)

// laid returns a page of the manual as the galley shows it: with what follows the
// presses in its head, and with the slip before the page where faults stand. The
// manual that is pressed has none of it.
func (g *Galley) laid(page []byte, p *proof, name string) []byte {
	page = bytes.Replace(page, []byte("default-src 'none';"), []byte("default-src 'none'; connect-src 'self';"), 1)
	page = before(page, "</head>", g.set("galley-head", map[string]string{"Press": strconv.Itoa(p.number), "Page": name}))
	if s := p.slip(); s != nil {
		page = before(page, "<main>", g.set("slip", s))
	}
	return page
}

// before puts a piece before the first place of a page where a mark stands.
func before(page []byte, mark string, piece []byte) []byte {
	at := bytes.Index(page, []byte(mark))
	if at < 0 {
		panic("galley: a page has no " + mark)
	}
	return bytes.Join([][]byte{page[:at], page[at:]}, piece)
}

// bare returns what stands in the place of a page that is not there.
func (g *Galley) bare(p *proof, name string) []byte {
	view := map[string]any{"Name": name, "Entry": p.entry}
	return g.laid(g.set("galley-bare", view), p, name)
}

// set sets one of the templates of the slip.
func (g *Galley) set(name string, view any) []byte {
	var b bytes.Buffer
	if err := g.pages.ExecuteTemplate(&b, name, view); err != nil {
		panic("galley: the templates are not sound: " + err.Error())
	}
	return b.Bytes()
}
