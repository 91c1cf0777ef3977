package main

import "strings"

// singleOptions ask for one page in place of a folder of pages.
type singleOptions struct {
	Single bool    `help:"Make one page of the whole manual, which needs no file beside it."`
	Guide  *string `placeholder:"code" help:"With --single: this guide only, by its page code, such as K3."`
}

// fits sees that the options go together.
func (o singleOptions) fits(d desk) error {
	switch {
	case o.Guide == nil:
		return nil
	case o.code() == "":
		d.sayTo("%v", ofOption("guide", *o.Guide).Want("the page code of a guide, such as K3; or no --guide, for the whole manual"))
		return exit(misused)
	case !o.Single:
		d.sayTo("--guide goes with --single: it makes a page of one guide alone. Write: bindpost press --single --guide %s", o.code())
		return exit(misused)
	}
	return nil
}

// code is the page code of the only guide that is wanted; "" for all.
func (o singleOptions) code() string {
	if o.Guide == nil {
		return ""
	}
	return strings.TrimSpace(*o.Guide)
}

// folder returns where the manual goes if no folder is named. One page does not
// take the place of the folder of pages.
func (o singleOptions) folder() string {
	if o.Single {
		return "manual-single"
	}
	return "manual"
}
