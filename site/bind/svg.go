package bind

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"

	"bindpost/calc/fault"
)

// A drawing is line art: lines, words and how they look. What an SVG may hold
// beyond that, a program or an address elsewhere, a manual does not carry: it
// must open without a network, and do nothing of its own.

// svgSpace is the vocabulary of drawings.
const svgSpace = "http://www.w3.org/2000/svg"

// drawn are the elements that a drawing may hold; what they name stands in
// SVG 1.1, chapters 5 and 8 to 14 (memory).
var drawn = map[string]bool{
	"svg": true, "g": true, "defs": true, "symbol": true, "use": true, "switch": true, "title": true, "desc": true, "metadata": true, "style": true,
	"path": true, "rect": true, "circle": true, "ellipse": true, "line": true, "polyline": true, "polygon": true,
	"text": true, "tspan": true, "textPath": true, "image": true,
	"marker": true, "pattern": true, "clipPath": true, "mask": true, "linearGradient": true, "radialGradient": true, "stop": true,
}

// undrawn says of some others what they are.
var undrawn = map[string]string{
	"script": "a program", "handler": "a program", "listener": "a program", "a": "a way out of it",
	"foreignobject": "a piece of another page", "iframe": "another page", "object": "another file", "embed": "another file",
	"audio": "a sound", "video": "a film", "canvas": "a program's surface",
	"animate": "a movement", "animatemotion": "a movement", "animatetransform": "a movement", "animatecolor": "a movement", "set": "a movement",
}

// mostDrawingFaults is how many faults of one drawing are told: a drawing with
// more of them is to be saved anew, not mended line by line.
const mostDrawingFaults = 20

// checkSVG finds what a drawing may not hold.
func checkSVG(t *fault.Text) *fault.List {
	c := &svgCheck{text: t, faults: &fault.List{}, decoder: xml.NewDecoder(strings.NewReader(t.Source()))}
	c.decoder.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	for c.faults.Len() < mostDrawingFaults && !c.foreign && c.next() {
	}
	if !c.opened && !c.faults.Stopped() {
		c.faults.Add(fault.At(t.Place(0, 0), "is no SVG drawing").Want("a file that begins with <svg").Fix("save the drawing anew as plain SVG"))
	}
	return c.faults
}

type svgCheck struct {
	text    *fault.Text
	faults  *fault.List
	decoder *xml.Decoder
	opened  bool
	foreign bool // it is no drawing: nothing more in it is looked at
	depth   int
	aside   int // the depth of a metadata element that is open, 0: of none
	style   strings.Builder
	styled  fault.Place // the style element that is open
}

// next checks one piece of the drawing; false: there is no more.
func (c *svgCheck) next() bool {
	start := int(c.decoder.InputOffset())
	token, err := c.decoder.Token()
	end := int(c.decoder.InputOffset())
	if err != nil {
		c.broken(err, end)
		return false
	}
	at := c.text.Place(start, end)
	switch token := token.(type) {
	case xml.StartElement:
		c.element(token, at)
	case xml.EndElement:
		c.close(token)
	case xml.CharData:
		if c.styled.Text != nil {
			c.style.Write(token)
		}
	case xml.Directive:
		c.refuse(at, "a declaration stands here that leads to another file").Fix("delete it; a drawing needs none")
	case xml.ProcInst:
		if token.Target != "xml" {
			c.refuse(at, "an instruction for a program stands here").Fix("delete it; a drawing needs none")
		}
	}
	return true
}

func (c *svgCheck) broken(err error, end int) {
	if errors.Is(err, io.EOF) {
		return
	}
	var syntax *xml.SyntaxError
	why := err.Error()
	if errors.As(err, &syntax) {
		why = syntax.Msg
	}
	end = min(end, len(c.text.Source()))
	c.faults.Add(fault.At(c.text.Place(max(0, end-1), end), "this drawing is not whole: %s", why).
		Want("an SVG drawing that a browser shows").Fix("save it anew from the drawing program"))
}

const drawingHolds = "lines, shapes and words"

func (c *svgCheck) refuse(at fault.Place, format string, args ...any) *fault.Fault {
	f := fault.At(at.FirstLine(), format, args...).Want(drawingHolds)
	c.faults.Add(f)
	return f
}

func (c *svgCheck) element(e xml.StartElement, at fault.Place) {
	name := e.Name.Local
	c.depth++
	what, known := undrawn[strings.ToLower(name)]
	switch {
	case !c.opened && (name != "svg" || e.Name.Space != svgSpace):
		c.refuse(at, "this is no SVG drawing: it begins with <%s>", name).Want("a file that begins with <svg xmlns=%q", svgSpace)
		c.opened, c.foreign = true, true
		return
	case c.aside > 0 && e.Name.Space != svgSpace && !strings.Contains(e.Name.Space, "xhtml"):
		c.opened = true
		return // what a drawing program notes for itself, and nobody is shown
	case c.styled.Text != nil:
		c.refuse(at, "<%s> stands inside a style", name).Fix("take it out")
	case known:
		c.refuse(at, "<%s> stands in this drawing, which is %s", name, what).Fix("take it out, or save the drawing as plain SVG")
	case e.Name.Space != svgSpace || !drawn[name]:
		c.refuse(at, "<%s> stands in this drawing, which is neither line nor word", name).Fix("take it out, or save the drawing as plain SVG")
	}
	c.opened = true
	switch name {
	case "metadata":
		c.aside = c.depth
	case "style":
		c.styled = at
	}
	for _, a := range e.Attr {
		if c.faults.Len() >= mostDrawingFaults {
			return
		}
		c.attribute(name, a, at)
	}
}

// close checks a style as a whole when it ends: its text comes in pieces, and
// an address may be cut into several.
func (c *svgCheck) close(e xml.EndElement) {
	if e.Name.Local == "style" && c.styled.Text != nil {
		at := c.styled
		at.End = max(at.End, int(c.decoder.InputOffset()))
		c.look(c.style.String(), func() fault.Place { return at })
		c.style.Reset()
		c.styled = fault.Place{}
	}
	if c.depth == c.aside {
		c.aside = 0
	}
	c.depth--
}

// attribute checks one attribute of an element. Links and images may lead only
// to a place in the drawing itself, or hold the picture in themselves.
func (c *svgCheck) attribute(element string, a xml.Attr, at fault.Place) {
	name, value := strings.ToLower(a.Name.Local), strings.TrimSpace(a.Value)
	switch {
	case a.Name.Space == "xmlns" || name == "xmlns": // the name of a vocabulary, never fetched
	case strings.HasPrefix(name, "on"):
		c.refuse(attributePlace(at, a), "a program stands in the attribute %q", a.Name.Local).Fix("take the attribute out")
	case name == "href":
		embedded := element == "image" && (strings.HasPrefix(value, "data:image/png;") || strings.HasPrefix(value, "data:image/jpeg;"))
		if !strings.HasPrefix(value, "#") && !embedded {
			c.refuse(attributePlace(at, a), "this leads out of the drawing: %q", shortened(value)).Fix("take it out, or embed the picture in the drawing")
		}
	case name == "base" || name == "src" || name == "srcset" || name == "ping" || name == "background" || name == "action":
		c.refuse(attributePlace(at, a), "this leads out of the drawing: %q", shortened(value)).Fix("take it out")
	default:
		c.look(value, func() fault.Place { return attributePlace(at, a) })
	}
}

// attributePlace returns the place of an attribute's name, or of the whole
// element where it cannot be found.
func attributePlace(at fault.Place, a xml.Attr) fault.Place {
	if i := strings.Index(at.String(), a.Name.Local+"="); i >= 0 {
		return at.Sub(i, i+len(a.Name.Local))
	}
	return at
}

// fetching are the words of style sheets that fetch something, beside url.
var fetching = []string{"@import", "@font-face", "@namespace", "image(", "image-set(", "cross-fade(", "element(", "src(", "expression(", "javascript:", "//"}

// look checks what says how the drawing looks. An escape could hide an
// address in it, and so could a remark, and a drawing needs neither.
func (c *svgCheck) look(s string, at func() fault.Place) {
	low := strings.ToLower(s)
	for rest := low; ; {
		_, after, found := strings.Cut(rest, "url(")
		if !found {
			break
		}
		if !strings.HasPrefix(strings.TrimLeft(after, ` "'`), "#") {
			c.refuse(at(), "how this looks leads out of the drawing, by url(…)").Fix("take it out, or name a part of the drawing by #")
			return
		}
		rest = after
	}
	for _, word := range fetching {
		if strings.Contains(low, word) {
			c.refuse(at(), "how this looks is fetched from elsewhere, by %q", word).Fix("write it out in the drawing")
			return
		}
	}
	if strings.Contains(low, `\`) && (c.styled.Text != nil || strings.Contains(low, ":")) {
		c.refuse(at(), "how this looks is hidden by an escape").Fix("write it out in the drawing")
	}
}

func shortened(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
