package method

import (
	"strconv"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/phrase"
)

// Worded is a method in Go that says more than stands in its sheet. Texts
// hands on each of those texts, with a key that is the method's own; what is
// put in its place is what the method says from then on.
type Worded interface {
	Method
	Texts(visit func(key string, text *string))
}

// visit is called for each text of a library that can reach a reader. What it
// puts in the text's place is printed.
type visit func(key string, text *string)

// Originals returns every text of the library that can reach a reader, in an
// order that stays, without those of the library it was read on top of. What
// many methods say alike (a name, a sense, a word of a choice) has one key.
func (l *Library) Originals() []phrase.Original {
	if l.originals != nil {
		return l.originals
	}
	return l.Now()
}

// Now returns the same texts as they are printed, in the library's language.
func (l *Library) Now() []phrase.Original {
	var all []phrase.Original
	seen := map[string]bool{}
	l.texts(func(key string, text *string) {
		if *text != "" && !seen[key] {
			seen[key] = true
			all = append(all, phrase.Original{Key: key, Words: *text, Known: l.base.says(key)})
		}
	})
	return all
}

// In returns a library that stands in its first words in those of a language:
// itself where there are no others.
func (l *Library) In(language string) *Library {
	if l.in != nil {
		if other := l.in(language); other != nil {
			return other
		}
	}
	return l
}

// Lists reports whether a text is, word for word, what the library calls a
// caution or a method, its name or what it says: in its language, or as it was
// first written.
func (l *Library) Lists(text string) bool {
	for id, c := range l.cautions {
		if text == id || text == c.Happens {
			return true
		}
	}
	for name, m := range l.methods {
		if text == name || text == m.Sheet().Asks {
			return true
		}
	}
	return l.first[text]
}

// says reports whether one of the library's texts has a key. What many methods
// say alike, an author's own methods may say too.
func (l *Library) says(key string) bool {
	if l == nil {
		return false
	}
	l.keys.Do(func() {
		l.known = map[string]bool{}
		for _, o := range l.Originals() {
			l.known[o.Key] = true
		}
	})
	return l.known[key]
}

// reword puts the words of a language in the place of every text. What the
// library beneath says alike is said in its words.
func (l *Library) reword(w *phrase.Words) {
	if l.words = w; l.words == nil && l.base != nil {
		l.words = l.base.words
	}
	if l.words == nil {
		return
	}
	l.originals = l.Originals()
	for _, c := range l.cautions {
		l.first[c.Happens] = true
	}
	for _, m := range l.methods {
		l.first[m.Sheet().Asks] = true
	}
	l.texts(func(key string, text *string) {
		first := *text
		if *text = w.Of(key, first); *text == first && l.base != nil {
			*text = l.base.words.Of(key, first)
		}
	})
}

// texts visits the texts of what was read into this library itself.
func (l *Library) texts(v visit) {
	for _, name := range l.Names() {
		m := l.methods[name]
		if l.lent(m) {
			continue
		}
		if d, ok := m.(*Data); ok {
			d.texts(v)
		} else {
			m.Sheet().texts(m.Sheet().Takes, v)
		}
		if w, ok := m.(Worded); ok {
			w.Texts(func(key string, text *string) { v(name+" "+key, text) })
		}
	}
	for _, id := range l.Cautions() {
		if c := l.cautions[id]; l.base == nil || l.base.cautions[id] != c {
			c.texts(v)
		}
	}
	for _, id := range l.References() {
		if r := l.references[id]; l.base == nil || l.base.references[id] != r {
			r.texts(v)
		}
	}
	l.regionalTexts(v)
}

// lent reports whether a method is one of the library beneath.
func (l *Library) lent(m Method) bool { return l.base != nil && l.base.methods[m.Sheet().Name] == m }

func (c *Caution) texts(v visit) {
	at := "caution " + c.ID + " "
	v(at+"happens", &c.Happens)
	v(at+"how", &c.How)
	v(at+"instead", &c.Instead)
	v(at+"ask", &c.Ask)
}

func (r *Reference) texts(v visit) {
	at := "reference " + r.ID + " "
	v(at+"title", &r.Title)
	v(at+"clause", &r.Clause)
	v(at+"date", &r.Date)
	v(at+"says", &r.Says)
}

// texts visits what a method's file says. Values that are passed on to a
// borrowed method are texts of that one.
func (d *Data) texts(v visit) {
	at := d.sheet.Name + " "
	d.sheet.texts(d.sheet.Takes[:d.passed], v)
	for i, n := range d.needs {
		v(at+"need "+strconv.Itoa(i+1), &n.why)
		d.sheet.Needs[i] = n.why
	}
	line := 0
	for _, r := range d.verdicts {
		for i := range r.rows {
			first := r.rows[i].words
			if v(at+r.name+" "+strconv.Itoa(i+1), &r.rows[i].words); r.rows[i].words != first {
				written := &d.sheet.Verdicts[line]
				*written = strings.Replace(*written, strconv.Quote(first), strconv.Quote(r.rows[i].words), 1)
			}
			line++
		}
	}
	for _, st := range d.steps {
		body := st.line.Body
		if st.function != nil {
			body = st.function.Body
		}
		for i, why := range formula.Reasons(body) {
			v(at+st.line.Name.Text+" reason "+strconv.Itoa(i+1), why)
		}
	}
}

// texts visits what a sheet says, of the inputs given.
func (s *Sheet) texts(takes []*Input, v visit) {
	at := s.Name + " "
	v(at+"asks", &s.Asks)
	for _, in := range takes {
		in.texts(at, v)
	}
	for _, r := range s.Gives {
		r.texts(at, v)
	}
	for _, name := range s.VerdictNames {
		label := s.VerdictLabel(name)
		v("name "+spaced(name), &label)
		s.named = added(s.named, name, label, spaced(name))
	}
	for _, name := range sortedKeys(s.Directions) {
		for i := range s.Directions[name] {
			word := s.Directions[name][i]
			v("word "+word, &word)
			s.Directions[name][i] = word
		}
	}
	for i := range s.Moves {
		m := &s.Moves[i]
		v(at+m.Result+" with "+m.With+" because", &m.Because)
	}
	for _, c := range s.Cases {
		s.reprintCase(c)
	}
	v(at+"covers not", &s.CoversNot)
	v(at+"notes", &s.Notes)
	v(at+"no outside case", &s.Uncased)
}

func (i *Input) texts(at string, v visit) {
	at += i.Name + " "
	name := i.named()
	if v("name "+spaced(i.Name), &name); name != spaced(i.Name) {
		i.name = name
	}
	v(at+"head", &i.Head)
	v(at+"says", &i.Says)
	sense := i.Meaning()
	v("sense "+i.Sense, &sense)
	if sense != i.Sense {
		i.meaning = sense
	}
	i.Print = words(at, i.Choice, i.Print, v)
	i.reprint()
}

// reprintCase words the choices of a case anew.
func (s *Sheet) reprintCase(c *Case) {
	for name, p := range c.Values {
		in := s.Input(name)
		if in == nil || in.Choice == nil {
			continue
		}
		had := p.Text
		if in.reprinted(&p); p.Text != had {
			c.Values[name] = p
		}
	}
}

// reprint words the points of a choice that come with the method anew.
func (i *Input) reprint() {
	if i.Choice == nil {
		return
	}
	if i.Usually != nil {
		i.reprinted(i.Usually)
	}
	for k := range i.Book {
		i.reprinted(&i.Book[k])
	}
}

// reprinted words a point of a choice, or of a list of choices, anew.
func (i *Input) reprinted(p *Point) {
	var printed []string
	for _, m := range p.Value.List {
		printed = append(printed, i.Printed(m.Word))
	}
	if p.Value.Word != "" {
		printed = append(printed, i.Printed(p.Value.Word))
	}
	if text := strings.Join(printed, " and "); text != "" && text != p.Text {
		p.Text = text
	}
}

func (r *Result) texts(at string, v visit) {
	at += r.Name + " "
	name := r.named()
	if v("name "+spaced(r.Name), &name); name != spaced(r.Name) {
		r.name = name
	}
	v(at+"head", &r.Head)
	v(at+"says", &r.Says)
	sense := r.Meaning()
	v("sense "+r.Sense, &sense)
	if sense != r.Sense {
		r.meaning = sense
	}
	r.Print = words(at, r.Words, r.Print, v)
}

// words visits the words of a choice, and returns how they are printed.
func words(at string, choice []string, print map[string]string, v visit) map[string]string {
	for _, word := range choice {
		said, own := print[word]
		key := at + "word " + word
		if !own {
			said, key = word, "word "+word
		}
		v(key, &said)
		if own || said != word {
			print = added(print, word, said, "")
		}
	}
	return print
}

// added sets a word in a map, which is made where there is none and something is
// to be said that differs from what is said without it. A map that says it
// already is not touched, for others may be reading it.
func added(in map[string]string, key, said, plain string) map[string]string {
	if had, ok := in[key]; ok && had == said || !ok && said == plain {
		return in
	}
	if in == nil {
		in = map[string]string{}
	}
	in[key] = said
	return in
}

// VerdictLabel returns what heads a verdict of the method: its name in words.
func (s *Sheet) VerdictLabel(name string) string {
	if label, ok := s.named[name]; ok {
		return label
	}
	return spaced(name)
}

// Meaning returns the sense of the input as it is printed.
func (i *Input) Meaning() string { return meaningOf(i.meaning, i.Sense) }

// Meaning returns the sense of the result as it is printed.
func (r *Result) Meaning() string { return meaningOf(r.meaning, r.Sense) }

func meaningOf(printed, sense string) string {
	if printed != "" {
		return printed
	}
	return sense
}
