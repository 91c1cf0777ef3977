package render

import (
	"html/template"
	"reflect"
	"strconv"
	"strings"
	"text/template/parse"
)

// value is where something lies: of which type, and how it is found from a dot
// and a dollar.
type value struct {
	is reflect.Type
	of func(dot, dollar reflect.Value) reflect.Value
}

// command returns the one command of a pipe that is not handed on.
func (m caster) command(p *parse.PipeNode) *parse.CommandNode {
	if p == nil || len(p.Decl) > 0 || len(p.Cmds) != 1 {
		fail("%s is not one command", p)
	}
	return p.Cmds[0]
}

// only returns the one argument of a pipe of one.
func (m caster) only(p *parse.PipeNode) parse.Node {
	c := m.command(p)
	if len(c.Args) != 1 {
		fail("%s is not one argument", c)
	}
	return c.Args[0]
}

// value finds what an argument names.
func (m caster) value(n parse.Node, dot reflect.Type) value {
	switch n := n.(type) {
	case *parse.DotNode:
		return value{dot, func(dot, _ reflect.Value) reflect.Value { return dot }}
	case *parse.FieldNode:
		return chain(value{dot, func(dot, _ reflect.Value) reflect.Value { return dot }}, n.Ident)
	case *parse.VariableNode:
		if n.Ident[0] == "$" {
			return chain(value{m.dollar, func(_, dollar reflect.Value) reflect.Value { return dollar }}, n.Ident[1:])
		}
	}
	fail("%s is no value that can be cast", n)
	return value{}
}

// chain follows fields, and methods that take nothing.
func chain(from value, names []string) value {
	for _, name := range names {
		from = member(from, name)
	}
	return from
}

// pointedAt returns what a pointer points at, and any other value as it is.
func (v value) pointedAt() value {
	if v.is.Kind() != reflect.Pointer {
		return v
	}
	return value{v.is.Elem(), func(dot, dollar reflect.Value) reflect.Value { return v.of(dot, dollar).Elem() }}
}

func member(from value, name string) value {
	from = from.pointedAt()
	of := from.of
	if from.is.Kind() != reflect.Struct {
		fail("%s has no fields", from.is)
	}
	if method, ok := reflect.PointerTo(from.is).MethodByName(name); ok {
		if method.Type.NumIn() != 1 || method.Type.NumOut() != 1 {
			fail("%s of %s takes or gives more than can be cast", name, from.is)
		}
		return value{method.Type.Out(0), func(dot, dollar reflect.Value) reflect.Value {
			return of(dot, dollar).Addr().Method(method.Index).Call(nil)[0]
		}}
	}
	field, ok := from.is.FieldByName(name)
	if !ok {
		fail("%s has no %s", from.is, name)
	}
	if at := field.Index[0]; len(field.Index) == 1 {
		return value{field.Type, func(dot, dollar reflect.Value) reflect.Value { return of(dot, dollar).Field(at) }}
	}
	return value{field.Type, func(dot, dollar reflect.Value) reflect.Value { return of(dot, dollar).FieldByIndex(field.Index) }}
}

// condition casts whether something is so.
func (m caster) condition(c *parse.CommandNode, dot reflect.Type) func(dot, dollar reflect.Value) bool {
	if word, ok := c.Args[0].(*parse.IdentifierNode); ok {
		return m.either(word.Ident, c.Args[1:], dot)
	}
	if len(c.Args) != 1 {
		fail("%s is not one argument", c)
	}
	v := m.value(c.Args[0], dot)
	is := truth(v.is)
	return func(dot, dollar reflect.Value) bool { return is(v.of(dot, dollar)) }
}

// either casts "not a", and "or a b".
func (m caster) either(word string, args []parse.Node, dot reflect.Type) func(dot, dollar reflect.Value) bool {
	var all []func(dot, dollar reflect.Value) bool
	for _, a := range args {
		all = append(all, m.condition(&parse.CommandNode{Args: []parse.Node{a}}, dot))
	}
	switch {
	case word == "not" && len(all) == 1:
		return func(dot, dollar reflect.Value) bool { return !all[0](dot, dollar) }
	case word == "or":
		return func(dot, dollar reflect.Value) bool {
			for _, is := range all {
				if is(dot, dollar) {
					return true
				}
			}
			return false
		}
	}
	fail("%s is no condition that can be cast", word)
	return nil
}

// truth returns whether a value of a type counts as one that there is.
func truth(t reflect.Type) func(reflect.Value) bool {
	switch t.Kind() {
	case reflect.String, reflect.Slice:
		return func(v reflect.Value) bool { return v.Len() > 0 }
	case reflect.Bool:
		return reflect.Value.Bool
	case reflect.Int:
		return func(v reflect.Value) bool { return v.Int() != 0 }
	case reflect.Pointer, reflect.Func:
		return func(v reflect.Value) bool { return !v.IsNil() }
	case reflect.Struct:
		return func(reflect.Value) bool { return true }
	}
	fail("%s neither is nor is not", t)
	return nil
}

// sayer is what has phrases.
type sayer interface{ Say(key string) string }

var (
	sayerType = reflect.TypeFor[sayer]()
	htmlType  = reflect.TypeFor[template.HTML]()

	piecesType = reflect.TypeFor[pieces]()
)

// action casts a value that is printed: the first command of its pipe says what,
// and those behind it how it is escaped.
func (m caster) action(p *parse.PipeNode, dot reflect.Type) cast {
	if len(p.Decl) > 0 {
		fail("%s keeps a value", p)
	}
	first, write := p.Cmds[0], writerFor(p.Cmds[1:])
	if len(first.Args) == 2 {
		return m.saying(first, dot, write)
	}
	v := m.value(m.only(&parse.PipeNode{Cmds: []*parse.CommandNode{first}}), dot)
	ready := v.is == htmlType
	switch v.is.Kind() {
	case reflect.String:
		return func(f *forme, dot, dollar reflect.Value) bool { return write(f, v.of(dot, dollar).String(), ready) }
	case reflect.Int:
		return func(f *forme, dot, dollar reflect.Value) bool {
			return write(f, strconv.FormatInt(v.of(dot, dollar).Int(), 10), false)
		}
	}
	fail("%s is no text", p)
	return nil
}

// saying casts a phrase.
func (m caster) saying(c *parse.CommandNode, dot reflect.Type, write writer) cast {
	var from value
	switch n := c.Args[0].(type) {
	case *parse.FieldNode:
		from = m.value(&parse.DotNode{}, dot)
		if len(n.Ident) != 1 || n.Ident[0] != "Say" {
			fail("%s is no phrase", c)
		}
	case *parse.VariableNode:
		if len(n.Ident) != 2 || n.Ident[0] != "$" || n.Ident[1] != "Say" {
			fail("%s is no phrase", c)
		}
		from = value{m.dollar, func(_, dollar reflect.Value) reflect.Value { return dollar }}
	default:
		fail("%s is no phrase", c)
	}
	key, ok := c.Args[1].(*parse.StringNode)
	if !ok || !reflect.PointerTo(from.is).Implements(sayerType) {
		fail("%s is no phrase", c)
	}
	return func(f *forme, dot, dollar reflect.Value) bool {
		return write(f, from.of(dot, dollar).Addr().Interface().(sayer).Say(key.Text), false)
	}
}

// writer writes text as it is escaped where it stands; ready says that it is HTML
// already. It returns false for what is not plain enough.
type writer func(f *forme, text string, ready bool) bool

// The letters beside those of the alphabet and digits that stand in an address as
// they are.
const (
	plainInPath  = "-._~/"
	plainInQuery = "-._~"
)

// writerFor returns the writer for the escaping that html/template has put behind
// a value.
func writerFor(escapers []*parse.CommandNode) writer {
	names := make([]string, len(escapers))
	for i, e := range escapers {
		names[i] = strings.TrimPrefix(e.String(), "_html_template_")
	}
	switch strings.Join(names, " ") {
	case "htmlescaper":
		return func(f *forme, text string, ready bool) bool {
			if ready {
				f.WriteString(text)
			} else {
				f.text(text)
			}
			return true
		}
	case "attrescaper", "rcdataescaper":
		return func(f *forme, text string, ready bool) bool {
			if ready {
				return f.unmarked(text)
			}
			f.text(text)
			return true
		}
	case "urlfilter urlnormalizer attrescaper", "urlnormalizer attrescaper":
		return func(f *forme, text string, _ bool) bool { return f.address(text, plainInPath) }
	case "urlescaper attrescaper":
		return func(f *forme, text string, _ bool) bool { return f.address(text, plainInQuery) }
	}
	fail("%q is no escaping that can be cast", names)
	return nil
}

// unmarked writes HTML that has no elements, nor a sign that is escaped in an
// attribute.
func (f *forme) unmarked(text string) bool {
	if strings.ContainsAny(text, "<>\"'+\x00") {
		return false
	}
	f.WriteString(text)
	return true
}

// address writes a piece of an address of letters, digits and other signs that
// stand there as they are.
func (f *forme) address(text, plain string) bool {
	if !isPlainAddress(text, plain) {
		return false
	}
	f.WriteString(text)
	return true
}

func isPlainAddress(text, plain string) bool {
	for i := range len(text) {
		c := text[i]
		letter := c|0x20 >= 'a' && c|0x20 <= 'z'
		if !letter && (c < '0' || c > '9') && strings.IndexByte(plain, c) < 0 {
			return false
		}
	}
	return true
}
