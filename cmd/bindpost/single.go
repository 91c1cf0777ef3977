package main

// singleOptions ask for one page in place of a folder of pages.
type singleOptions struct {
	Single bool   `help:"Make one page of the whole manual, which needs no file beside it."`
	Guide  string `placeholder:"code" help:"With --single: this guide only, by its page code, such as K3."`
}

// fits sees that the options go together.
func (o singleOptions) fits(d desk) error {
	if o.Guide != "" && !o.Single {
		d.sayTo("--guide goes with --single: it makes a page of one guide alone. Write: bindpost press --single --guide %s", o.Guide)
		return exit(misused)
	}
	return nil
}

// folder returns where the manual goes if no folder is named. One page does not
// take the place of the folder of pages.
func (o singleOptions) folder() string {
	if o.Single {
		return "manual-single"
	}
	return "manual"
}
