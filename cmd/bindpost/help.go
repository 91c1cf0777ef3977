package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

const about = "bindpost makes an offline manual of a folder of guides about home two-channel stereo. " +
	"A guide that needs a number says what to compute; the press computes it, stops on anything untrue, " +
	"and delivers plain pages that open without a network and print well."

// exampler is a command that can show itself in use.
type exampler interface{ example() string }

// help prints a command's help in plain sentences, with one real example.
func help(_ kong.HelpOptions, ctx *kong.Context) error {
	w, node := ctx.Stdout, ctx.Selected()
	if node == nil {
		return generalHelp(w, ctx.Model)
	}
	fmt.Fprintf(w, "%s\n\nIt is used so:\n  bindpost %s\n", node.Help, usage(node))
	if len(node.Positional) > 0 {
		fmt.Fprintln(w, "\nWhat follows the command:")
		for _, p := range node.Positional {
			fmt.Fprintf(w, "  %-16s %s\n", shown(p), p.Help)
		}
	}
	if len(node.Flags) > 0 {
		fmt.Fprintln(w, "\nWhat may stand beside it:")
		for _, f := range node.Flags {
			fmt.Fprintf(w, "  %-16s %s\n", flagName(f), f.Help)
		}
	}
	if e, ok := node.Target.Addr().Interface().(exampler); ok {
		fmt.Fprintf(w, "\nFor example:\n  %s\n", strings.ReplaceAll(e.example(), "\n", "\n  "))
	}
	return nil
}

func generalHelp(w io.Writer, app *kong.Application) error {
	fmt.Fprintf(w, "%s\n\nThe commands:\n", wrapped(app.Help, 76))
	for _, c := range app.Children {
		fmt.Fprintf(w, "  bindpost %-9s %s\n", c.Name, c.Help)
	}
	fmt.Fprint(w, "\nTo see it work, with the demonstration that the program carries:\n  bindpost press\n"+
		"\nTo start a copy of your own, from a small worked example:\n  bindpost blank club-guides\n"+
		"\n`bindpost COMMAND --help` says more of one command. `bindpost --version` says\n"+
		"which version this is, and `bindpost --notices` under which licences the\nlibraries inside it came.\n")
	return nil
}

// bare explains the program to somebody who started it with nothing behind
// its name: often by a double click, and then with no terminal open.
func bare(d desk, app *kong.Application) error {
	fmt.Fprintf(d.out, "%s\n\n", version())
	if err := generalHelp(d.out, app); err != nil {
		return err
	}
	fmt.Fprintf(d.out, "\n%s\n", wrapped("bindpost has no window of its own. Its commands are typed in a terminal "+
		"(on Windows the program called Command Prompt or Terminal, on macOS Terminal), in the folder where "+
		"your guides are, or will be.", 76))
	return nil
}

func usage(n *kong.Node) string {
	parts := []string{n.Name}
	for _, p := range n.Positional {
		name := shown(p)
		if !p.Required {
			name = "[" + name + "]"
		}
		parts = append(parts, name)
	}
	for _, f := range n.Flags {
		parts = append(parts, "["+flagName(f)+"]")
	}
	return strings.Join(parts, " ")
}

func shown(v *kong.Positional) string {
	if v.Tag.PlaceHolder != "" {
		return v.Tag.PlaceHolder
	}
	return strings.ToUpper(v.Name)
}

func flagName(f *kong.Flag) string {
	if f.IsBool() {
		return "--" + f.Name
	}
	return "--" + f.Name + " " + strings.ToUpper(f.PlaceHolder)
}

// wrapped breaks a text into lines of at most width columns.
func wrapped(s string, width int) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && len(line)+1+len(word) > width {
			lines = append(lines, line)
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	return strings.Join(append(lines, line), "\n")
}
