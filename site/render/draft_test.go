package render

import (
	"bytes"
	"errors"
	"html/template"
	"slices"
	"strings"
	"testing"

	"bindpost/site/bind"
)

// longView fills a page that is handed on in several pieces.
type longView struct {
	Lines []string
	Words pieces
	Way   string
}

const longPage = `{{define "head"}}<title>{{.Code}}</title>{{end}}{{define "long"}}{{range .Lines}}<p>{{.}}</p>
{{end}}{{range .Words}}{{.}}{{else}}nothing{{end}} <a href="{{.Way}}">so</a>{{end}}`

// takes notes the pieces of a page; after a few it takes no more, if it is told so.
type takes struct {
	bytes.Buffer
	pieces, most int
}

var errFull = errors.New("no room")

func (w *takes) Write(p []byte) (int, error) {
	if w.pieces++; w.most > 0 && w.pieces > w.most {
		return 0, errFull
	}
	return w.Buffer.Write(p)
}

// TestDraft writes a long page in pieces, the same as it is set whole: also where
// the cast comes upon something that it cannot set when most of it is handed on.
func TestDraft(t *testing.T) {
	parsed := func() *template.Template { return template.Must(template.New("").Parse(longPage)) }
	view := longView{Words: slices.Values(slices.Repeat([]template.HTML{"<b>one</b>, "}, 4*enough/10))}
	for range 4 * enough / 10 {
		view.Lines = append(view.Lines, "a < b")
	}
	for _, way := range []string{"plain.html", "no plain way.html?x=1"} {
		view.Way = way
		d := (&Renderer{templates: &foundry{set: parsed()}}).draft("long", pageHead{Path: "long.html"}, nil, func(*asked) (any, error) { return view, nil })
		var want bytes.Buffer
		want.WriteString("<title></title>")
		if err := parsed().ExecuteTemplate(&want, "long", view); err != nil {
			t.Fatal(err)
		}
		want.WriteString(closing)
		page, err := d.Set()
		if err != nil || !bytes.Equal(page.HTML(), want.Bytes()) {
			t.Errorf("%q: held whole, the page differs from what html/template sets: %v", way, err)
		}
		var got takes
		if page, err = d.Write(&got); err != nil || !bytes.Equal(got.Bytes(), want.Bytes()) {
			t.Errorf("%q: in pieces, the page differs from what html/template sets: %v", way, err)
		}
		if page.Path != "long.html" || page.HTML() != nil || got.pieces < got.Len()/enough/2 || got.Len() < 4*enough {
			t.Errorf("%q: %d bytes were handed on in %d pieces", way, got.Len(), got.pieces)
		}
		if _, err := d.Write(&takes{most: 2}); !errors.Is(err, errFull) {
			t.Errorf("%q: a page that found no room fails with %v", way, err)
		}
	}
}

// TestAsked tells why what the page says of a guide could not be had.
func TestAsked(t *testing.T) {
	r := &Renderer{templates: &foundry{set: template.Must(template.New("").Parse(longPage))}}
	view := func(a *asked) (any, error) { return longView{Way: "so.html", Words: inOne(a.of(nil).Answer)}, nil }
	sets := func(*bind.Leaf) (*Set, error) { return nil, errFull }
	if _, err := r.draft("long", pageHead{}, sets, view).Set(); !errors.Is(err, errFull) {
		t.Errorf("the page fails with %v", err)
	}
}

// TestPieces holds rows that are made in pieces to the sentence that they are, in
// either order of their words.
func TestPieces(t *testing.T) {
	for join, want := range map[string]string{
		"{first}, {second}": "|a|a and b|a, b and c|a, b, c and d",
		"{second}; {first}": "|a|a and b|b; a and c|c; b; a and d",
	} {
		w := newWords(map[string]string{"table-join": join, "table-join-last": "{first} and {second}"})
		var rows []string
		for n := range 5 {
			rows = append(rows, string(joinPieces(w.joining(n, func(i int) template.HTML { return template.HTML("abcd"[i : i+1]) }))))
		}
		if got := strings.Join(rows, "|"); got != want {
			t.Errorf("%q joins %s, not %s", join, got, want)
		}
	}
	w := newWords(map[string]string{"where": "In {where}: {what} & {other}"})
	got := joinPieces(inTurn(inOne("So. "), w.filling("where", "where", inTurn(inOne("<b>"), inOne("</b>")), "what", "a < b")))
	if want := template.HTML("So. In <b></b>: a &lt; b &amp; {other}"); got != want {
		t.Errorf("a phrase is filled as %q, not %q", got, want)
	}
}
