package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"github.com/alecthomas/kong"

	"bindpost/calc/fault"
	"bindpost/site/folder"
	"bindpost/site/publish"
)

// Exit codes.
const (
	done      = 0 // warnings and notes may stand
	stopped   = 1 // a stop stands
	misused   = 2 // the command was not used as it is meant
	unwritten = 3 // the system would not let us read or write
)

// desk is where a command is run: what it may print to, and whether somebody
// is looking on.
type desk struct {
	out, err  io.Writer
	talkative bool
}

// say prints a sentence for somebody looking on; in a pipe it is quiet.
func (d desk) say(format string, args ...any) {
	if d.talkative {
		fmt.Fprintf(d.out, format+"\n", args...)
	}
}

// commands is the whole command line.
type commands struct {
	Press   pressCommand   `cmd:"" help:"Make the manual of a copy, ready to open and to print."`
	Proof   proofCommand   `cmd:"" help:"Find every fault in a copy, and write nothing."`
	Reckon  reckonCommand  `cmd:"" help:"Work one method at the counter, with values of your own."`
	Methods methodsCommand `cmd:"" help:"List the methods of the trade, or show one whole."`

	Version bool `help:"Say which version this is."`
}

// exit is an exit code on its way out of a command.
type exit int

// Error implements error.
func (e exit) Error() string { return fmt.Sprintf("exit %d", int(e)) }

// run runs one command line and returns its exit code.
func run(args []string, d desk) int {
	var c commands
	parser, err := kong.New(&c,
		kong.Name("bindpost"), kong.Description(about), kong.Writers(d.out, d.err), kong.Help(help),
		kong.Exit(func(code int) { panic(exit(code)) }), kong.Bind(d),
	)
	if err != nil {
		panic(err)
	}
	return guarded(d, func() error {
		if len(args) == 0 {
			args = []string{"--help"}
		}
		if len(args) == 1 && args[0] == "--version" {
			fmt.Fprintln(d.out, version())
			return nil
		}
		ctx, err := parser.Parse(args)
		if err != nil {
			return misuse(d, err)
		}
		return ctx.Run()
	})
}

// guarded runs a command and turns what it returns into an exit code.
func guarded(d desk, command func() error) (code int) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case exit:
			code = int(r)
		default:
			panic(r)
		}
	}()
	err := command()
	var e exit
	switch {
	case err == nil:
		return done
	case errors.As(err, &e):
		return int(e)
	}
	fmt.Fprintln(d.err, err)
	return unwritten
}

// misuse says what of the command line was not understood.
func misuse(d desk, err error) error {
	fmt.Fprintf(d.err, "This is not understood: %v.\n", strings.TrimSuffix(err.Error(), "."))
	fmt.Fprintln(d.err, "`bindpost --help` lists the commands; `bindpost COMMAND --help` shows one, with an example.")
	return exit(misused)
}

// report prints faults and returns the exit code they ask for.
func report(d desk, faults *fault.List) error {
	if faults.Len() > 0 {
		fmt.Fprintln(d.err, faults)
	}
	switch {
	case folder.Unread(faults):
		return exit(unwritten)
	case faults.Stopped():
		return exit(stopped)
	}
	return nil
}

// failed prints what kept a manual from being written.
func failed(d desk, err error) error {
	fmt.Fprintln(d.err, err)
	if errors.Is(err, publish.ErrUnwritten) {
		return exit(unwritten)
	}
	return exit(stopped)
}

// version returns the program's name and version, as the build stamped it.
func version() string {
	v := "unreleased"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		v = info.Main.Version
	}
	return "bindpost " + v
}
