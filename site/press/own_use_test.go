package press_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// put puts values into the form under a table, by the labels of its fields,
// and works with them; it returns what the form then says.
func (b *tab) put(table string, values map[string]string) ownSaid {
	b.t.Helper()
	text, err := json.Marshal(values)
	must(b.t, err)
	return js[ownSaid](b, fmt.Sprintf(`(() => { %s
		const own = document.getElementById(%q), values = %s;
		own.querySelectorAll("button")[1].click();
		for (const label of own.querySelectorAll("label")) {
			const text = seen(label);
			if (!(text in values)) continue;
			label.control.value = values[text];
			label.control.dispatchEvent(new Event("input", { bubbles: true }));
			delete values[text];
		}
		if (Object.keys(values).length) return { Answer: "no field " + Object.keys(values) };
		own.querySelector("button[type=submit]").click();
		const faults = Array.from(own.querySelectorAll(".fault"), seen);
		const at = Array.from(own.querySelectorAll("[aria-invalid=true]"), e => seen(e.labels[0]) + ": " +
			e.getAttribute("aria-describedby").split(" ").map(id => seen(document.getElementById(id))).join(" "));
		return { Answer: seen(own.querySelector(".told")), Cautions: seen(own.querySelector(".cautions")), Steps: seen(own.querySelector(".worked")),
			Faults: faults, At: at, Focus: document.activeElement.labels && document.activeElement.labels.length ? seen(document.activeElement.labels[0]) : "" };
	})()`, seen, table+"-own", text))
}

// ownSaid is what a form says when it was asked.
type ownSaid struct {
	Answer, Cautions, Steps string
	Faults                  []string // as they are written
	At                      []string // of each field at fault its label and all that describes it
	Focus                   string   // the label of the field that the keyboard is in
}

// ownOtherUnits types values in other units of their kind, and sees that the
// answer is that of the method.
func (r *reader) ownOtherUnits(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	for typed, run := range map[string]string{"12": "12 m", "20 ft": "20 ft", "20 feet": "20 ft", "5 ft 6 in": "5 ft 6 in", "1200 cm": "1200 cm"} {
		said := b.put("W1-T1", map[string]string{"Run (one way)": typed, "Load (rated)": "4"})
		if want := "Loss comes to " + lossOf(t, run, "4 ohm"); !strings.Contains(said.Answer, want) {
			t.Errorf("with a run of %s the answer is %q, want %q", typed, said.Answer, want)
		}
		for _, name := range []string{"wire", "loss"} {
			if !strings.Contains(said.Steps, name) {
				t.Errorf("with a run of %s the working has no step %q: %q", typed, name, said.Steps)
			}
		}
		for _, word := range []string{"WARNING", "Ordinary speaker wire", "CAUTION", "Whom to ask"} {
			if !strings.Contains(said.Cautions, word) {
				t.Errorf("the cautions are not whole: no %q in %q", word, said.Cautions)
			}
		}
	}
}

// lossOf works the method that the page works, with the table's other values.
func lossOf(t *testing.T, run, load string) string {
	t.Helper()
	m, _ := trade.Library().Method("speaker-wire")
	v := method.Values{}
	for name, text := range map[string]string{"run": run, "load": load, "gauge": "16 AWG", "strands": "stranded"} {
		p, faults := m.Sheet().Input(name).Read(fault.NewText("", text).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		v[name] = p
	}
	return m.Sheet().Result("loss").Text(m.Run(v, "loss").Results.Of("loss"))
}

// ownAlong sees that the figure stands for every row of the table, with the
// words of the limit beside those that pass it.
func (r *reader) ownAlong(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	said := b.put("W1-T1", map[string]string{"Run (one way)": "12", "Load (rated)": "4"})
	for _, want := range []string{"10 AWG, 0.18 dB;", "14 AWG, 0.43 dB;", "16 AWG, " + lossOf(t, "12 m", "4 ohm") + " (too thin)", "Beyond the limit of this table, loss at most 0.5 dB: too thin"} {
		if !strings.Contains(said.Answer, want) {
			t.Errorf("the answer has no %q: %q", want, said.Answer)
		}
	}
	if said := b.put("W1-T1", map[string]string{"Run (one way)": "2"}); !strings.Contains(said.Answer, "Within the limit") {
		t.Errorf("a figure within the limit is not told to be: %q", said.Answer)
	}
}

// ownRefuses types what cannot be worked with.
func (r *reader) ownRefuses(t *testing.T) {
	b := r.tab(t, "index.html")
	for _, c := range []struct {
		name, page, table string
		values            map[string]string
		field             string
		says              []string
	}{
		{"too long", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "4000 m"}, "Run (one way)", []string{"4000 m", "0.03 m to 150 m"}},
		{"too short, in another unit", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "1 in"}, "Run (one way)", []string{"1 in", "0.03 m to 150 m"}},
		{"another kind of unit", "speaker-wire.html", "W1-T1", map[string]string{"Load (rated)": "4 kg"}, "Load (rated)", []string{"“4 kg” is in another kind of unit", "ohms"}},
		{"a unit that is none", "speaker-wire.html", "W1-T1", map[string]string{"Load (rated)": "4 florins"}, "Load (rated)", []string{"“4 florins” has a unit that is not known", "ohms"}},
		{"a number over nothing", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "1/0"}, "Run (one way)", []string{"“1/0” cannot be read"}},
		{"from one to another", "speaker-wire.html", "W1-T1", map[string]string{"Load (rated)": "4-8"}, "Load (rated)", []string{"One value is wanted here", "“4-8”"}},
		{"more or less", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "9 ± 1 m"}, "Run (one way)", []string{"One value is wanted here", "“9 ± 1 m”"}},
		{"two gauges", "speaker-wire.html", "W1-T1", map[string]string{"Gauge": "16, 18"}, "Gauge", []string{"One value is wanted here", "“16, 18”"}},
		{"from to in words", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "9 to 12 m"}, "Run (one way)", []string{"One value is wanted here", "“9 to 12 m”"}},
		{"text without end", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": strings.Repeat("word ", 1000)}, "Run (one way)", []string{"“word word word word word word word word …” is too long"}},
		{"a temperature on another scale", "speaker-wire.html", "W1-T1", map[string]string{"Temperature": "300 K"}, "Temperature", []string{"“300 K” has a unit that is not taken here", "degrees Celsius"}},
		{"a mark for thousands", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "1,000"}, "Run (one way)", []string{"“1,000” stands a mark for thousands"}},
		{"beyond all numbers", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "1e400"}, "Run (one way)", []string{"“1e400” is too large"}},
		{"no number", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": "long"}, "Run (one way)", []string{"“long”"}},
		{"nothing", "speaker-wire.html", "W1-T1", map[string]string{"Run (one way)": ""}, "Run (one way)", []string{"A value is wanted here"}},
		{"two of which one is wanted", "speaker-wire.html", "W1-T1", map[string]string{"Size": "2.5"}, "Size", []string{"Only one of these", "Gauge, Size and Measured"}},
		{"none of which one is wanted", "speaker-wire.html", "W1-T1", map[string]string{"Gauge": ""}, "Gauge", []string{"One of these is wanted", "Gauge, Size and Measured"}},
		{"not in the list", "speaker-wire.html", "W1-T2", map[string]string{"Size": "3"}, "Size", []string{"3 mm²", "2.5 mm²"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b.visit(r.address(c.page))
			said := b.put(c.table, c.values)
			if len(said.Faults) != 1 || len(said.At) != 1 || said.Answer != "" || said.Steps != "" {
				t.Fatalf("one fault and nothing else is wanted: %+v", said)
			}
			if said.Focus != c.field || !strings.HasPrefix(said.At[0], c.field+": ") {
				t.Errorf("the fault stands at %q, and the keyboard is in %q; want %q", said.At[0], said.Focus, c.field)
			}
			for _, want := range c.says {
				if !strings.Contains(said.Faults[0], want) || !strings.Contains(said.At[0], want) {
					t.Errorf("the fault does not say %q: %+v", want, said)
				}
			}
		})
	}
}

// ownUnknown replies that a fact is not known, and then another.
func (r *reader) ownUnknown(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	for _, c := range []struct{ load, want string }{
		{"don't know", "Loss cannot be told (the speaker's rated impedance is not known)"},
		{"Don’t know", "Loss cannot be told (the speaker's rated impedance is not known)"},
	} {
		if said := b.put("W1-T1", map[string]string{"Load (rated)": c.load}); !strings.Contains(said.Answer, c.want) || len(said.Faults) > 0 {
			t.Errorf("with %q the answer is %+v, want %q", c.load, said, c.want)
		}
	}
	for _, reply := range []string{"dont know", "I don't know.", "?", "??", "Not known"} {
		said := b.put("W1-T1", map[string]string{"Load (rated)": reply})
		if !strings.Contains(said.Answer, "Loss cannot be told (the speaker's rated impedance is not known)") {
			t.Errorf("%q is not read as don't know: %+v", reply, said)
		}
	}
	if said := b.put("W1-T1", map[string]string{"Gauge": "don't know"}); !strings.Contains(said.Answer, "gauge") || strings.Contains(said.Answer, "measured") {
		t.Errorf("the gauge was not known, and the answer is %q", said.Answer)
	}
	said := b.put("W1-T1", map[string]string{"Metal": "don't know"})
	if want := "Not known, and taken as usual: metal copper"; !strings.Contains(said.Answer, want) {
		t.Errorf("what stands in is not told: %q", said.Answer)
	}
}

// ownBack has other numbers answered, and then the book's put back.
func (r *reader) ownBack(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	const fields = `JSON.stringify(Array.from(document.querySelectorAll("#W1-T1-own input, #W1-T1-own select"), e => e.value))`
	before := js[string](b, fields)
	b.put("W1-T1", map[string]string{"Run (one way)": "12", "Metal": "clad", "Cladding": "10"})
	if js[string](b, fields) == before {
		t.Fatal("the fields did not change")
	}
	js[bool](b, `document.querySelector("#W1-T1-own button[type=button]").click(), true`)
	if after := js[string](b, fields); after != before {
		t.Errorf("the fields hold %s, and the book's example is %s", after, before)
	}
	left := js[string](b, `document.querySelector("#W1-T1-own [role=status]").textContent.trim() + document.querySelector("#W1-T1-own .worked").textContent`)
	if left != "The book's example stands in the fields again." {
		t.Errorf("what is left says %q", left)
	}
}

// ownKeeps sees that nothing is kept and nothing sent: the page asks for
// nothing, its address stays, and another opening finds the book's example.
func (r *reader) ownKeeps(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	address := js[string](b, "location.href")
	before, _ := b.heard()
	b.put("W1-T1", map[string]string{"Run (one way)": "12"})
	after, troubles := b.heard()
	if len(after) != len(before) || len(troubles) > 0 {
		t.Errorf("asked for %q, troubles %q", after[len(before):], troubles)
	}
	if now := js[string](b, "location.href"); now != address || js[bool](b, "localStorage.length + sessionStorage.length > 0") {
		t.Errorf("something was kept; the address is %s", now)
	}
	b.visit(address)
	if run := js[string](b, `document.getElementById("W1-T1-own-run").value`); run != "9" {
		t.Errorf("opened again the field holds %q", run)
	}
}

// ownWithoutScripts sees that no form shows where no script can work it.
func (r *reader) ownWithoutScripts(t *testing.T) {
	b := r.tab(t, "index.html")
	call(t, b.Context, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	b.visit(r.address("speaker-wire.html"))
	if shown := js[int](b, `Array.from(document.querySelectorAll(".own, input, button, select")).filter(e => e.checkVisibility()).length`); shown > 0 {
		t.Errorf("%d pieces of forms show without scripts", shown)
	}
	if js[bool](b, `document.body.innerText.includes("Your own numbers")`) {
		t.Error("the words of the form show without scripts")
	}
}

// ownOnScreens sees forms with an answer and with a fault on every screen, and
// holds them against the accessibility engine.
func (r *reader) ownOnScreens(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	for name, run := range map[string]string{"with an answer": "12", "with a fault": "4000 m"} {
		t.Run(name, func(t *testing.T) {
			b.put("W1-T1", map[string]string{"Run (one way)": run})
			for _, s := range screens() {
				b.show(s)
				if wide := js[int64](b, "document.documentElement.scrollWidth"); wide > s.width {
					t.Errorf("%s: the page is %d wide", s, wide)
				}
				small := js[[]string](b, `Array.from(document.querySelectorAll("#W1-T1-own button, #W1-T1-own input, #W1-T1-own select"))
					.map(e => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.width < 24 || r.height < 24 || r.left < 0 || r.right > innerWidth)
					.map(([e, r]) => e.id + " " + r.left + " to " + r.right)`)
				if len(small) > 0 {
					t.Errorf("%s: too small, or cut off: %q", s, small)
				}
			}
			r.isAccessible(t, b)
		})
	}
}

// ownPrints sees that an answer is printed as the reader's own, and that no
// empty form is.
func (r *reader) ownPrints(t *testing.T) {
	plain := func(*page.PrintToPDFParams) {}
	if text := strings.Join(r.sides(t, "speaker-wire.html", plain), ""); strings.Contains(text, "Your own numbers") {
		t.Error("a form without an answer is printed")
	}
	b := r.tab(t, "speaker-wire.html")
	b.put("W1-T1", map[string]string{"Run (one way)": "12.5", "Load (rated)": "4"})
	text := strings.Join(strings.Fields(strings.Join(b.sides(plain), " ")), " ")
	for _, want := range []string{
		"Your own numbers, not the book's", "Run (one way) 12.5 metres", "Strands stranded", "Loss comes to " + lossOf(t, "12.5 m", "4 ohm"), "Worked with your own numbers",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on paper", want)
		}
	}
	if strings.Contains(text, "The copper share of the clad wire") {
		t.Error("a field that was left empty is printed")
	}
	if strings.Contains(text, "Work with these numbers") || strings.Count(text, "Your own numbers") != 1 {
		t.Error("buttons, or forms that were not answered, are printed")
	}
}

// sides prints the page as it stands and returns the text of each side.
func (b *tab) sides(set chromedp.PDFOption) []string {
	b.t.Helper()
	pdf, err := chromedp.Run(b, chromedp.PrintToPDF(set))
	must(b.t, err)
	return strings.Split(strings.TrimSuffix(poppler(b.t, pdf, "pdftotext", "-layout", "-", "-"), "\f"), "\f")
}

// newcomer goes the way of somebody who has never seen the book and has
// two numbers: from the cover to the answer for 12 m and 4 ohm in three steps,
// each by what a reader hears or reads.
func (r *reader) newcomer(t *testing.T) {
	b := r.tab(t, "index.html")
	b.follow("Wire")
	b.follow("How thick must speaker wire be?")
	b.fill("Run (one way)", "12")
	b.fill("Load (rated)", "4\r")
	said := js[string](b, `(() => { `+seen+` return seen(document.activeElement.closest("form").querySelector("[role=status]")); })()`)
	if want := "Loss comes to " + lossOf(t, "12 m", "4 ohm"); !strings.Contains(said, want) || !strings.Contains(said, "14 AWG, 0.43 dB;") {
		t.Errorf("the answer is %q, want %q and the gauge that will do", said, want)
	}
}

// named finds the first thing of a role whose name is the one that is meant,
// as those who listen find it.
func (b *tab) named(role, name string) *accessibility.Node {
	b.t.Helper()
	tree := call(b.t, b.Context, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	i := slices.IndexFunc(tree.Nodes, func(n *accessibility.Node) bool {
		return !n.Ignored && n.Role != nil && n.Name != nil && unquoted(n.Role) == role &&
			strings.Join(strings.Fields(unquoted(n.Name)), " ") == name
	})
	if i < 0 {
		b.t.Fatalf("no %s %q is on the page", role, name)
	}
	return tree.Nodes[i]
}

// follow goes where a link of a name leads.
func (b *tab) follow(name string) {
	b.t.Helper()
	before := js[string](b, "location.href")
	b.focus(b.named("link", name))
	b.keys("\r")
	for range 100 {
		if now := js[string](b, "document.readyState === 'complete' ? location.href : ''"); now != before && now != "" {
			return
		}
	}
	b.t.Fatalf("the link %q leads nowhere", name)
}

// fill types a value in the first field of a name, in the place of what stood
// there.
func (b *tab) fill(name, value string) {
	b.t.Helper()
	b.focus(b.named("textbox", name))
	js[bool](b, "document.activeElement.select(), true")
	b.keys(value)
}

func (b *tab) focus(n *accessibility.Node) {
	b.t.Helper()
	call(b.t, b.Context, dom.Focus, dom.FocusParams{BackendNodeID: n.BackendDOMNodeID})
}

// keys presses the keys of a text, each down and up.
func (b *tab) keys(text string) {
	b.t.Helper()
	for _, c := range text {
		key := string(c)
		down := input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Text: key, Key: key}
		if c == '\r' {
			down.Key, down.Code, down.WindowsVirtualKeyCode = "Enter", "Enter", 13
		}
		call(b.t, b.Context, input.DispatchKeyEvent, down)
		down.Type, down.Text = input.DispatchKeyEventTypeKeyUp, ""
		call(b.t, b.Context, input.DispatchKeyEvent, down)
	}
}
