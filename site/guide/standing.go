package guide

import (
	"maps"
	"slices"
	"strings"
	"time"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/record"
	"bindpost/calc/unit"
	"bindpost/site/folder"
)

// Standing is a standing figure: a value kept once for many guides, with its
// reference and the day on which it is to be looked at again.
type Standing struct {
	Name   string
	Point  method.Point
	Sense  string
	Source Source
	Place  fault.Place // of its name
}

// standingBlock is the name under which standing figures are called, where a
// figure of a block has the block's name: <figure:standing.kitchen>.
const standingBlock = "standing"

// standingKeys are the lines of a standing figure.
var standingKeys = []string{"value", "says", "sense", "reference", "mark", "date", "review"}

const standingExample = "kitchen:\n    value: 9 m\n    reference: measured along the skirting\n    mark: read\n    date: \"2026-11-02\""

// isoDate is how a date is written that is compared with another.
const isoDate = "2006-01-02"

// Standings are the standing figures of a copy.
type Standings struct {
	byName map[string]*Standing // nil for one in which a fault stands
	lost   bool                 // they could not be read: none can be told to be missing
	hash   string
}

// All returns the standing figures that are sound, by name.
func (s *Standings) All() []*Standing {
	var all []*Standing
	for _, name := range s.names() {
		if one := s.byName[name]; one != nil {
			all = append(all, one)
		}
	}
	return all
}

// Named returns the standing figure of a name; nil where there is none that is
// sound.
func (s *Standings) Named(name string) *Standing {
	if s == nil {
		return nil
	}
	return s.byName[name]
}

func (s *Standings) names() []string {
	if s == nil {
		return nil
	}
	return slices.Sorted(maps.Keys(s.byName))
}

// IsDate reports whether a text is a day: "2026-11-25".
func IsDate(s string) bool {
	_, err := time.Parse(isoDate, s)
	return err == nil
}

// isWhen reports whether a text is a year, a month or a day.
func isWhen(s string) bool {
	for _, shape := range []string{isoDate, isoDate[:7], isoDate[:4]} {
		if _, err := time.Parse(shape, s); err == nil {
			return true
		}
	}
	return false
}

// ReadStanding reads the standing figures of a copy; the text is nil where
// there is none, or where it was lost. A figure whose review is due before the
// edition's date is a warning.
func ReadStanding(t *fault.Text, lost bool, e Edition) (*Standings, *fault.List) {
	all, faults := &Standings{byName: map[string]*Standing{}, lost: lost}, &fault.List{}
	if t == nil {
		return all, faults
	}
	all.hash = folder.Hash(t)
	n, fs := record.Parse(t)
	faults.Join(fs)
	all.lost = fs.Stopped()
	if n == nil || n.Kind == record.Empty || all.lost {
		return all, faults
	}
	if n.Kind != record.Map {
		all.lost = true
		faults.Add(fault.At(n.Place, "the standing figures are %s here", n.Kind).Want("figures by name").Fix("%s", standingExample))
		return all, faults
	}
	for _, entry := range n.Entries {
		all.byName[entry.Key.Text] = readStanding(entry, e, faults)
	}
	all.contradictions(n, faults)
	return all, faults
}

// contradictions tells of two names for one thing, by the words and the sense
// in which it is told, that have different values.
func (s *Standings) contradictions(n *record.Node, faults *fault.List) {
	told := map[string]*Standing{}
	for _, entry := range n.Entries {
		one := s.byName[entry.Key.Text]
		says := strings.ToLower(strings.Join(strings.Fields(entry.Value.Line("says")), " "))
		if one == nil || says == "" {
			continue
		}
		key := says + "\n" + one.Sense
		first, twice := told[key]
		if !twice {
			told[key] = one
			continue
		}
		if KeptValue(first.Point.Value) != KeptValue(one.Point.Value) || first.Point.Unit.Kind() != one.Point.Unit.Kind() {
			line, _ := first.Place.Text.Position(first.Place.Start)
			faults.Add(fault.At(one.Point.Place, "%q and %q are two values for one thing: in line %d it is %s, and here %s",
				first.Name, one.Name, line, first.Point.Text, one.Point.Text).
				Want("one value for it, or words that tell the two things apart").Fix("find out which is right, and take the other out"))
		}
	}
}

func readStanding(entry record.Entry, e Edition, faults *fault.List) *Standing {
	name, n := entry.Key, entry.Value
	if !isName(name.Text) {
		faults.Add(fault.At(name.Place, "%q is no name for a standing figure", name.Text).Want("%s", nameShape))
		return nil
	}
	if n.Kind != record.Map {
		faults.Add(fault.At(name.Place, "the standing figure %q is not whole", name.Text).
			Want("value, reference, mark and date under it").Fix("%s", standingExample))
		return nil
	}
	faults.Join(n.Keys("a standing figure", standingKeys...))
	for _, must := range []string{"value", "reference", "mark", "date"} {
		if n.Line(must) == "" {
			faults.Add(fault.At(name.Place, "the standing figure %q has no %s", name.Text, must).
				Want("value, reference, mark and date").Fix("%s", standingExample))
		}
	}
	if n.Line("value") == "" {
		return nil
	}
	q, f := unit.Read(n.Get("value").Place)
	if f != nil {
		faults.Add(f)
		return nil
	}
	s := &Standing{Name: name.Text, Sense: n.Line("sense"), Place: name.Place, Point: method.PointOf(q, n.Get("value").Place)}
	s.Source = Source{
		ID: standingBlock + "." + s.Name, Title: n.Line("reference"), Date: n.Line("date"), Mark: n.Line("mark"), Says: s.says(n.Line("says")),
	}
	if s.Source.Mark != "" && !slices.Contains(method.Marks, s.Source.Mark) {
		faults.Add(fault.At(n.Get("mark").Place, "mark cannot be %q", s.Source.Mark).Want("one of: %s", strings.Join(method.Marks, ", ")))
	}
	if d := s.Source.Date; d != "" && !isWhen(d) {
		faults.Add(fault.At(n.Get("date").Place, "%q is no date", d).Want(`a year, a month or a day in quotes, such as "2026-11-02"`))
	}
	s.due(n.Get("review"), e, faults)
	return s
}

// says tells the figure in words beside its reference.
func (s *Standing) says(what string) string {
	if s.Sense != "" && what != "" {
		what += " (" + s.Sense + ")"
	}
	return strings.TrimPrefix(what+": "+s.Point.Text, ": ")
}

// due warns of a standing figure that should have been looked at again before
// the edition in which it is printed.
func (s *Standing) due(review *record.Node, e Edition, faults *fault.List) {
	if review == nil || review.Kind == record.Empty {
		return
	}
	day, err := time.Parse(isoDate, review.Text)
	if err != nil {
		faults.Add(fault.At(review.Place, "%q is no date", review.Text).Want(`year, month and day in quotes, such as "2027-11-25"`))
		return
	}
	edition, err := time.Parse(isoDate, e.Date)
	if err == nil && day.Before(edition) {
		faults.Add(fault.At(review.Place, "the standing figure %q was to be looked at again by %s, and this edition is of %s", s.Name, review.Text, e.Date).
			Want("a value that somebody has looked at since").Fix("look it up again, then set date and review anew").Graded(fault.Warn))
	}
}

// figure is what prose prints of a standing figure.
func (s *Standing) figure() *Figure {
	return &Figure{Address: s.Source.ID, Number: bare(s.Point), Unit: s.Point.Unit, State: s.Point.Value.State, Sense: s.Sense, Reached: &Reached{Value: s.Point.Value}}
}

// standing returns the standing figure of a name and notes that the guide
// uses it; nil, with a fault, where the copy keeps none of that name.
func (r *reader) standing(name string, at fault.Place) *Standing {
	s := r.standingOf(name)
	if s == nil {
		r.faults.Add(r.noStanding(name, at))
		return nil
	}
	if !slices.Contains(r.guide.Standing, s) {
		r.guide.Standing = append(r.guide.Standing, s)
	}
	return s
}

func (r *reader) noStanding(name string, at fault.Place) *fault.Fault {
	all := r.kit.Standing.names()
	if slices.Contains(all, name) || r.kit.Standing != nil && r.kit.Standing.lost {
		return nil // what is wrong with it is told where it stands
	}
	f := fault.At(at, "the copy keeps no standing figure %q", name)
	if len(all) == 0 {
		return f.Want("a file standing.yaml that keeps it").Fix("put %s into standing.yaml:\n  %s", name, standingExample)
	}
	f.Want("one of: %s", strings.Join(all, ", "))
	if near := fault.Near(name, all); near != "" {
		f.Fix("<figure:%s.%s>", standingBlock, near)
	}
	return f
}
