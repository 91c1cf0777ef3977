package bind

import (
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/site/folder"
)

// unused notes what lies in the copy and no guide uses. Where a fault stands
// in a block nothing is noted: what the block meant to use is not known.
func unused(p Parts, g *gallery, faults *fault.List) {
	for _, one := range p.Guides {
		if one.Lost || len(one.Broken) > 0 {
			return
		}
	}
	for _, d := range p.Drawings {
		if !g.shown[d.Path] && !g.lost {
			faults.Add(note(drawingPlace(d), "no guide shows this drawing").
				Fix("show it in a guide: ![what it shows](%s); or put _ before its name, to leave it aside", d.Path))
		}
	}
	used := usedMethods(p)
	broken := slices.ContainsFunc(p.Methods, func(s *method.Sheet) bool { return p.Library.Broken(s.Name) })
	for _, s := range p.Methods {
		if !used[s.Name] && !broken { // what a broken one meant to borrow is not known
			faults.Add(note(s.Place, "no block uses the method %q", s.Name).
				Fix("use it in a block: calc %s; or put _ before its file's name, to leave it aside", s.Name))
		}
	}
	usedStanding := map[string]bool{}
	for _, g := range p.Guides {
		for _, s := range g.Standing {
			usedStanding[s.Name] = true
		}
	}
	for _, s := range p.Standing {
		if !usedStanding[s.Name] {
			faults.Add(note(s.Place, "no guide uses the standing figure %q", s.Name).
				Fix("name it in a guide: <figure:%s>; or take it out", s.Source.ID))
		}
	}
}

func note(at fault.Place, format string, args ...any) *fault.Fault {
	return fault.At(at, format, args...).Graded(fault.Note)
}

// drawingPlace is the head of a drawing's file.
func drawingPlace(d folder.Drawing) fault.Place { return fault.NewText(d.Text.Name(), "").All() }

// usedMethods names the methods that a block uses, and those that they borrow
// from.
func usedMethods(p Parts) map[string]bool {
	sheets := map[string]*method.Sheet{}
	for _, s := range p.Methods {
		sheets[s.Name] = s
	}
	used := map[string]bool{}
	var use func(name string)
	use = func(name string) {
		if used[name] {
			return
		}
		used[name] = true
		if s := sheets[name]; s != nil {
			for _, b := range s.Borrows {
				use(b)
			}
		}
	}
	for _, g := range p.Guides {
		for _, t := range g.Tables {
			use(t.Method)
		}
	}
	return used
}
