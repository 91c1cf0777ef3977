package press_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"bindpost/site/press"
)

// named is a code with the side on which it is said to stand: "W1-T1 (151)" in
// the lists, "(L4, side 124)" elsewhere.
var named = regexp.MustCompile(`\b([A-Z]\d{1,2}(?:-[A-Z]?\d+)?)(?: \((\d+)\)|, side (\d+)\))`)

// numbersHold turns up each side that is named beside a code, and sees that the
// code stands there.
func numbersHold(t *testing.T, pdf []byte) {
	// as the text runs: columns of an index stay apart
	sides := strings.Split(strings.TrimSuffix(poppler(t, pdf, "pdftotext", "-", "-"), "\f"), "\f")
	found, faults := 0, 0
	for i, side := range sides {
		for _, m := range named.FindAllStringSubmatch(strings.Join(strings.Fields(side), " "), -1) {
			found++
			on, _ := strconv.Atoi(m[2] + m[3])
			if on < 1 || on > len(sides) || !strings.Contains(sides[on-1], m[1]) {
				faults++
				t.Errorf("side %d names %s, where %s does not stand", i+1, m[0], m[1])
			}
		}
	}
	if least := len(sides) / 2; found < least {
		t.Errorf("only %d sides are named in %d", found, len(sides))
	}
	t.Logf("%d of %d named sides are right", found-faults, found)
}

// cautionsStand prints the booklet's page once more, with a link to each caution
// and to what it guards, so that the print tells on which sides they lie: the
// last of the cautions before a step stands on the side on which the step begins.
func (r *reader) cautionsStand(t *testing.T) {
	b := r.tab(t, "booklet.html")
	pairs := js[[][]string](b, `Array.from(document.querySelectorAll(".caution[id]"), (caution, i) => {
		let step = caution.nextElementSibling
		if (!step || step.matches(".caution")) return null
		step = step.querySelector("h2, h3, p, caption, li") ?? step
		step.id ||= "step-" + i
		for (const to of [caution.id, step.id]) {
			const link = document.createElement("a")
			link.href = "#" + to
			link.textContent = "."
			document.querySelector("main > :last-child").append(link)
		}
		return [caution.id, step.id]
	}).filter(pair => pair)`)
	pdf, err := chromedp.Run(b, chromedp.PrintToPDF(inPrint))
	must(t, err)
	on, err := press.Destinations(pdf)
	must(t, err)
	for _, pair := range pairs {
		if from, to := on[pair[0]], on[pair[1]]; from == 0 || to != from {
			t.Errorf("%s stands on side %d, and what it guards (%s) begins on side %d", pair[0], from, pair[1], to)
		}
	}
	if len(pairs) == 0 {
		t.Error("no caution stands before a step")
	}
	t.Logf("%d cautions stand before a step", len(pairs))
}
