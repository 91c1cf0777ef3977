package render_test

import (
	"regexp"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/templates"
)

const decidingGuide = "```docket\ncode: D1\nquestion: Which way?\nanswer: It depends.\ntopics: wire\n```\n\n" +
	"```calc speaker-wire\nname: short\ngauge: 16 AWG\nrun: 2 m\nload: 8 ohm\nshow: loss\nfigure: far = run\n```\n\n" +
	"```decide\nname: way\nquestion: Which way to go?\nask: first = Is it *near*?\nask: second = Is it & was it dry?\n" +
	"rule: first is yes, verdict: do not connect, cautions: mains, answer: Go <figure:short.far> back.\n" +
	"rule: first is no and second is yes or don't know, answer: Go on.\notherwise: Ask.\n```\n"

// TestDecision sets a table that decides: every row and column has its head,
// the cautions stand before the answer, and the path leads to its own steps.
func TestDecision(t *testing.T) {
	g, faults := guide.Read(fault.NewText("which-way.md", decidingGuide), guide.Kit{Library: trade.Library()})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{g}, Edition: edition()})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	page, err := renderer(t, templates.Files).Guide(b.Leaves[0])
	if err != nil {
		t.Fatal(err)
	}
	body := string(page.Body)
	for _, want := range []string{
		`<th scope="col">Row</th><th scope="col"><span class="letter">A</span> <span class="words">Is it <em>near</em>?</span></th><th scope="col"><span class="letter">B</span> <span class="words">Is it &amp; was it dry?</span></th><th scope="col" class="result">Answer</th>`,
		`<th scope="row">1</th><td><span class="letter">A</span> <span class="asked">Is it <em>near</em>?</span> yes</td><td class="any"><span class="letter">B</span> <span class="asked">Is it &amp; was it dry?</span> does not matter</td>`,
		`<th scope="row">2</th><td><span class="letter">A</span> <span class="asked">Is it <em>near</em>?</span> no</td><td><span class="letter">B</span> <span class="asked">Is it &amp; was it dry?</span> yes or don&#39;t know</td>`,
		`<th scope="row">3</th><td colspan="2">in every other case</td>`,
		`<data value="way.rule-1">Heed first: <a href="#D1-C2">WARNING D1-C2</a>. <b>Do not connect</b>. Go <data value="short.far">2`,
		`<li id="D1-T2-Q1"><p class="ask">Is it <em>near</em>?</p>`,
		`<dt>No</dt><dd>go on at <a href="#D1-T2-Q2">question 2</a></dd>`,
		`<dt>Yes or don&#39;t know</dt><dd>Go on.</dd>`,
	} {
		if !strings.Contains(body, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if t.Failed() {
		t.Log(body[strings.Index(body, `<div class="grid decision"`):])
	}
	for _, m := range regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(body, -1) {
		if !strings.Contains(body, `id="`+m[1]+`"`) {
			t.Errorf("nothing on the page is called %s", m[1])
		}
	}
}

// TestAnsweredOnce: an answer that holds for a whole table leaves no note of a
// figure that is missing.
func TestAnsweredOnce(t *testing.T) {
	text := "```docket\ncode: D1\nquestion: How far?\nanswer: So far.\ntopics: wire\n```\n\n" +
		"```calc speaker-wire\nname: far\ngauge: 16 AWG\nrun: 3 m to 9 m by 3 m\nload: 8 ohm\nrows: run\nshow: loss\nmost: run where loss at most 0.3 dB\n```\n"
	g, faults := guide.Read(fault.NewText("far.md", text), guide.Kit{Library: trade.Library()})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	b, _ := bind.Bind(bind.Parts{Guides: []*guide.Guide{g}, Edition: edition()})
	page, err := renderer(t, templates.Files).Guide(b.Leaves[0])
	if err != nil {
		t.Fatal(err)
	}
	if body := string(page.Body); strings.Contains(body, "Note 1") || !strings.Contains(body, `value="far.most-run"`) {
		t.Errorf("the page says\n%s", body)
	}
}
