package method

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/record"
	"bindpost/calc/unit"
)

// fields are the keys of a method file, in the order in which they are
// usually written.
var fields = []string{
	"method", "asks", "area", "takes", "one of", "needs", "constants", "tables", "working", "gives", "verdicts",
	"cautions", "rises", "falls", "neither", "directions", "covers not", "cases", "no outside case", "notes",
	ownReferences, ownCautions,
}

// The entries that a method file may bring with it: an author's method rests
// on works, and may need warnings, that nobody foresaw. Any method of the copy
// may name them.
const (
	ownReferences = "own references"
	ownCautions   = "own cautions"
)

// methodFile is one method file, parsed.
type methodFile struct {
	text *fault.Text
	node *record.Node
}

// parseMethods parses the method files, and puts the entries that they bring
// in the library before any of them is read.
func (l *Library) parseMethods(texts []*fault.Text, faults *fault.List) []methodFile {
	var files []methodFile
	for _, t := range texts {
		n, fs := record.Parse(t)
		faults.Join(fs)
		if n == nil || fs.Stopped() {
			continue
		}
		files = append(files, methodFile{t, n})
		l.brought(n, ownReferences, faults, func(own *record.Node) {
			merge(l.references, readReferences(own, faults), "reference", faults)
		})
		l.brought(n, ownCautions, faults, func(own *record.Node) { merge(l.cautions, readCautions(own, faults), "caution", faults) })
	}
	return files
}

// brought hands on the entries under a key of a method file.
func (l *Library) brought(n *record.Node, key string, faults *fault.List, use func(*record.Node)) {
	switch own := n.Get(key); {
	case own == nil:
	case own.Kind != record.Map:
		faults.Add(fault.At(own.Place, "%s holds %s", key, own.Kind).Want("entries by name"))
	default:
		use(own)
	}
}

// readMethod reads one method file and puts the method in the library. The
// working is parsed here and checked later, when every method is known.
func (l *Library) readMethod(f methodFile, faults *fault.List) *Data {
	t, n := f.text, f.node
	mine := &fault.List{}
	defer func() { faults.Join(mine) }()
	mine.Join(n.Keys("a method", fields...))
	if n.Kind != record.Map && n.Kind != record.Empty {
		return nil
	}
	checkTexts(n, mine, "method", "asks", "area", "covers not", "notes", "no outside case")
	d := &Data{
		library: l, source: t.Source(), constants: map[string]constant{}, functions: map[string]*formula.Function{},
		sources: map[string][]*Reference{}, byName: map[string]*step{}, working: n.Get("working"),
		sheet: &Sheet{
			Name: text(n.Get("method")), Asks: text(n.Get("asks")), Area: text(n.Get("area")),
			CoversNot: text(n.Get("covers not")), Notes: text(n.Get("notes")), Place: n.Place,
			Uncased: text(n.Get("no outside case")),
		},
	}
	if !d.named(n, t, mine) {
		return nil
	}
	d.readTakes(n.Get("takes"), mine)
	d.readOneOf(n.Get("one of"), mine)
	d.readNeeds(n.Get("needs"), mine)
	d.readConstants(n.Get("constants"), mine)
	d.readTables(n.Get("tables"), mine)
	d.readWorking(mine)
	d.readGives(n.Get("gives"), mine)
	d.readVerdicts(n.Get("verdicts"), mine)
	d.readCautions(n.Get("cautions"), mine)
	if n.Get("gives") == nil && n.Get("verdicts") == nil {
		mine.Add(fault.At(d.sheet.Place, "the method %q gives nothing", d.sheet.Name).Want("gives: results by name, or verdicts"))
	}
	d.readDirections(n, mine)
	d.readCases(n.Get("cases"), mine)
	d.broken = mine.Stopped()
	l.methods[d.sheet.Name] = d
	return d
}

// named checks what a method is called, and that it asks something.
func (d *Data) named(n *record.Node, t *fault.Text, faults *fault.List) bool {
	name := d.sheet.Name
	switch {
	case name == "":
		faults.Add(fault.At(t.Place(0, 0), "this method has no name").Want("method: %s", fileName(t)))
		return false
	case name != fileName(t):
		faults.Add(fault.At(n.Get("method").Place, "the method %q stands in a file of another name", name).
			Want("the file to be called %s.yaml", name).Fix("rename the file, or write method: %s", fileName(t)))
	}
	if _, double := d.library.methods[name]; double {
		faults.Add(fault.At(n.Get("method").Place, "there is a method %q already", name).Fix("another name, for the method and for its file"))
		return false
	}
	if d.sheet.Asks == "" && !faults.Stopped() { // a key that is not known may have been meant for it
		faults.Add(fault.At(n.Get("method").Place, "the method %q does not say what it asks", name).Want("asks: a question in plain words"))
	}
	return true
}

func (d *Data) readOneOf(n *record.Node, faults *fault.List) {
	groups := []*record.Node{n}
	if n != nil && len(n.Items) > 0 && n.Items[0].Kind == record.List {
		groups = n.Items
	}
	for _, g := range groups {
		words, fs := g.Words("one of")
		faults.Join(fs)
		var group []string
		for _, w := range words {
			in := d.sheet.Input(w.Text)
			if in == nil {
				if !slices.Contains(d.unread, w.Text) {
					faults.Add(d.sheet.Unknown(w.Text, w.Place))
				}
				continue
			}
			in.Optional = true
			group = append(group, w.Text)
		}
		if len(group) > 0 {
			d.sheet.OneOf = append(d.sheet.OneOf, group)
		}
	}
}

// readNeeds reads lines of the form: condition, else "why".
func (d *Data) readNeeds(n *record.Node, faults *fault.List) {
	lines, fs := n.Words("needs")
	faults.Join(fs)
	for _, line := range lines {
		i := strings.LastIndex(line.Text, ", else ")
		if i < 0 || !line.Verbatim {
			faults.Add(fault.At(line.Place, "this need does not say why").Want(`a condition, else "why"`))
			continue
		}
		why := strings.TrimSpace(line.Text[i+len(", else "):])
		if len(why) < 3 || why[0] != '"' || why[len(why)-1] != '"' {
			faults.Add(fault.At(line.Place.Sub(i, len(line.Text)), "this need does not say why").Want(`else "why", in quotes`))
			continue
		}
		node, fs := formula.ParseCond(line.Place.Sub(0, i))
		faults.Join(fs)
		if !fs.Stopped() {
			d.sheet.Needs = append(d.sheet.Needs, why[1:len(why)-1])
			d.needs = append(d.needs, &need{node: node, why: why[1 : len(why)-1], place: line.Place})
		}
	}
}

func (d *Data) readWorking(faults *fault.List) {
	lines, fs := d.working.Words("working")
	faults.Join(fs)
	for _, line := range lines {
		if !line.Verbatim {
			faults.Add(fault.At(line.Place, "this step runs over several lines or stands in quotes").Want("one step on one line, without quotes"))
			continue
		}
		d.sheet.Working = append(d.sheet.Working, line.Text)
		parsed, fs := formula.ParseStep(line.Place)
		faults.Join(fs)
		if fs.Stopped() || parsed == nil {
			if parsed != nil && parsed.Name != nil {
				d.addStep(&step{line: parsed, typ: formula.Type{Broken: true}}, faults)
			}
			d.broken = true
			continue
		}
		d.addStep(&step{line: parsed}, faults)
	}
}

func (d *Data) addStep(s *step, faults *fault.List) {
	name := s.line.Name
	if why := formula.ReservedName(name.Text); why != "" && !s.typ.Broken {
		faults.Add(fault.At(name.Place(), "%q may not name a step: %s", name.Text, why).Fix("another name"))
	}
	_, own := d.functions[name.Text]
	if d.byName[name.Text] != nil || own || d.sheet.Input(name.Text) != nil {
		faults.Add(fault.At(name.Place(), "%q stands for something already", name.Text).Fix("another name for this step"))
		return
	}
	s.references = d.library.referred(s.line.References, faults)
	if s.line.Params != nil {
		params := make([]string, len(s.line.Params))
		for i, p := range s.line.Params {
			params[i] = p.Text
		}
		s.function = &formula.Function{Name: name.Text, Params: params, Body: s.line.Body, Broken: s.typ.Broken}
		d.functions[name.Text] = s.function
		d.sources[name.Text] = s.references
		d.steps = append(d.steps, s)
		return
	}
	d.steps = append(d.steps, s)
	d.byName[name.Text] = s
}

// readConstants reads constants of this method alone.
func (d *Data) readConstants(n *record.Node, faults *fault.List) {
	if n == nil || n.Kind == record.Empty {
		return
	}
	for _, e := range n.Entries {
		if c, ok := d.library.readConstant(e, faults); ok {
			d.constants[e.Key.Text] = c
			d.sources[e.Key.Text] = c.references
		}
	}
}

// readConstants reads constants that many methods share.
func (l *Library) readConstants(n *record.Node, faults *fault.List) {
	for _, e := range n.Entries {
		if c, ok := l.readConstant(e, faults); ok {
			l.constants[e.Key.Text] = c
		}
	}
}

// readConstant reads a line of the form: name: value [reference]. The same
// parser that reads steps reads it, so that a constant is written the same way
// wherever it stands.
func (l *Library) readConstant(e record.Entry, faults *fault.List) (constant, bool) {
	if e.Value.Kind == record.Empty {
		c, ok := l.constants[e.Key.Text]
		if !ok {
			faults.Add(fault.At(e.Key.Place, "there is no shared constant %q", e.Key.Text).Want("%s: value [reference]", e.Key.Text))
		}
		return c, ok
	}
	body, references := e.Value.Place, []formula.Reference(nil)
	if i := strings.LastIndexByte(e.Value.Text, '['); i >= 0 && e.Value.Verbatim {
		body = e.Value.Place.Sub(0, i)
		for _, part := range split(e.Value.Place.Sub(i+1, len(strings.TrimRight(e.Value.Text, "] "))), ", ") {
			references = append(references, formula.Reference{ID: part.String(), At: part})
		}
	}
	q, f := unit.Read(body.Trim())
	if f != nil {
		faults.Add(f)
		return constant{}, false
	}
	c := constant{number: &formula.Number{At: formula.At{Source: body.Trim()}, Text: q.Text, Unit: q.Unit, Value: q.Value}, place: e.Key.Place}
	c.references = l.referred(references, faults)
	if len(references) == 0 {
		faults.Add(fault.At(e.Value.Place, "the constant %q has no reference", e.Key.Text).Want("%s [reference]", e.Value.Text))
	}
	return c, true
}
