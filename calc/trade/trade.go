// Package trade holds the set: the methods of the trade as files, the
// references and cautions they name, the values and constants they share, and
// the methods that are written in Go. Nothing is read before it is asked for.
package trade

import (
	"embed"
	"errors"
	"io/fs"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/phrase"
)

//go:embed methods references values cautions.yaml never.yaml constants.yaml catalogue.yaml names.yaml terms.yaml regional.yaml boxes.yaml placing.yaml rears.yaml words
var files embed.FS

var shipped = sync.OnceValue(func() *method.Library { return load(nil, inWords) })

// load reads the shipped set in the words of a language, of which nil is the
// first; in leads from there to the others.
func load(words *phrase.Words, in func(language string) *method.Library) *method.Library {
	sources, err := Sources(files)
	if err != nil {
		panic("trade: the shipped set cannot be read: " + err.Error())
	}
	sources.Words, sources.In = words, in
	library, faults := method.Load(sources, nil)
	if faults.Len() > 0 {
		panic("trade: the shipped set is not sound:\n" + faults.String())
	}
	return library
}

// Library returns the shipped set, read on the first call. It is the same for
// all callers and does not change.
func Library() *method.Library { return shipped() }

// Sources gathers the texts of a set from a folder laid out as the shipped
// one: methods/NAME.yaml, references/AREA.yaml and values/AREA.yaml (each of
// these two may also be one file, references.yaml or values.yaml) beside
// cautions.yaml, never.yaml, constants.yaml, names.yaml, terms.yaml and catalogue.yaml, each of
// which may be absent. The methods in Go that work on the catalogue come with it; a
// catalogue that is not sound is an error.
func Sources(fsys fs.FS) (method.Sources, error) {
	s := method.Sources{}
	for _, many := range []struct {
		pattern string
		to      *[]*fault.Text
	}{
		{"methods/*.yaml", &s.Methods}, {"references/*.yaml", &s.References}, {"references.yaml", &s.References},
		{"values/*.yaml", &s.Values}, {"values.yaml", &s.Values},
	} {
		texts, err := readAll(fsys, many.pattern)
		if err != nil {
			return s, err
		}
		*many.to = append(*many.to, texts...)
	}
	for name, to := range map[string]**fault.Text{
		"cautions.yaml": &s.Cautions, "constants.yaml": &s.Constants, "never.yaml": &s.Never, "names.yaml": &s.Names, "terms.yaml": &s.Terms,
		"regional.yaml": &s.Regional,
	} {
		texts, err := readAll(fsys, name)
		if err != nil {
			return s, err
		}
		for _, t := range texts {
			*to = t
		}
	}
	return s, addGo(&s, fsys)
}

// addGo adds the methods that are written in Go, with the data they work on.
func addGo(s *method.Sources, fsys fs.FS) error {
	var rules []*fault.Text
	for _, name := range []string{"methods/alignment.yaml", "methods/arm-geometry.yaml"} {
		if t, err := read(fsys, name); err == nil {
			rules = append(rules, t)
		}
	}
	if len(rules) == 2 {
		s.Go = append(s.Go, AlignmentSearch(rules...))
	}
	if rule, err := read(fsys, "methods/room-mode.yaml"); err == nil {
		s.Go = append(s.Go, RoomModes(rule))
	}
	if err := errors.Join(addBoxes(s, fsys), addPlacing(s, fsys)); err != nil {
		return err
	}
	if rule, err := read(fsys, "methods/wire-to-buy.yaml"); err == nil {
		s.Go = append(s.Go, ReelPlan(rule))
	}
	if rule, err := read(fsys, "methods/skin-depth.yaml"); err == nil {
		s.Go = append(s.Go, SkinEffect(rule))
	}
	if _, err := fs.Stat(fsys, "catalogue.yaml"); err != nil {
		return nil
	}
	text, err := read(fsys, "catalogue.yaml")
	if err != nil {
		return err
	}
	c, faults := ReadCatalogue("trade", text)
	if faults.Stopped() {
		return errors.New(faults.String())
	}
	s.Go = append(s.Go, Adapters(c))
	return nil
}

// addBoxes adds the method that tells a box by its sockets, where its table is.
func addBoxes(s *method.Sources, fsys fs.FS) error {
	if _, err := fs.Stat(fsys, "boxes.yaml"); err != nil {
		return nil
	}
	text, err := read(fsys, "boxes.yaml")
	if err != nil {
		return err
	}
	b, faults := ReadBoxes(text)
	if faults.Stopped() {
		return errors.New(faults.String())
	}
	s.Go = append(s.Go, WhichBox(b))
	return nil
}

// addPlacing adds the methods that place sources and trace copies, where the
// table of costs is.
func addPlacing(s *method.Sources, fsys fs.FS) error {
	if _, err := fs.Stat(fsys, "placing.yaml"); err != nil {
		return nil
	}
	text, err := read(fsys, "placing.yaml")
	if err != nil {
		return err
	}
	p, faults := ReadPlacing(text)
	if faults.Stopped() {
		return errors.New(faults.String())
	}
	s.Go = append(s.Go, PlaceSources(p), Copying())
	return nil
}

// readAll reads the files of a pattern, in order of their names.
func readAll(fsys fs.FS, pattern string) ([]*fault.Text, error) {
	names, err := fs.Glob(fsys, pattern)
	if err != nil {
		return nil, err
	}
	var texts []*fault.Text
	for _, name := range names {
		t, err := read(fsys, name)
		if err != nil {
			return nil, err
		}
		texts = append(texts, t)
	}
	return texts, nil
}

func read(fsys fs.FS, name string) (*fault.Text, error) {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, err
	}
	return fault.NewText(name, string(data)), nil
}
