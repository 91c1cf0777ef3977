package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"bindpost/site/galley"
)

type galleyCommand struct{ copyArgument }

func (*galleyCommand) example() string { return "bindpost galley club-guides" }

// Run keeps a live proof of a copy open until somebody ends it.
func (c *galleyCommand) Run(d desk) error {
	copied, root, err := c.open(d)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // whoever asks a second time is not kept waiting
	g, err := galley.Open(order(copied, root, ""), func(p galley.Pressing) { d.say("%s", pressed(p)) })
	if err != nil {
		return err
	}
	if root == "" {
		d.say("The demonstration cannot change, so this shows it as it is. Open this address in a browser on this machine:")
	} else {
		d.say("The galley is open: pages follow the guides as you save them. Open this address in a browser on this machine:")
	}
	fmt.Fprintln(d.out, g.Address())
	if root != "" {
		d.say("This one goes along to the guide that you saved last: %s?writing", g.Address())
	}
	d.say("Ctrl-C closes the galley.")
	if err := g.Run(ctx); err != nil {
		return err
	}
	d.say("The galley is closed.")
	return nil
}

// pressed tells of a press in one line.
func pressed(p galley.Pressing) string {
	line := fmt.Sprintf("Press %d%s: %s", p.Number, onto(p.Changes), galley.Count(p.Faults))
	switch {
	case p.Fresh:
		return line
	case p.Shown:
		return line + " The pages stay those of the last good press."
	}
	return line + " There is no page to show yet."
}

// onto says what led to a press: the file that was written last.
func onto(c galley.Changes) string {
	switch n := len(c.Paths); n {
	case 0:
		return ""
	case 1:
		return ", after " + c.Paths[0]
	default:
		return fmt.Sprintf(", after %s and %d more", c.Paths[n-1], n-1)
	}
}
