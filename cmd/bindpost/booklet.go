package main

import (
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	"bindpost/site/press"
)

// bookletOption asks for the manual as a booklet too.
type bookletOption struct {
	PDF bool `name:"pdf" help:"Print the manual as one booklet too, a PDF in the same folder. Chromium or Chrome must be on this computer."`
}

// noBrowser says how to print without a browser that can be called.
const noBrowser = "Neither Chromium nor Chrome is found on this computer, so no booklet was printed. " +
	"To print without one of them, open the pages in the browser you have and print them from there: " +
	"each is set for paper, with its code and its sides at the foot."

// print returns what prints the booklet: nil where none is asked for, or where
// there is no browser to print it.
func (o bookletOption) print(d desk) (p press.Print, missing bool) {
	if !o.PDF {
		return nil, false
	}
	browser := findBrowser()
	if browser == "" {
		return nil, true
	}
	return printer(d, browser), false
}

// fileAddress returns the address of a file on this computer.
func fileAddress(path string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}

// tellBooklet says where the booklet is, or why there is none.
func (o bookletOption) tellBooklet(d desk, into string, missing bool) error {
	switch {
	case missing:
		d.sayTo("%s", noBrowser)
		return exit(unwritten)
	case o.PDF:
		d.say("The booklet is this file:")
		fmt.Fprintln(d.out, filepath.Join(into, press.BookletName))
	}
	return nil
}
