package press_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
)

// isAccessible holds a page against the accessibility engine, and its colours in
// each look.
func (r *reader) isAccessible(t *testing.T, b *tab) {
	engine, err := os.ReadFile(filepath.Join(tools, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatalf("the accessibility engine (npm package axe-core) is missing: %v", err)
	}
	_, err = chromedp.Run(b, chromedp.Evaluate[any](string(engine)+"; null"))
	if err != nil && err != chromedp.ErrJSNull {
		t.Fatal(err)
	}
	for _, as := range []struct {
		look  look
		rules string
	}{{light, "undefined"}, {dark, `{runOnly: ["color-contrast", "link-in-text-block"]}`}} {
		b.show(screen{1280, 100, as.look})
		for _, violation := range js[[]string](b, "axe.run("+as.rules+
			").then(r => r.violations.map(v => v.id + ': ' + v.help + ' at ' + v.nodes.map(n => n.target.join(' ')).join(', ')))") {
			t.Errorf("%s: %s", as.look, violation)
		}
	}
}

// cellTells sees what a screen reader is given for one cell of a table.
func (r *reader) cellTells(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	tree := call(t, b.Context, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	var heads, cells []string
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil || n.Name == nil {
			continue
		}
		switch role, name := unquoted(n.Role), strings.Join(strings.Fields(unquoted(n.Name)), " "); role {
		case "rowheader", "columnheader":
			heads = append(heads, name)
		case "cell", "gridcell":
			cells = append(cells, name)
		}
	}
	for _, want := range []string{"16 gauge", "Run 9 metres"} {
		if !slices.Contains(heads, want) {
			t.Errorf("no head says %q: %q", want, heads)
		}
	}
	if !slices.ContainsFunc(cells, func(c string) bool { return strings.HasPrefix(c, "0.26 decibels") }) {
		t.Errorf("no cell says 0.26 decibels: %q", cells)
	}
}

// isValid holds every page against the W3C checker. The checker does not take
// 'self' to mean a neighbour on disk, hence the messages passed over.
func (r *reader) isValid(t *testing.T) {
	jar := filepath.Join(tools, "vnu-jar/build/dist/vnu.jar")
	if _, err := os.Stat(jar); err != nil {
		t.Fatalf("the W3C checker (npm package vnu-jar) is missing: %v", err)
	}
	out, err := exec.Command("java", "-Xss4m", "-jar", jar, "--skip-non-html", "--Werror",
		"--filterpattern", "Resource violates Content Security Policy.*(stylesheet|external script “(methods/)?[a-z0-9-]+\\.js”|image “drawings/).*", r.folder).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
