package render

import (
	"bindpost/site/guide"
)

// caution is a caution as its template takes it.
type caution struct {
	ID     string
	Signal string
	Harm   string
	Grave  bool // people may come to harm
	Lines  []labelled
}

// setCautions sets the cautions of the guide, so that a table can name them.
func (s *setter) setCautions() {
	s.cautions = map[string]caution{}
	for _, c := range s.leaf.Guards {
		s.cautions[c.ID] = caution{
			ID: c.Code, Signal: s.sayOr("signal-", c.Signal), Harm: s.sayOr("harm-", c.Signal), Grave: c.Signal == "WARNING", Lines: s.cautionLines(c.Caution),
		}
	}
}

// guardsOf returns the cautions that stand before a section, from 1, or at the
// head of the guide.
func (s *setter) guardsOf(section int) []caution {
	var all []caution
	for _, c := range s.leaf.Guards {
		if c.Part == section {
			all = append(all, s.cautions[c.ID])
		}
	}
	return all
}

func (w words) cautionLines(c *guide.Caution) []labelled {
	var lines []labelled
	for _, l := range []labelled{
		{w.Say("caution-happens"), c.Happens},
		{w.Say("caution-how"), c.How},
		{w.Say("caution-instead"), c.Instead},
		{w.Say("caution-ask"), c.Ask},
	} {
		if l.Value != "" {
			l.Value = sentence(l.Value)
			lines = append(lines, l)
		}
	}
	return lines
}
