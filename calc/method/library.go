package method

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/phrase"
	"bindpost/calc/record"
)

// Library is a set of methods with the entries they name. It does not change
// once loaded and may be used by several goroutines.
type Library struct {
	methods    map[string]Method
	references map[string]*Reference
	cautions   map[string]*Caution
	values     map[string]*record.Node // inputs described once for many methods
	constants  map[string]constant
	names      map[string]TradeName
	named      []TradeName // the same, in their order
	terms      map[string]Term
	said       *said
	never      map[string]*Forbidden
	hash       string
	originals  []phrase.Original // before words of another language took their place; nil where none did
	words      *phrase.Words     // of that language
	in         func(language string) *Library
	regional   map[string]string // the words that differ by region, by name
	first      map[string]bool   // the cautions and the questions as they were first written, where they are said in another language
	keys       sync.Once
	commonly   sync.Once
	common     string          // see Common, once it is asked for
	known      map[string]bool // the keys of its texts, once they are asked for
	base       *Library        // that it was read on top of; nil of the shipped set
}

// Hash names the whole of what the library was read from: two libraries of
// equal hash give equal figures.
func (l *Library) Hash() string { return l.hash }

// hashed returns the hash of a library made of more sources.
func (s Sources) hashed(base string) string {
	h := sha256.New()
	h.Write([]byte(base))
	for _, t := range slices.Concat(s.References, s.Values, []*fault.Text{s.Cautions, s.Constants, s.Never, s.Names, s.Terms, s.Regional}, s.Methods) {
		if t != nil {
			fmt.Fprintf(h, "\n%d %s\n%s", len(t.Source()), t.Name(), t.Source())
		}
	}
	for _, m := range s.Go {
		fmt.Fprintf(h, "\n%s %s", m.Sheet().Name, m.Sheet().Hash)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// constant is a value of nature, kept once with its reference.
type constant struct {
	number     *formula.Number
	references []*Reference
	place      fault.Place
}

// Sources are the texts that a library is read from; any may be nil.
type Sources struct {
	Methods    []*fault.Text
	References []*fault.Text // reference entries by name
	Values     []*fault.Text // inputs that many methods take, by name
	Cautions   *fault.Text   // cautions by name
	Constants  *fault.Text   // constants that many methods use, by name
	Never      *fault.Text   // advice that is never printed, by name
	Names      *fault.Text   // figures that are names in the trade
	Terms      *fault.Text   // words of the trade, with the other words for each
	Go         []Method      // methods written in Go

	Regional *fault.Text                    // words that readers elsewhere have others for
	In       func(language string) *Library // the same set in the words of another language; nil, or what returns it, where there is none
	Words    *phrase.Words                  // in the place of the texts, of another language; nil leaves them
}

// Entried is a method written in Go that names references and cautions of the
// library. [Load] hands it the library once its entries are read, and keeps
// the method that it returns, with the faults of what it named in vain.
type Entried interface {
	Method
	With(l *Library) (Method, *fault.List)
}

// Load reads and checks a library. Methods of base, which may be nil, can be
// borrowed from and their entries named; a name that base has already is a
// fault. The cases of methods read on top of a base are worked, and one that is
// not met is a fault; the shipped set's are worked by its tests. The library returned holds what is sound, beside the faults of the
// rest.
func Load(s Sources, base *Library) (*Library, *fault.List) {
	faults := &fault.List{}
	l := base.copied()
	l.hash, l.in = s.hashed(l.hash), s.In
	for _, t := range s.References {
		entries(t, faults, func(n *record.Node) { merge(l.references, readReferences(n, faults), "reference", faults) })
	}
	entries(s.Cautions, faults, func(n *record.Node) { merge(l.cautions, readCautions(n, faults), "caution", faults) })
	for _, t := range s.Values {
		entries(t, faults, func(n *record.Node) { l.readValues(n, faults) })
	}
	entries(s.Constants, faults, func(n *record.Node) { l.readConstants(n, faults) })
	entries(s.Never, faults, func(n *record.Node) { merge(l.never, readForbidden(n, faults), "entry", faults) })
	entries(s.Names, faults, func(n *record.Node) { l.readNames(n, faults) })
	entries(s.Regional, faults, func(n *record.Node) { l.readRegional(n, faults) })
	entries(s.Terms, faults, func(n *record.Node) { l.readTerms(n, faults) })
	for _, m := range s.Go {
		if e, ok := m.(Entried); ok {
			bound, fs := e.With(l)
			faults.Join(fs)
			m = bound
		}
		l.methods[m.Sheet().Name] = m
	}
	var read []*Data
	files := l.parseMethods(s.Methods, faults)
	l.said, l.named = l.gatherSaid(), l.gatherNames()
	for _, file := range files {
		if base != nil {
			l.NeverAdvised(file.node, faults)
		}
		if d := l.readMethod(file, faults); d != nil {
			read = append(read, d)
		}
	}
	linker{library: l, faults: faults, state: map[*Data]int{}, own: base != nil}.all(read)
	l.reword(s.Words)
	return l, faults
}

func (l *Library) copied() *Library {
	c := &Library{
		methods: map[string]Method{}, references: map[string]*Reference{}, cautions: map[string]*Caution{},
		values: map[string]*record.Node{}, constants: map[string]constant{}, names: map[string]TradeName{}, terms: map[string]Term{}, never: map[string]*Forbidden{}, regional: map[string]string{}, first: map[string]bool{},
	}
	if l == nil {
		return c
	}
	c.base, c.regional = l, l.regional
	c.hash = l.hash
	copyInto(c.first, l.first)
	copyInto(c.methods, l.methods)
	copyInto(c.references, l.references)
	copyInto(c.cautions, l.cautions)
	copyInto(c.values, l.values)
	copyInto(c.constants, l.constants)
	copyInto(c.names, l.names)
	copyInto(c.terms, l.terms)
	copyInto(c.never, l.never)
	return c
}

func copyInto[V any](to, from map[string]V) {
	for k, v := range from {
		to[k] = v
	}
}

// entries hands a text's record on when it is a map.
func entries(t *fault.Text, faults *fault.List, use func(*record.Node)) {
	if t == nil {
		return
	}
	n, fs := record.Parse(t)
	faults.Join(fs)
	if n == nil || n.Kind == record.Empty {
		return
	}
	if n.Kind != record.Map {
		faults.Add(fault.At(n.Place, "%s holds %s", t.Name(), n.Kind).Want("entries by name"))
		return
	}
	use(n)
}

func merge[V interface{ place() fault.Place }](into, more map[string]V, what string, faults *fault.List) {
	for _, id := range sortedKeys(more) {
		if _, double := into[id]; double {
			faults.Add(fault.At(more[id].place(), "the %s %q is there already", what, id).Fix("another name"))
			continue
		}
		into[id] = more[id]
	}
}

func (r *Reference) place() fault.Place { return r.Place }
func (c *Caution) place() fault.Place   { return c.Place }

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func (l *Library) readValues(n *record.Node, faults *fault.List) {
	for _, e := range n.Entries {
		if _, double := l.values[e.Key.Text]; double {
			faults.Add(fault.At(e.Key.Place, "the value %q is there already", e.Key.Text).Fix("another name"))
			continue
		}
		l.values[e.Key.Text] = e.Value
	}
}

// Method returns the method of a name.
func (l *Library) Method(name string) (Method, bool) {
	m, ok := l.methods[name]
	return m, ok
}

// Broken reports whether a fault that stops was found in a method's file, or in
// that of one it borrows from. Such a method must not be run.
func (l *Library) Broken(name string) bool {
	d, ok := l.methods[name].(*Data)
	return ok && d.broken
}

// Names returns the names of all methods, sorted.
func (l *Library) Names() []string { return sortedKeys(l.methods) }

// Reference returns the reference entry of a name.
func (l *Library) Reference(id string) (*Reference, bool) {
	r, ok := l.references[id]
	return r, ok
}

// References returns the names of all reference entries, sorted.
func (l *Library) References() []string { return sortedKeys(l.references) }

// Caution returns the caution of a name.
func (l *Library) Caution(id string) (*Caution, bool) {
	c, ok := l.cautions[id]
	return c, ok
}

// Cautions returns the names of all cautions, sorted.
func (l *Library) Cautions() []string { return sortedKeys(l.cautions) }

// NoMethod returns the fault of a method that is not there.
func (l *Library) NoMethod(name string, at fault.Place) *fault.Fault {
	f := fault.At(at, "there is no method %q", name).Want("one of the methods that `bindpost methods` lists")
	if near := fault.Near(name, l.Names()); near != "" {
		f.Fix("%s", near)
	}
	return f
}

// referred looks up the reference entries that a line names.
func (l *Library) referred(named []formula.Reference, faults *fault.List) []*Reference {
	var found []*Reference
	for _, n := range named {
		r, ok := l.references[n.ID]
		if !ok {
			f := fault.At(n.At, "there is no reference %q", n.ID).Want("a reference of the program, or one that this file brings").
				Fix("bring it under own references: %s: {title: \"what it is\", mark: memory}", n.ID)
			if near := fault.Near(n.ID, l.References()); near != "" {
				f.Fix("%s", near)
			}
			faults.Add(f)
			continue
		}
		found = append(found, r)
	}
	return found
}

// fileName is how a method's file must be called.
func fileName(t *fault.Text) string {
	name := t.Name()
	if i := strings.LastIndexByte(name, '/'); i >= 0 {
		name = name[i+1:]
	}
	return strings.TrimSuffix(name, ".yaml")
}
