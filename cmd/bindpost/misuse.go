package main

import (
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"bindpost/calc/fault"
)

// misuse says what of a command line was not understood, with what would be
// right. The library that reads the line knows only that something is wrong;
// its words are for programmers and stand in only where ours find nothing.
func misuse(d desk, app *kong.Application, args []string, cause error) error {
	l := &typed{app: app, args: args}
	l.text = typedLine("bindpost", args)
	f := l.wrong()
	if f == nil {
		f = fault.At(l.text.All(), "this is not understood: %v", cause)
	}
	d.sayTo("%v", f)
	if l.command == nil {
		d.sayTo("`bindpost --help` lists the commands.")
	} else {
		d.sayTo("`bindpost %s --help` shows it in use, with an example.", l.command.Name)
	}
	return exit(misused)
}

// typed is a command line that was not understood.
type typed struct {
	app     *kong.Application
	args    []string
	text    *fault.Text
	command *kong.Node // nil until one is found
}

// place is where one of the arguments stands in the line.
func (t *typed) place(n int) fault.Place {
	at := len("bindpost")
	for _, a := range t.args[:n] {
		at += 1 + len(a)
	}
	return t.text.Place(at+1, at+1+len(t.args[n]))
}

// wrong finds the first thing that is wrong, nil where it finds nothing.
func (t *typed) wrong() *fault.Fault {
	var words []int // the arguments that are no options
	for n := 0; n < len(t.args); n++ {
		arg := t.args[n]
		switch {
		case arg == "--":
			for n++; n < len(t.args); n++ {
				words = append(words, n)
			}
		case len(arg) > 1 && arg[0] == '-':
			taken, f := t.option(n)
			if f != nil {
				return f
			}
			n += taken
		case t.command == nil:
			if f := t.choose(n); f != nil {
				return f
			}
		default:
			words = append(words, n)
		}
	}
	if t.command == nil {
		return fault.At(t.end(), "no command is named").Want("one of: %s", strings.Join(t.commands(), ", "))
	}
	return t.count(words)
}

// end is the place behind the line.
func (t *typed) end() fault.Place {
	n := len(t.text.Source())
	return t.text.Place(n, n)
}

func (t *typed) commands() []string {
	var names []string
	for _, c := range t.app.Children {
		names = append(names, c.Name)
	}
	return names
}

// choose takes an argument for the command.
func (t *typed) choose(n int) *fault.Fault {
	i := slices.IndexFunc(t.app.Children, func(c *kong.Node) bool { return c.Name == t.args[n] })
	if i >= 0 {
		t.command = t.app.Children[i]
		return nil
	}
	f := fault.At(t.place(n), "there is no command %q", t.args[n]).Want("one of: %s", strings.Join(t.commands(), ", "))
	if near := fault.Near(t.args[n], t.commands()); near != "" {
		f.Fix("bindpost %s", near)
	}
	return f
}

// option looks at an option, and says how many arguments behind it belong to
// it.
func (t *typed) option(n int) (taken int, f *fault.Fault) {
	name, _, valued := strings.Cut(t.args[n], "=")
	flags := t.app.Flags
	if t.command != nil {
		flags = slices.Concat(t.command.Flags, flags)
	}
	i := slices.IndexFunc(flags, func(f *kong.Flag) bool {
		return name == "--"+f.Name || f.Short != 0 && name == "-"+string(f.Short)
	})
	switch {
	case i < 0:
		return 0, t.noOption(n, name, flags)
	case flags[i].IsBool() && valued:
		return 0, fault.At(t.place(n), "%s takes nothing behind it", name).Fix("%s", name)
	case flags[i].IsBool() || valued:
		return 0, nil
	case n+1 == len(t.args) || strings.HasPrefix(t.args[n+1], "-"):
		return 0, fault.At(t.place(n), "%s is not followed by what it needs", name).Want("%s", flagName(flags[i]))
	}
	return 1, nil
}

func (t *typed) noOption(n int, name string, flags []*kong.Flag) *fault.Fault {
	var names []string
	for _, f := range flags {
		names = append(names, "--"+f.Name)
	}
	f := fault.At(t.place(n).Sub(0, len(name)), "there is no option %q", name).Want("one of: %s", strings.Join(names, ", "))
	if near := fault.Near(name, names); near != "" {
		f.Fix("%s", near)
	}
	return f
}

// count compares the words behind the command with what it takes.
func (t *typed) count(words []int) *fault.Fault {
	takes := t.command.Positional
	for _, p := range takes[min(len(words), len(takes)):] {
		if p.Required {
			f := fault.At(t.end(), "%s needs %s behind it", t.command.Name, shown(p))
			if e, ok := t.command.Target.Addr().Interface().(exampler); ok {
				f.Fix("%s", e.example())
			}
			return f
		}
	}
	if len(words) <= len(takes) || takes[len(takes)-1].IsSlice() {
		return nil
	}
	return fault.At(t.place(words[len(takes)]), "%q is one word too many for %s", t.args[words[len(takes)]], t.command.Name).
		Want("bindpost %s", usage(t.command)).Fix("put a name that holds a space between quotation marks")
}
