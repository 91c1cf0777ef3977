// Package phrase holds the words of a language: a file with a line for each
// text, its key, a colon and the words. A text that differs from its original
// has a second line under it, with the original it was made from:
//
//	answer: Short answer
//	strip-colour: Color
//	  from: Colour
//
// So words that are older than their original can be told from words that are
// up to date. A line that starts with # is a remark. {name} stands for what is
// put in there.
package phrase

import (
	"regexp"
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// Original is a text as it was first written, with the key by which other
// languages name it.
type Original struct {
	Key, Words string
	Known      bool // others have words for it already: a file need not
}

// Words are those of one language, by key. They do not change once read, and
// a nil *Words is a language that leaves every original as it stands.
type Words struct {
	text    *fault.Text
	entries map[string]*entry
	order   []string
}

// entry is one text in the language.
type entry struct {
	words string
	from  string      // the original it was made from; the words themselves where none is named
	place fault.Place // of the words
	key   fault.Place
	of    fault.Place // of the original, where it is named
}

// fromMark begins the line that holds an original.
const fromMark = "from: "

const lineShape = "a key, a colon and the words, such as: answer: Short answer"

// Read reads a file of words.
func Read(t *fault.Text) (*Words, *fault.List) {
	w, faults := &Words{text: t, entries: map[string]*entry{}}, &fault.List{}
	var last *entry
	for n := 1; t.Offset(n, 1) < len(t.Source()); n++ {
		at := t.Offset(n, 1)
		line := t.Place(at, at+len(t.Line(n)))
		trimmed := line.Trim()
		switch text := trimmed.String(); {
		case text == "" || strings.HasPrefix(text, "#"):
		case trimmed.Start > line.Start && strings.HasPrefix(text, fromMark):
			faults.Add(last.madeFrom(trimmed))
		default:
			last = w.add(trimmed, faults)
		}
	}
	return w, faults
}

// add reads the line of one text.
func (w *Words) add(line fault.Place, faults *fault.List) *entry {
	key, words, ok := strings.Cut(line.String(), ": ")
	if !ok || strings.TrimSpace(words) == "" {
		faults.Add(fault.At(line, "this line is not whole").Want(lineShape))
		return nil
	}
	e := &entry{words: flat(words), from: flat(words), key: line.Sub(0, len(key)), place: line.Sub(len(key)+2, len(line.String())).Trim()}
	if _, twice := w.entries[key]; twice {
		faults.Add(fault.At(e.key, "the key %q stands twice", key).Fix("take one of the two lines out"))
		return nil
	}
	w.entries[key] = e
	w.order = append(w.order, key)
	return e
}

// madeFrom reads the line that says which original a text was made from.
func (e *entry) madeFrom(line fault.Place) *fault.Fault {
	if e == nil || e.of.Text != nil {
		return fault.At(line, "this original stands under no words").Want("one original under each text, on the line below it")
	}
	e.of = line.Sub(len(fromMark), len(line.String())).Trim()
	e.from = flat(e.of.String())
	return nil
}

// flat is a text on one line, its words one space apart.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// Of returns the language's words for an original, and the original where it
// has none, or where those it has were made from another.
func (w *Words) Of(key, original string) string {
	if w == nil {
		return original
	}
	if e, ok := w.entries[key]; ok && e.from == flat(original) {
		return e.words
	}
	return original
}

// Originals returns the words as originals for another language, in the order
// of the file.
func (w *Words) Originals() []Original {
	all := make([]Original, len(w.order))
	for i, key := range w.order {
		all[i] = Original{Key: key, Words: w.entries[key].words}
	}
	return all
}

// Places returns where the words of each text stand, in the order of the file.
func (w *Words) Places() []fault.Place {
	all := make([]fault.Place, len(w.order))
	for i, key := range w.order {
		all[i] = w.entries[key].place
	}
	return all
}

var slot = regexp.MustCompile(`\{\w+\}`)

// slots are the names of what is put into a text, each once and sorted.
func slots(s string) []string {
	all := slot.FindAllString(s, -1)
	slices.Sort(all)
	return slices.Compact(all)
}

// Check finds what is wrong beside the originals: words made from an original
// that has changed, words that leave out what is put in there, texts that have
// no words, and words for what is no text.
func (w *Words) Check(originals []Original) *fault.List {
	faults, known := &fault.List{}, map[string]bool{}
	var missing []Original
	for _, o := range originals {
		if known[o.Key] {
			continue
		}
		known[o.Key] = true
		if e := w.entries[o.Key]; e != nil {
			faults.Add(e.check(o))
		} else if !o.Known {
			missing = append(missing, o)
		}
	}
	for _, key := range w.order {
		if !known[key] {
			faults.Add(w.noText(key, originals))
		}
	}
	if len(missing) > 0 {
		faults.Add(w.missing(missing))
	}
	return faults
}

// check compares one text with its original.
func (e *entry) check(o Original) *fault.Fault {
	now := flat(o.Words)
	switch {
	case e.from != now && e.of.Text == nil:
		return fault.At(e.place, "the words of %q differ from their original, and it is not said which they were made from", o.Key).
			Want("under them the original: %s%s", fromMark, now)
	case e.from != now:
		return fault.At(e.of, "the words of %q are older than their original, which has changed", o.Key).
			Want("words for what it says now: %q", now).Fix("mend the words above, then this line: %s%s", fromMark, now)
	case !slices.Equal(slots(e.words), slots(now)):
		return fault.At(e.place, "the words of %q do not hold what is put in there", o.Key).Want("each of these once or more: %s", strings.Join(slots(now), ", "))
	}
	return nil
}

// noText tells words for which there is no text.
func (w *Words) noText(key string, originals []Original) *fault.Fault {
	f := fault.At(w.entries[key].key, "there is no text %q", key).Want("the key of a text that is printed")
	keys := make([]string, len(originals))
	for i, o := range originals {
		keys[i] = o.Key
	}
	if near := fault.Near(key, keys); near != "" {
		return f.Fix("%s", near)
	}
	return f.Fix("take this line out, with the original under it")
}

// missing tells the texts that have no words, with the lines that would be
// right for those that read alike in both languages.
func (w *Words) missing(texts []Original) *fault.Fault {
	what := "texts have"
	if len(texts) == 1 {
		what = "text has"
	}
	return fault.At(w.text.Place(0, 0), "%d %s no words here", len(texts), what).Want("a line for each text that is printed").Graded(fault.Warn).
		Fix("put these lines in, and mend their words:\n%s", strings.TrimSuffix((&Words{}).Lines(texts), "\n"))
}

// Lines returns the file of the language in the order of the originals. A text
// that has no words yet has those of its original.
func (w *Words) Lines(originals []Original) string {
	var b strings.Builder
	done := map[string]bool{}
	for _, o := range originals {
		if done[o.Key] {
			continue
		}
		done[o.Key] = true
		e := w.entries[o.Key]
		if e == nil {
			e = &entry{words: flat(o.Words)}
		}
		b.WriteString(o.Key + ": " + e.words + "\n")
		if e.of.Text != nil {
			b.WriteString("  " + fromMark + e.from + "\n")
		}
	}
	return b.String()
}

// Head returns the remarks at the head of a file, up to its first text.
func Head(source string) string {
	var b strings.Builder
	for line := range strings.Lines(source) {
		if text := strings.TrimSpace(line); text != "" && !strings.HasPrefix(text, "#") {
			break
		}
		b.WriteString(line)
	}
	return b.String()
}
