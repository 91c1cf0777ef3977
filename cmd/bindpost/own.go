package main

import (
	"io/fs"
	"os"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/site/folder"
	"bindpost/site/press"
)

// copyOption is the copy whose own methods a command knows beside those of the
// trade.
type copyOption struct {
	Copy *string `name:"copy" placeholder:"COPY" help:"The folder of guides whose own methods count too. Without one: this folder, if imprint.yaml is in it."`
}

// atHand are the methods that a command may use.
type atHand struct {
	*method.Library
	faults *fault.List // of the copy's own methods
}

// here reports whether a copy is named, or stands here.
func (c copyOption) here() bool {
	_, err := os.Stat(imprintName)
	return c.Copy != nil || err == nil
}

// methods gathers the methods of the trade and, where a copy is named or stands
// here, the copy's own.
func (c copyOption) methods(d desk) (atHand, error) {
	hand := atHand{trade.Library(), &fault.List{}}
	if !c.here() {
		return hand, nil
	}
	where := "."
	if c.Copy != nil {
		where = *c.Copy
	}
	copied, _, err := openFolder(d, where)
	if err != nil {
		return hand, err
	}
	if _, err := fs.Stat(copied, imprintName); err != nil {
		d.sayTo("%v", ofFolder(where, "holds no file %s, so it is no copy", imprintName).Fix("name the folder that holds your guides"))
		return hand, exit(misused)
	}
	hand.Library, hand.faults = press.Methods(copied, trade.Library())
	return hand, nil
}

// find returns a method that can be used. Where it cannot, everything that is
// wrong with the copy's own methods is told; otherwise only that something is,
// since nobody at a counter waits for the rest to be mended.
func (h atHand) find(d desk, name string, at fault.Place) (method.Method, error) {
	m, ok := h.Method(name)
	if ok && !h.Broken(name) {
		if h.faults.Stopped() || folder.Unread(h.faults) {
			d.sayTo("Faults stand in other methods of this copy: bindpost proof tells them.")
		}
		return m, nil
	}
	if !ok {
		h.faults.Add(h.NoMethod(name, at))
	}
	return nil, report(d, h.faults)
}
