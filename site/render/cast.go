package render

import (
	"fmt"
	"html/template"
	"io"
	"reflect"
	"sync"
	"text/template/parse"
)

// A page is set from hundreds of small pieces. html/template looks each up by its
// name, and hands it through functions that it also looks up: that took two thirds
// of the time of a page. So a template is cast once, as type is, for the type of
// what it is filled with: into functions that know where each piece lies and how
// html/template escapes it there. Whatever has no cast, or holds a value that is
// not plain enough for it, is set by html/template itself.

// foundry holds the page templates and their casts.
type foundry struct {
	set   *template.Template
	casts sync.Map   // by mould: a cast, nil where there can be none
	mu    sync.Mutex // held while one is made
	plain bool       // no cast is used
}

// mould is what a cast is made for.
type mould struct {
	template string
	view     reflect.Type
}

// cast writes a piece of a page for a dot and the dollar of its template, as
// these stand in templates. It returns false where a value is not plain.
type cast func(f *forme, dot, dollar reflect.Value) bool

// execute fills a template with a view, which is a struct.
func (t *foundry) execute(f *forme, name string, view any) error {
	start := f.length()
	made, known := t.casts.Load(mould{name, reflect.TypeOf(view)})
	if !known {
		made = t.found(mould{name, reflect.TypeOf(view)})
	}
	if c := made.(cast); c != nil && !t.plain {
		dot := addressable(view)
		if c(f, dot, dot) {
			return nil
		}
	}
	return t.set.ExecuteTemplate(f.setAgain(start), name, view)
}

// found casts a template for the first time. One after another: to cast one is to
// read trees that html/template writes to when it first meets another.
func (t *foundry) found(m mould) any {
	t.mu.Lock()
	defer t.mu.Unlock()
	_ = t.set.ExecuteTemplate(io.Discard, m.template, nil) // escapes its tree; that nothing is not what it is filled with is no matter
	made, _ := t.casts.LoadOrStore(m, t.cast(m.template, m.view))
	return made
}

// addressable returns a struct so that methods of its address can be called.
func addressable(view any) reflect.Value {
	v := reflect.ValueOf(view)
	if v.Kind() == reflect.Pointer {
		return v.Elem()
	}
	at := reflect.New(v.Type()).Elem()
	at.Set(v)
	return at
}

// caster casts one template for one type.
type caster struct {
	set    *template.Template
	dollar reflect.Type
}

// uncast is why a template has no cast.
type uncast string

// cast casts a template for a view, if it can be.
func (t *foundry) cast(name string, view reflect.Type) (c cast) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(uncast); !ok {
				panic(r)
			}
		}
	}()
	if view.Kind() == reflect.Pointer {
		view = view.Elem()
	}
	return caster{t.set, view}.template(name)
}

func fail(format string, args ...any) { panic(uncast(fmt.Sprintf(format, args...))) }

// template casts a whole template, filled with what its dollar is.
func (m caster) template(name string) cast {
	t := m.set.Lookup(name)
	if t == nil || t.Tree == nil {
		fail("there is no template %q", name)
	}
	return m.list(t.Tree.Root, m.dollar)
}

// list casts nodes one after another.
func (m caster) list(l *parse.ListNode, dot reflect.Type) cast {
	if l == nil {
		return func(*forme, reflect.Value, reflect.Value) bool { return true }
	}
	var all []cast
	for _, n := range l.Nodes {
		all = append(all, m.node(n, dot))
	}
	return func(f *forme, dot, dollar reflect.Value) bool {
		for _, c := range all {
			if !c(f, dot, dollar) {
				return false
			}
		}
		return true
	}
}

func (m caster) node(n parse.Node, dot reflect.Type) cast {
	switch n := n.(type) {
	case *parse.TextNode:
		text := string(n.Text)
		return func(f *forme, _, _ reflect.Value) bool { f.WriteString(text); return true }
	case *parse.ActionNode:
		return m.action(n.Pipe, dot)
	case *parse.IfNode:
		return m.when(n.Pipe, dot, m.list(n.List, dot), m.list(n.ElseList, dot))
	case *parse.WithNode:
		return m.with(n, dot)
	case *parse.RangeNode:
		return m.each(n, dot)
	case *parse.TemplateNode:
		from := m.value(m.only(n.Pipe), dot).pointedAt()
		c := caster{m.set, from.is}.template(n.Name)
		return func(f *forme, dot, dollar reflect.Value) bool {
			v := from.of(dot, dollar)
			return c(f, v, v)
		}
	}
	fail("%s is no node that can be cast", n)
	return nil
}

// when casts what is set if something is so, and what is set if it is not.
func (m caster) when(p *parse.PipeNode, dot reflect.Type, then, otherwise cast) cast {
	is := m.condition(m.command(p), dot)
	return func(f *forme, dot, dollar reflect.Value) bool {
		if is(dot, dollar) {
			return then(f, dot, dollar)
		}
		return otherwise(f, dot, dollar)
	}
}

// with casts what is set with something that there is.
func (m caster) with(n *parse.WithNode, dot reflect.Type) cast {
	from := m.value(m.only(n.Pipe), dot)
	then, otherwise, is := m.list(n.List, from.is), m.list(n.ElseList, dot), truth(from.is)
	return func(f *forme, dot, dollar reflect.Value) bool {
		if v := from.of(dot, dollar); is(v) {
			return then(f, v, dollar)
		}
		return otherwise(f, dot, dollar)
	}
}

// each casts what is set with each member of a list.
func (m caster) each(n *parse.RangeNode, dot reflect.Type) cast {
	from := m.value(m.only(n.Pipe), dot)
	if from.is == piecesType {
		return eachPiece(from, m.list(n.List, htmlType), m.list(n.ElseList, dot))
	}
	if from.is.Kind() != reflect.Slice {
		fail("%s is no list", n.Pipe)
	}
	each, none := m.list(n.List, from.is.Elem()), m.list(n.ElseList, dot)
	return func(f *forme, dot, dollar reflect.Value) bool {
		all := from.of(dot, dollar)
		if all.Len() == 0 {
			return none(f, dot, dollar)
		}
		for i := range all.Len() {
			if !each(f, all.Index(i), dollar) {
				return false
			}
			f.handOn()
		}
		return true
	}
}

// eachPiece casts what is set with each of pieces.
func eachPiece(from value, each, none cast) cast {
	return func(f *forme, dot, dollar reflect.Value) bool {
		any := false
		for p := range from.of(dot, dollar).Interface().(pieces) {
			if any = true; !each(f, reflect.ValueOf(p), dollar) {
				return false
			}
			f.handOn()
		}
		return any || none(f, dot, dollar)
	}
}
