package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"time"

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
	now       func() time.Time // the clock, which only a new copy looks at
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
	Galley  galleyCommand  `cmd:"" help:"Keep a live proof open in a browser while you write."`
	Blank   blankCommand   `cmd:"" help:"Start a new copy from a small worked example."`
	Reckon  reckonCommand  `cmd:"" help:"Work one method at the counter, with values of your own."`
	Trace   traceCommand   `cmd:"" help:"From a figure, or a page code and a figure on paper, back to its rule and to all that depends on it."`
	Methods methodsCommand `cmd:"" help:"List the methods of the trade, or show one whole."`

	Version versionFlag `help:"Say which version this is."`
	Notices noticesFlag `help:"Print the licences of the libraries inside the program."`
}

// versionFlag and noticesFlag stand alone on the command line: what they ask
// for is printed, and nothing else is done.
type (
	versionFlag bool
	noticesFlag bool
)

// BeforeReset prints the version and ends the run.
func (versionFlag) BeforeReset(app *kong.Kong, d desk) error {
	fmt.Fprintln(d.out, version())
	app.Exit(done)
	return nil
}

// BeforeReset prints the notices and ends the run.
func (noticesFlag) BeforeReset(app *kong.Kong, d desk) error {
	printNotices(d)
	app.Exit(done)
	return nil
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
			return bare(d, parser.Model)
		}
		args = signed(args)
		ctx, err := parser.Parse(args)
		if err != nil {
			return misuse(d, parser.Model, args, err)
		}
		return ctx.Run()
	})
}

// signed gives negative numbers, as one reads them off paper, a minus in place of
// the hyphen on the keys: a word that begins with a hyphen is an option.
func signed(args []string) []string {
	words := slices.Clone(args)
	for i, a := range words {
		if len(a) > 1 && a[0] == '-' && (a[1] >= '0' && a[1] <= '9' || a[1] == '.') {
			words[i] = "−" + a[1:]
		}
	}
	return words
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
