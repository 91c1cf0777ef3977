package main

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/guide"
	"bindpost/site/press"
)

// settingOptions say how one press is set, whatever the imprint says.
type settingOptions struct {
	Paper string `placeholder:"paper" help:"The paper to print on: A4 or Letter. Without it, that of the imprint."`
	Type  string `placeholder:"size" help:"The size of the type on paper: 12pt, or 18pt for weak eyes. Without it, that of the imprint."`
}

// setting reads the options.
func (o settingOptions) setting(d desk) (press.Setting, error) {
	paper, ok := guide.Listed(o.Paper, guide.Papers)
	if !ok {
		d.sayTo("%v", ofOption("paper", o.Paper).Want("%s", strings.Join(guide.Papers, " or ")))
		return press.Setting{}, exit(misused)
	}
	size, ok := guide.Listed(o.Type, guide.TypeSizes)
	if !ok {
		d.sayTo("%v", ofOption("type", o.Type).Want("%s", strings.ReplaceAll(strings.Join(guide.TypeSizes, " or "), " pt", "pt")))
		return press.Setting{}, exit(misused)
	}
	return press.Setting{Paper: paper, Type: size}, nil
}

// ofOption makes the fault of an option that cannot be what it is.
func ofOption(name, value string) *fault.Fault {
	return fault.At(fault.Place{Text: fault.NewText("--"+name, "")}, "cannot be %q", value)
}
