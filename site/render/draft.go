package render

import (
	"cmp"
	"fmt"
	"io"
)

// Draft is a page that is not set yet. A page of the whole book may be as long as
// a shelf of guides, so that whoever writes it need not hold it: it is handed on
// while it is set.
type Draft struct {
	renderer *Renderer
	head     pageHead
	body     func(*forme) error
}

// draft returns the draft of a page whose template is filled with a view. The
// view is made when the page is set, and may ask for what was set of leaves until
// it is.
func (r *Renderer) draft(template string, h pageHead, sets Sets, view func(*asked) (any, error)) Draft {
	return Draft{r, h, func(f *forme) error {
		a := &asked{sets: sets}
		v, err := view(a)
		if err != nil {
			return err
		}
		return cmp.Or(r.templates.execute(f, template, v), a.err)
	}}
}

// Path returns where the page will lie, from the head of the manual.
func (d Draft) Path() string { return d.head.Path }

// Set returns the page, held whole.
func (d Draft) Set() (page Page, err error) {
	err = withForme(func(f *forme) error {
		from, to, err := d.set(f)
		page = d.head.page()
		page.whole = append((*wholes.Get().(*[]byte))[:0], f.Bytes()...)
		page.Head, page.Body = page.whole[:from:from], page.whole[from:to:to]
		return err
	})
	return page, err
}

// Write writes the page piece by piece, and returns it without what was set of
// it. An error is one of the writer, or a slip of ours.
func (d Draft) Write(w io.Writer) (page Page, err error) {
	err = withForme(func(f *forme) error {
		f.to = w
		if _, _, err := d.set(f); err != nil {
			return err
		}
		return f.end()
	})
	return d.head.page(), err
}

// set sets the whole page, and returns where its body begins and ends.
func (d Draft) set(f *forme) (from, to int, err error) {
	if err = d.renderer.templates.execute(f, "head", d.head); err == nil {
		from = f.length()
		err = d.body(f)
	}
	if err != nil {
		return 0, 0, fmt.Errorf("setting %s: %w", d.head.Path, err)
	}
	to = f.length()
	f.WriteString(closing)
	return from, to, nil
}
