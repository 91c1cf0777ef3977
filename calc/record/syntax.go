package record

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"

	"bindpost/calc/fault"
)

// plainer puts the library's commonest complaints into our readers' words.
var plainer = []struct{ part, message, try string }{
	{"could not find end character", "a quoted text is opened and not closed", "close it with the same quote"},
}

// unended are the library's complaints that a bracket misses its other half.
var unended = []string{"must be specified", "could not find flow mapping end", "could not find flow sequence end"}

// syntaxFault tells what keeps a text from being read. The library knows where
// it could not go on; what was meant is looked for in the lines themselves,
// since its words are for people who know the format.
func syntaxFault(t *fault.Text, err error) *fault.Fault {
	var syntax *yaml.SyntaxError
	if !errors.As(err, &syntax) || syntax.Token == nil {
		return fault.At(t.Place(0, 0), "this file cannot be read: %s", firstLine(err.Error()))
	}
	line, column := syntax.Token.Position.Line, syntax.Token.Position.Column
	at := t.Offset(line, column)
	place := t.Place(at, at+1)
	if f := tabbed(t); f != nil {
		return f
	}
	if strings.Contains(syntax.Message, "already defined") {
		return doubled(t, line, place)
	}
	sure := slices.ContainsFunc(unended, func(part string) bool { return strings.Contains(syntax.Message, part) })
	if f := unclosed(t, at, sure); f != nil {
		return f
	}
	for _, p := range plainer {
		if strings.Contains(syntax.Message, p.part) {
			return fault.At(place, "%s", p.message).Fix("%s", p.try)
		}
	}
	for _, look := range []func(lineOf) *fault.Fault{coloned, nameless, shifted, overclosed} {
		if f := look(lineAt(t, line)); f != nil {
			return f
		}
	}
	if f := shifted(lineAt(t, line+1)); f != nil { // one further in joins the text above it, where the library stops
		return f
	}
	return fault.At(place, "this line cannot be read: %s", syntax.Message).
		Want("name: value, or - item, with the same indent as its neighbours")
}

func firstLine(s string) string {
	s, _, _ = strings.Cut(s, "\n")
	return s
}

// tabbed finds a tab before the first word of a line.
func tabbed(t *fault.Text) *fault.Fault {
	at := 0
	for line := range strings.Lines(t.Source()) {
		indent := len(line) - len(strings.TrimLeft(line, " \t"))
		if i := strings.IndexByte(line[:indent], '\t'); i >= 0 && strings.TrimSpace(line) != "" {
			return fault.At(t.Place(at+i, at+i+1), "a tab stands where spaces belong").
				Fix("begin the line with spaces, as many as its neighbours")
		}
		at += len(line)
	}
	return nil
}

// doubled is the fault of a name that stands twice, at the second.
func doubled(t *fault.Text, line int, place fault.Place) *fault.Fault {
	if name, _, ok := strings.Cut(t.Source()[place.Start:], ":"); ok && !strings.Contains(name, "\n") {
		place = t.Place(place.Start, place.Start+len(name))
		return fault.At(place, "%q stands twice", name).Fix("take one of the two out, or give it another name")
	}
	return fault.At(place, "a name stands twice in line %d", line).Fix("take one of the two out")
}

// unclosed finds the bracket that is open where the library could not go on:
// told where it is opened, which is where it must be closed. Unless it is sure,
// one that is opened in the same line may be meant.
func unclosed(t *fault.Text, stuck int, sure bool) *fault.Fault {
	if sure {
		stuck = len(t.Source())
	}
	open, ok := bracketAt(t.Source()[:stuck])
	if !ok {
		return nil
	}
	place := t.Place(open, open+1)
	line, _ := t.Position(open)
	if last, _ := t.Position(stuck); !sure && last == line {
		return nil
	}
	closing := map[string]string{"{": "}", "[": "]"}[place.String()]
	return fault.At(place, "a bracket is opened and not closed").Fix("put a %s at the end of this line", closing)
}

// bracketAt returns the first bracket of a text that is not closed in it.
// Brackets in quotes and behind a # count nothing. A quote opens a text only at
// its head: elsewhere it is an apostrophe.
func bracketAt(s string) (at int, ok bool) {
	var open []int
	head := true // a value may begin here
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case (c == '"' || c == '\'') && head:
			if i = skipQuoted(s, i); i >= len(s) {
				return 0, false
			}
		case c == '#' && (i == 0 || s[i-1] == ' ' || s[i-1] == '\n'):
			if n := strings.IndexByte(s[i:], '\n'); n >= 0 {
				i += n
			} else {
				i = len(s)
			}
		case c == '{' || c == '[':
			open = append(open, i)
		case (c == '}' || c == ']') && len(open) > 0:
			open = open[:len(open)-1]
		}
		head = c == ' ' && head || strings.IndexByte(":,-[{\n", c) >= 0
	}
	if len(open) == 0 {
		return 0, false
	}
	return open[0], true
}

// skipQuoted returns where a quoted text ends that begins at i.
func skipQuoted(s string, i int) int {
	quote := s[i]
	for i++; i < len(s) && s[i] != quote; i++ {
		if s[i] == '\\' && quote == '"' {
			i++
		}
	}
	return i
}

// lineOf is one line of a text.
type lineOf struct {
	text   *fault.Text
	number int
	start  int    // offset of its first byte
	indent int    // spaces before its first word
	words  string // the rest
}

func lineAt(t *fault.Text, n int) lineOf {
	line := t.Line(n)
	words := strings.TrimLeft(line, " ")
	return lineOf{t, n, t.Offset(n, 1), len(line) - len(words), strings.TrimRight(words, " ")}
}

// place is where the words of the line stand.
func (l lineOf) place() fault.Place {
	return l.text.Place(l.start+l.indent, l.start+l.indent+len(l.words))
}

// said is what is said in the line: "" of an empty one, and of a remark.
func (l lineOf) said() string {
	if strings.HasPrefix(l.words, "#") {
		return ""
	}
	return l.words
}

// unspaced is a name with its colon close to what follows.
var unspaced = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9_ -]*):(\S)`)

// coloned finds a colon and a space inside the text behind a name.
func coloned(l lineOf) *fault.Fault {
	name, text, _ := strings.Cut(l.said(), ": ")
	i := strings.Index(text, ": ")
	if i < 0 || strings.ContainsAny(text[:1], "[{\"'") {
		return nil
	}
	at := l.place().Start + len(name) + len(": ") + i
	return fault.At(l.text.Place(at, at+1), "a colon and a space stand inside a text").
		Fix(`put the text in quotes: %s: "%s"`, name, strings.ReplaceAll(text, `"`, "'"))
}

// overclosed finds a bracket that closes nothing.
func overclosed(l lineOf) *fault.Fault {
	depth := 0
	for i := range len(l.words) {
		switch l.words[i] {
		case '[', '{':
			depth++
		case ']', '}':
			depth--
		}
		if depth < 0 {
			at := l.start + l.indent + i
			return fault.At(l.text.Place(at, at+1), "this bracket closes nothing").Fix("take it out")
		}
	}
	return nil
}

// nameless finds that a line has no name with a colon and a space behind it.
func nameless(l lineOf) *fault.Fault {
	words := strings.TrimPrefix(l.said(), "- ")
	if words == "" || strings.Contains(words, ": ") || strings.HasSuffix(words, ":") || strings.ContainsAny(words[:1], "[{\"'") {
		return nil
	}
	if m := unspaced.FindStringSubmatchIndex(words); m != nil {
		place := l.place()
		at := place.End - len(words) + m[3]
		return fault.At(l.text.Place(at, at+1), "no space stands behind this colon").Fix("%s: %s", words[:m[3]], words[m[4]:])
	}
	if strings.HasPrefix(l.said(), "- ") {
		return nil
	}
	f := fault.At(l.place(), "this line has no colon behind its name").Want("a name, a colon, a space and a value, as in run: 9 m")
	name, rest, _ := strings.Cut(words, " ")
	if below := lineAt(l.text, l.number+1); rest == "" && below.indent > l.indent {
		return f.Fix("%s:", name)
	} else if rest != "" && name == strings.ToLower(name) {
		return f.Fix("%s: %s", name, rest)
	}
	return f
}

// shifted finds that a line begins further in, or further out, than any line
// that it could stand beside.
func shifted(l lineOf) *fault.Fault {
	var above lineOf
	for n := l.number - 1; n > 0 && above.said() == ""; n-- {
		above = lineAt(l.text, n)
	}
	if above.said() == "" || l.said() == "" {
		return nil
	}
	at := l.place()
	at.End = min(at.End, at.Start+1)
	switch {
	case l.indent > above.indent && !strings.HasSuffix(above.words, ":"):
		return fault.At(at, "this line begins further in than the one above it").Fix("begin it straight below the one above")
	case l.indent < above.indent && !beside(l):
		return fault.At(at, "this line begins straight below none of those above it").
			Fix("begin it straight below the line that it stands beside")
	}
	return nil
}

// beside reports whether a line above, before any that begins further out,
// begins where this one does.
func beside(l lineOf) bool {
	for n := l.number - 1; n > 0; n-- {
		above := lineAt(l.text, n)
		switch {
		case above.said() == "":
		case above.indent == l.indent:
			return true
		case above.indent < l.indent:
			return false
		}
	}
	return false
}
