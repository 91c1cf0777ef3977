package press_test

import (
	"fmt"
	"strings"
	"testing"
)

// ownLeads sees that an answer below cautions is told of first, that the
// reader's keyboard and view are at the head of the reply, and that a single
// caution is not spoken of as several.
func (r *reader) ownLeads(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	b.put("W1-T1", map[string]string{"Run (one way)": "12", "Load (rated)": "4"})
	cautions := js[int](b, `document.querySelectorAll("#W1-T1-own .cautions .caution").length`)
	if cautions < 2 {
		t.Fatalf("only %d cautions stand before the answer", cautions)
	}
	said := js[string](b, `document.activeElement.textContent`)
	if want := "The answer stands below 2 cautions"; cautions == 2 && !strings.HasPrefix(said, want) {
		t.Errorf("the keyboard is at %q, want %q", said, want)
	}
	if !js[bool](b, `document.activeElement === document.querySelector("#W1-T1-own [role=status] p")`) {
		t.Errorf("the head of the reply is not where the keyboard is, which is at %q", said)
	}
	if top := js[float64](b, `document.activeElement.getBoundingClientRect().top`); top < 0 || top > 100 {
		t.Errorf("the head of the reply is %v below the head of the screen", top)
	}
	if !js[bool](b, `document.activeElement.getBoundingClientRect().width > 100`) {
		t.Error("the line at the head is only heard")
	}
}

// ownCopied selects the page with an answer on it, as one who copies it, and
// sees that no words come along that are only heard.
func (r *reader) ownCopied(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	b.put("W1-T1", map[string]string{"Run (one way)": "12", "Load (rated)": "4"})
	heard := js[int](b, `document.querySelectorAll("main .spoken, article .spoken").length`)
	loose := js[[]string](b, `Array.from(document.querySelectorAll(".spoken, .spoken *")).filter(e => getComputedStyle(e).userSelect !== "none").map(e => e.outerHTML)`)
	if heard < 100 || len(loose) > 0 {
		t.Errorf("of %d words that are only heard these can be copied: %.300q", heard, loose)
	}
	copied := js[string](b, `(() => { getSelection().selectAllChildren(document.body); return getSelection().toString().replace(/\u00a0/g, " "); })()`)
	if !strings.Contains(copied, "Loss comes to "+lossOf(t, "12 m", "4 ohm")) {
		_, from, _ := strings.Cut(copied, "Loss comes")
		t.Errorf("the answer is not copied: %.80q", from)
	}
	for _, twice := range []string{"dB decibels", "dBdecibels", "mmetres", "m metres", "Ωohms", "Ω ohms", "mm²square"} {
		if strings.Contains(copied, twice) {
			t.Errorf("%q is copied", twice)
		}
	}
}

// ownOpenedNear sees that in a book of one page a form is opened only when its
// table is at hand: on the screen, at an address, or beside the keyboard.
func ownOpenedNear(t *testing.T, b *tab, address string) {
	const frames = "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 200))))"
	const isOpen = "!document.getElementById(%q).hidden"
	all, opened := js[int](b, `document.querySelectorAll(".own").length`), js[int](b, `document.querySelectorAll(".own:not([hidden])").length`)
	if all < 50 || opened > all/5 {
		t.Errorf("of %d forms %d are opened before anybody comes near one", all, opened)
	}
	last := js[string](b, `Array.from(document.querySelectorAll(".own")).pop().id`)
	first := js[string](b, `document.querySelector(".own").id`)
	b.visit("about:blank")
	b.visit(address + "#" + strings.TrimSuffix(last, "-own"))
	js[bool](b, frames+".then(() => true)")
	if !js[bool](b, fmt.Sprintf(isOpen, last)) || js[bool](b, fmt.Sprintf(isOpen, first)) {
		t.Error("an address opens another form than that of its table")
	}
	if off := js[float64](b, fmt.Sprintf(`document.getElementById(%q).getBoundingClientRect().top`, strings.TrimSuffix(last, "-own"))); off < -200 || off > 500 {
		t.Errorf("the table at the address is %v below the head of the screen", off)
	}
	middle := js[string](b, `document.querySelectorAll(".own")[60].id`)
	if js[bool](b, fmt.Sprintf(isOpen, middle)) {
		t.Fatalf("%s is open already", middle)
	}
	js[bool](b, fmt.Sprintf(`(document.getElementById(%q).parentElement.scrollIntoView(), %s.then(() => true))`, middle, frames))
	if !js[bool](b, fmt.Sprintf(isOpen, middle)) {
		t.Error("the form of a table on the screen is not open")
	}
	key := js[string](b, `(() => {
		const places = Array.from(document.querySelectorAll(".own")), links = Array.from(document.links);
		const behind = (one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING;
		const before = place => links.filter(a => behind(a, place)).pop();
		// Where no link stands between two forms, the keyboard comes from the first.
		const at = places.findIndex((p, i) => i > 90 && p.hidden && behind(places[i - 1], before(p)));
		before(places[at]).focus({ preventScroll: true });
		return places[at].hidden ? places[at].id : "";
	})()`)
	if key != "" {
		t.Errorf("the keyboard stands before %s, and it is not open", key)
	}
}
