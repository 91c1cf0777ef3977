package render

import (
	"html/template"
	"strings"
	"testing"
)

// TestText escapes every sign as a template does, between elements and in an
// attribute.
func TestText(t *testing.T) {
	as := template.Must(template.New("").Parse(`<b title="{{.}}">{{.}}</b>`))
	for _, words := range []string{"", "plain", "°C, µF — “so”", allSigns()} {
		var want strings.Builder
		if err := as.Execute(&want, words); err != nil {
			t.Fatal(err)
		}
		got, err := set(func(f *forme) error {
			f.WriteString(`<b title="`)
			f.text(words)
			f.WriteString(`">`)
			f.text(words)
			f.WriteString("</b>")
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != want.String() {
			t.Errorf("%q is set as\n%s\nand a template sets it as\n%s", words, got, want.String())
		}
	}
}

// allSigns are all plain letters and signs.
func allSigns() string {
	var b strings.Builder
	for r := range rune(0x80) {
		b.WriteRune(r)
	}
	return b.String()
}
