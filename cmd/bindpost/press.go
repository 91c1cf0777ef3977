package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"bindpost/calc/trade"
	"bindpost/site/press"
	"bindpost/templates"
)

type pressCommand struct {
	copyArgument
	Into *string `placeholder:"folder" help:"Where the manual goes: without it, into manual, and with --single into manual-single. What is there is replaced whole, and only if a press made it: keep nothing of your own in it. What the last press printed is kept in the copy, in .bindpost, so that the next one can tell what moved."`
	settingOptions
	singleOptions
	bookletOption
}

func (*pressCommand) example() string {
	return "bindpost press club-guides --into manual"
}

// Run presses a copy.
func (c *pressCommand) Run(d desk) error {
	setting, err := c.setting(d)
	if err != nil {
		return err
	}
	if err := c.fits(d); err != nil {
		return err
	}
	if c.Into == nil {
		c.Into = new(c.folder())
	}
	copied, root, err := c.open(d)
	if err != nil {
		return err
	}
	if root == "" && holdsOther(*c.Into) {
		d.sayTo("%v", ofFolder(*c.Into, "holds a manual of your own, and no copy is named: the demonstration would take its place").
			Fix("name the folder of your guides, or another folder with --into"))
		return exit(stopped)
	}
	job := order(copied, root, *c.Into)
	makeRoom(copied)
	job.Build = build()
	job.Setting, job.Single, job.Guide = setting, c.Single, c.code()
	var missing bool
	job.Print, missing = c.print(d)
	r, faults, err := press.Press(job)
	if e := report(d, faults); e != nil {
		if _, gone := os.Stat(*c.Into); gone == nil {
			d.sayTo("Nothing was written; %s stands as it was.", *c.Into)
		} else {
			d.sayTo("Nothing was written.")
		}
		return e
	}
	if err != nil {
		return failed(d, err)
	}
	for _, s := range r.Says {
		fmt.Fprintln(d.err, s)
	}
	tellMoved(d, r, root)
	if c.Single {
		d.say("The manual is pressed into one page, which needs no file beside it. Open it to read it, or hand it on as it is:")
	} else {
		d.say("The manual is pressed: %d files in %s. Open this page to read it:", r.Files, *c.Into)
	}
	fmt.Fprintln(d.out, filepath.Join(r.Into, r.Entry))
	return c.tellBooklet(d, r.Into, missing)
}

// mostMoved is how many lines of what moved are told: the rest is in a file.
const mostMoved = 12

// tellMoved tells what moved since the last press of the copy.
func tellMoved(d desk, r press.Result, root string) {
	if r.Unkept != nil {
		d.sayTo("The manual is whole, but what it prints could not be kept in the copy: %v. The next press cannot tell what moved.", r.Unkept)
	}
	if r.Unread != nil {
		d.sayTo("What the press before printed could not be read, so what moved cannot be told: %v.", r.Unread)
	}
	if !r.Compare {
		return
	}
	lines := r.Moved.Lines()
	if len(lines) == 0 {
		d.say("Nothing moved since the last press.")
		return
	}
	d.say("What moved since the last press:")
	for _, line := range lines[:min(len(lines), mostMoved)] {
		d.say("  %s", line)
	}
	if more := len(lines) - mostMoved; more > 0 {
		d.say("  … and %d more, in %s.", more, filepath.Join(root, filepath.FromSlash(press.KeptMoved)))
	}
}

// sayTo prints a sentence beside faults.
func (d desk) sayTo(format string, args ...any) {
	fmt.Fprintf(d.err, format+"\n", args...)
}

type proofCommand struct{ copyArgument }

func (*proofCommand) example() string { return "bindpost proof club-guides" }

// Run finds the faults of a copy.
func (c *proofCommand) Run(d desk) error {
	copied, root, err := c.open(d)
	if err != nil {
		return err
	}
	faults := press.Proof(order(copied, root, ""))
	if e := report(d, faults); e != nil {
		return e
	}
	d.say("No stop was found.")
	return nil
}

func order(copied fs.FS, root, into string) press.Order {
	return press.Order{
		Copy: copied, Root: root, Into: into, Library: trade.Library(), Templates: templates.Files, Program: version(),
	}
}
