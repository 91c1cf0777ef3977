package render

import "html/template"

// A page has more cells and lines of a drawing than anything else. They are
// written here, and not by a template, which takes twenty times as long.

// cellsHTML sets the heads and the rows of a table.
func cellsHTML(s stretch) template.HTML {
	return setHTML(func(f *forme) {
		f.put("<thead>\n<tr>")
		for _, h := range s.Heads {
			f.put(`<th scope="col"`)
			f.attributeIf("class", h.Class)
			f.put(">", string(h.Text), "</th>")
		}
		f.put("</tr>\n</thead>\n<tbody>\n")
		for _, row := range s.Rows {
			f.put("<tr>")
			for _, c := range row {
				f.cell(c)
			}
			f.put("</tr>\n")
		}
		f.put("</tbody>\n")
	})
}

func (f *forme) cell(c cell) {
	if c.Head {
		f.put(`<th scope="row">`, string(c.Text), "</th>")
		return
	}
	f.put("<td")
	f.attributeIf("class", c.Class)
	f.put(">", string(c.Text), "</td>")
}

// lines are what a drawing is made of.
type lines struct {
	paths []stroke
	dots  [][2]string
	words []lettered
}

// Drawn returns the lines, the dots and the words of a drawing, in this order.
func (l lines) Drawn() template.HTML {
	return setHTML(func(f *forme) {
		for _, p := range l.paths {
			f.put("<path")
			f.attribute("class", p.Class)
			f.attribute("d", p.D)
			f.put("/>\n")
		}
		for _, d := range l.dots {
			f.put(`<circle class="dot" cx="`, d[0], `" cy="`, d[1], `" r="3.2"/>`, "\n")
		}
		for _, w := range l.words {
			f.put("<text")
			f.attributeIf("class", w.Class)
			f.put(` x="`, w.X, `" y="`, w.Y, `">`)
			f.text(w.Text)
			f.put("</text>\n")
		}
	})
}
