package press_test

import (
	"html"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"bindpost/site/bind"
)

// TestWorkings presses a copy whose imprint asks for the workings: each guide
// with a block has a page of them, on which the block stands as it was written
// and the rule of its method, with those that it borrows from.
func TestWorkings(t *testing.T) {
	copied := func(workings string) fstest.MapFS {
		return fstest.MapFS{
			"imprint.yaml": &fstest.MapFile{Data: []byte(plainImprint + workings)},
			"sub/own.md":   guideText("A1", "It loses <figure:run.lost>.", runBlock("run", "9 m")),
			"plain.md":     guideText("B1", "In words.", "Words.\n"),
		}
	}
	files := made(t, copied("workings: yes\n"))
	page := files["workings/A1.html"]
	block, _, _ := strings.Cut(strings.TrimPrefix(runBlock("run", "9 m"), "```"), "\n```")
	if text := html.UnescapeString(anyMark.ReplaceAllString(page, "")); !strings.Contains(text, block) {
		t.Errorf("the block does not stand in\n%s", text)
	}
	for _, want := range []string{
		`<a href="../sub/own.html#A1-T1">A1-T1</a>`, `<a href="../rules/speaker-wire.html">speaker-wire</a>`, `<a href="../rules/wire-resistance.html">`,
		`<span class="block-k">calc</span> <span class="block-n">speaker-wire</span>`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the workings do not hold %s", want)
		}
	}
	for _, want := range []string{
		`<span class="block-n">loss</span> = 20`, `<b>run</b>: the run of wire; one way; 0.03`, "0.4188566435", ", Read in: ",
		`<a href="wire-resistance.html">`, `Made with it: <a href="../sub/own.html#A1-T1">A1-T1</a>.`,
	} {
		if !strings.Contains(files["rules/speaker-wire.html"], want) {
			t.Errorf("the rule does not hold %s", want)
		}
	}
	if !strings.Contains(files["sub/own.html"], `<a href="../workings/A1.html">`) || !strings.Contains(files[bind.WorkingsPath], `<a href="workings/A1.html">`) {
		t.Error("no way leads to the workings")
	}
	if _, there := files["workings/B1.html"]; there || strings.Contains(files["plain.html"], "workings/") {
		t.Error("a guide without a block has workings")
	}
	for name, text := range made(t, copied("workings: no\n")) {
		if strings.HasPrefix(name, "workings") || strings.HasPrefix(name, "rules") || path.Ext(name) == ".html" && strings.Contains(text, "orkings") {
			t.Errorf("%s tells of workings that are not wanted", name)
		}
	}
	name, single := singleOf(t, copied("workings: yes\n"), "A1")
	if name != "sub-own.html" || !strings.Contains(single, `<a href="#A1-workings">`) || !strings.Contains(single, `<a href="#A1-T1">A1-T1</a>`) || !strings.Contains(single, `<a href="#rule-speaker-wire">`) {
		t.Error("the page of one guide does without its workings")
	}
}
