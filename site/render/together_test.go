package render

import (
	"slices"
	"testing"
)

// TestMerged puts the scripts of pages in one order, in which those of each page
// stand as they do there.
func TestMerged(t *testing.T) {
	var all []string
	pages := [][]string{{"first", "a", "last"}, {"find"}, {"first", "b", "c", "last", "after"}, {"c", "d"}, nil}
	for _, p := range pages {
		all = merged(all, p)
	}
	if len(all) != 8 {
		t.Errorf("merged are %q", all)
	}
	for _, p := range pages {
		at := -1
		for _, name := range p {
			i := slices.Index(all, name)
			if i <= at {
				t.Errorf("%q does not stand in its place in %q", name, all)
			}
			at = i
		}
	}
}

// TestEnclosed keeps a script from ending the element that it stands in.
func TestEnclosed(t *testing.T) {
	if got := string(enclosed([]byte(`s = "</script>"`))); got != `s = "<\/script>"` {
		t.Errorf("got %s", got)
	}
}

func TestCSSText(t *testing.T) {
	for text, want := range map[string]string{
		`Is "this" it? `:    `"Is \22 this\22  it? "`,
		`a\b</style>é`:      `"a\5c b\3c /style>é"`,
		"two\nlines – good": `"two\a lines – good"`,
	} {
		if got := cssText(text); got != want {
			t.Errorf("%q became %s, want %s", text, got, want)
		}
	}
	if got, want := cssName("K3-T1"), `K\33 -T\31 `; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
