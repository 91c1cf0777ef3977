package render

import "html/template"

// The forms of a page have many fields of a few words each. Like cells, they are
// written here and not by a template.

// Asked returns the forms, and the cautions that a reader's numbers may bring.
func (p *ownPage) Asked() template.HTML {
	return setHTML(func(f *forme) {
		for _, form := range p.Forms {
			f.ownForm(form)
		}
		for _, c := range p.Cautions {
			f.ownCaution(c)
		}
	})
}

func (f *forme) ownForm(form *ownForm) {
	f.put(`<template class="own-form"`)
	f.attribute("data-method", form.Method)
	f.put(">\n")
	for _, field := range form.Fields {
		f.ownField(field)
	}
	f.put("<ul>\n")
	for _, r := range form.Results {
		f.put("<li")
		f.attribute("data-result", r.Name)
		f.attribute("data-unit", r.Unit)
		f.put(">", string(r.Label), "</li>\n")
	}
	for _, v := range form.Verdicts {
		f.put("<li")
		f.attribute("data-verdict", v.Name)
		f.put(">", string(v.Label), "</li>\n")
	}
	f.put("</ul>\n</template>\n")
}

func (f *forme) ownField(o ownField) {
	f.put(`<p class="field"`)
	f.attribute("data-key", o.Name)
	f.attribute("data-name", o.Plain)
	f.attributeIf("data-unit", o.Symbol)
	f.attributeIf("data-group", o.Group)
	if o.List {
		f.put(` data-list="1"`)
	}
	if o.Free {
		f.put(` data-free="1"`)
	}
	f.put("><label>", string(o.Label), "</label> ")
	f.ownEntry(o)
	if o.Unit != "" {
		f.put(` <span class="unit">`)
		f.text(o.Unit)
		f.put("</span>")
	}
	if o.Note != "" {
		f.put(` <span class="note">`, string(o.Note), "</span>")
	}
	f.put("</p>\n")
}

// ownEntry writes where a value is put in: chosen, or typed.
func (f *forme) ownEntry(o ownField) {
	switch {
	case len(o.Words) > 0:
		f.put("<select>")
		for _, w := range o.Words {
			f.put("<option")
			f.attribute("value", w.Word)
			f.put(">")
			f.text(w.Text)
			f.put("</option>")
		}
		f.put("</select>")
	case o.List:
		f.put(`<input maxlength="400">`)
	default:
		f.put(`<input maxlength="120">`)
	}
}

func (f *forme) ownCaution(c ownCaution) {
	f.put(`<template class="own-caution"`)
	f.attribute("data-name", c.Name)
	f.attributeIf("data-at", c.At)
	f.put(">")
	if c.At == "" {
		f.put("<div class=\"caution\">\n<p class=\"hang\">")
		f.signal(c.Text)
		f.put("</p>\n")
		f.cautionLines(c.Text)
		f.put("</div>")
	}
	f.put("</template>\n")
}

// Said returns the phrases that the script of own numbers speaks with, and the
// words of the units.
func (p *ownPage) Said() template.HTML {
	return setHTML(func(f *forme) {
		for _, key := range ownSays {
			f.put("<li")
			f.attribute("data-say", key)
			f.put(">")
			f.text(p.Say(key))
			f.put("</li>\n")
		}
		for _, h := range p.Units {
			f.put("<li")
			f.attribute("data-unit", h.Unit.Symbol())
			f.put(">")
			f.text(p.Spoken(h.Unit))
			f.put("</li>\n")
		}
	})
}
