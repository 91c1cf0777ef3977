package render

import (
	"html/template"

	"bindpost/site/guide"
)

// caution is a caution as it is printed.
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

// HTML returns a caution as a part of the page.
func (c caution) HTML() template.HTML { return setHTML(func(f *forme) { f.caution(c) }) }

func (f *forme) caution(c caution) {
	f.put(`<section class="part caution`)
	if c.Grave {
		f.put(" grave")
	}
	f.put(`" id="`, c.ID, `" aria-labelledby="`, c.ID, "-signal\">\n", `<h2 class="hang" id="`, c.ID, `-signal">`)
	f.signal(c)
	f.put(` <span class="paragraph">`, c.ID, "</span></h2>\n")
	f.cautionLines(c)
	f.put("</section>\n")
}

// signal writes the signal word of a caution, and what it says of harm.
func (f *forme) signal(c caution) {
	f.put(`<span class="signal">`)
	f.text(c.Signal)
	f.put(`</span> <span class="harm">`)
	f.text(c.Harm)
	f.put("</span>")
}

func (f *forme) cautionLines(c caution) {
	f.put("<dl>\n")
	for _, l := range c.Lines {
		f.put("<div><dt>")
		f.text(l.Label)
		f.put("</dt> <dd>")
		f.text(l.Value)
		f.put("</dd></div>\n")
	}
	f.put("</dl>\n")
}
