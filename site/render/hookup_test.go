package render_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/templates"
)

// hookupPage sets the hook-ups of the cases that pass.
func hookupPage(t *testing.T) (string, *guide.Guide) {
	t.Helper()
	a, err := txtar.ParseFile("../../testdata/guide/hookups.txtar")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(a.Files[0].Data), "topics: records", "topics: wire", 1)
	g, faults := guide.Read(fault.NewText("hookups.md", text), guide.Kit{Library: trade.Library()})
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
	return string(page.Body), g
}

// TestGoldenHookups compares drawn hook-ups with those that were looked at.
func TestGoldenHookups(t *testing.T) {
	body, _ := hookupPage(t)
	got := body[strings.Index(body, `<div class="hookup"`):]
	file := filepath.Join("testdata", "golden", "hookups.txt")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the drawings are not as they were; if they are right, run the test with -update\n%s", firstDifference(got, string(want)))
	}
}

var (
	drawing  = regexp.MustCompile(`(?s)<div class="hookup" id="([^"]+)".*?<svg viewBox="0 0 288 ([0-9.]+)".*?</svg>`)
	drawnEnd = regexp.MustCompile(`<text class="end" x="[0-9.]+" y="([0-9.]+)">([0-9, ]+)</text>`)
	drawnBox = regexp.MustCompile(`<path class="box" d="M1 ([0-9.]+)L([0-9.]+) [0-9.]+L[0-9.]+ ([0-9.]+)`)
	aLead    = regexp.MustCompile(`<path class="lead (lead-[a-z]+)( lead-speaker)?" d="M([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)"/>`)
)

// TestLeadsJoinTheirEnds holds each drawing to its steps: every lead begins in
// the row of the one end and ends in that of the other, both rows bear its
// number, it runs outside the boxes and inside the drawing, two leads never run
// on one another, and its dashes are those of its side.
func TestLeadsJoinTheirEnds(t *testing.T) {
	body, g := hookupPage(t)
	drawn := 0
	for _, d := range drawing.FindAllStringSubmatch(body, -1) {
		h := hookupOf(t, g, d[1])
		rows := map[string]map[string]bool{} // by the number of a lead, the heights at which it stands
		for _, m := range drawnEnd.FindAllStringSubmatch(d[0], -1) {
			for _, n := range strings.Split(m[2], ", ") {
				if rows[n] == nil {
					rows[n] = map[string]bool{}
				}
				rows[n][offset(t, m[1], -5.25)] = true
			}
		}
		whole := false // a lead drawn as an unbroken line; those in pieces are drawn before it
		for _, m := range aLead.FindAllStringSubmatch(d[0], -1) {
			if whole && m[1] != "lead-right" {
				t.Errorf("%s: a lead drawn as %s lies over an unbroken one", d[1], m[1])
			}
			whole = whole || m[1] == "lead-right"
		}
		leads := leadsBySteps(aLead.FindAllStringSubmatch(d[0], -1), rows)
		if len(leads) != len(h.Steps) {
			t.Fatalf("%s has %d leads for %d steps", d[1], len(leads), len(h.Steps))
		}
		for i, m := range leads {
			drawn++
			n := strconv.Itoa(i + 2)
			if len(rows[n]) != 2 || !rows[n][m[4]] || !rows[n][m[10]] {
				t.Errorf("%s: lead %s goes from %s to %s, and its number stands at %v", d[1], n, m[4], m[10], rows[n])
			}
			side := map[string]string{"left": "lead-left", "right": "lead-right", "": "lead-one"}[h.Steps[i].Side]
			if h.Steps[i].Ground {
				side = "lead-ground"
			}
			if m[1] != side || (m[2] != "") != h.Steps[i].Speaker {
				t.Errorf("%s: lead %s is drawn as %s%s", d[1], n, m[1], m[2])
			}
			lane := number(t, m[5])
			for _, box := range drawnBox.FindAllStringSubmatch(d[0], -1) {
				if edge := number(t, box[2]); lane <= edge || lane > 287 || number(t, m[3]) != edge {
					t.Errorf("%s: lead %s runs at %v, beside a box that ends at %v", d[1], n, lane, edge)
				}
			}
			for k, o := range leads[:i] {
				if o[5] == m[5] && between2(t, o, m) && h.Steps[k].From != h.Steps[i].From {
					t.Errorf("%s: leads %d and %s run on one another", d[1], k+2, n)
				}
			}
		}
	}
	if drawn < 20 {
		t.Errorf("only %d leads were drawn", drawn)
	}
}

// leadsBySteps puts leads, which are drawn in any order, into that of the numbers
// that stand at both of their ends. One that fits no number is the last.
func leadsBySteps(drawn [][]string, rows map[string]map[string]bool) [][]string {
	var leads [][]string
	for n := 2; len(drawn) > 0; n++ {
		at := slices.IndexFunc(drawn, func(m []string) bool {
			on := rows[strconv.Itoa(n)]
			return n > len(rows)+1 || on[m[4]] && on[m[10]]
		})
		if at >= 0 {
			leads = append(leads, drawn[at])
			drawn = slices.Delete(drawn, at, at+1)
		}
	}
	return leads
}

// between2 reports whether two leads stand beside each other at some height.
func between2(t *testing.T, a, b []string) bool {
	t.Helper()
	top := func(m []string) float64 { return min(number(t, m[4]), number(t, m[10])) }
	foot := func(m []string) float64 { return max(number(t, m[4]), number(t, m[10])) }
	return top(a) < foot(b) && top(b) < foot(a)
}

// offset moves a height, and writes it as a drawing does.
func offset(t *testing.T, at string, by float64) string {
	t.Helper()
	return strconv.FormatFloat(number(t, at)+by, 'f', -1, 64)
}

func hookupOf(t *testing.T, g *guide.Guide, number string) *guide.Hookup {
	t.Helper()
	for _, table := range g.Tables {
		if table.Number == number {
			return table.Hookup
		}
	}
	t.Fatalf("no drawing %s", number)
	return nil
}

// TestHookupTells holds the words of a hook-up: the steps begin with the plugs
// out and end with them in, the cautions stand before them, colours stand beside
// their side, and what nobody must join has no steps.
func TestHookupTells(t *testing.T) {
	body, _ := hookupPage(t)
	for _, want := range []string{
		"<li>Turn the volume to zero, switch every box off, and pull all mains plugs.</li>\n<li>The white or black phono plug (left) on the lead of the record player goes into the left socket marked PHONO of the integrated amplifier.</li>",
		"<li>The thin ground wire of the record player goes under the screw marked GND of the integrated amplifier, and nowhere else.</li>\n<li>Look over every lead once more.",
		"<li>Phono lead: the red phono plug (right) goes into the right socket marked LINE OUT of the CD player, and the one at its far end into the right socket marked CD of the parlour amplifier. Length: 1",
		"<li>Stereo 3.5 mm to phono lead: the 3.5 mm plug goes into the socket marked HEADPHONES of the telephone or computer, and the white or black phono plug (left) at its far end",
		"<li>The red phono plug (right) of the same lead goes into the right socket marked AUX of the parlour amplifier.</li>",
		"<li>From the left terminals marked SPEAKERS of the parlour amplifier to the left loudspeaker: the red terminal to the red one, the black terminal to the black one. At the amplifier: bare end; at the loudspeaker: 4 mm plug.",
		"<li>A lead, of which it is not known what it is, goes from the socket marked MYSTERY of the club&#39;s mixer to the left socket marked TUNER of the integrated amplifier.</li>",
		"<b>Hook-up: fits.</b>", "<b>Hook-up: doubtful.</b>", "<b>Hook-up: ask first.</b>", "<b>Hook-up: do not connect.</b>",
		"<b>doubtful</b>. Signal at both ends: line. Plugs and sockets go together. The impedances are not known.",
		"<b>do not connect</b>. Phono preamplifiers in the chain: 2, and 1 is wanted.",
		"<dt>GND</dt><dd>The screw marked GND beside the phono input. The signal that goes in: ground.</dd>",
	} {
		if !strings.Contains(body, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	first := body[strings.Index(body, `id="H1-D1"`):]
	if heed, steps := strings.Index(first, `class="heed-first"`), strings.Index(first, "The same in steps"); heed < 0 || heed > steps {
		t.Error("the cautions do not stand before the steps")
	}
	never := body[strings.Index(body, `id="H1-D5"`):strings.Index(body, `id="H1-D6"`)]
	if strings.Contains(never, "The same in steps") || !strings.Contains(never, "Do not connect it like this.") {
		t.Error("what nobody must join is told in steps, or is not told to be so")
	}
}
