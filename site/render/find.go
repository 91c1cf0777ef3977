package render

import (
	"fmt"
	"io"
	"strings"

	"bindpost/site/bind"
)

// findScript is the file among the templates that finds words. FindIndex is
// the file with all that it looks through; it is made for each manual, and
// called when a reader comes to the field.
const (
	findScript = "find.js"
	FindIndex  = "find-index.js"
)

// The marks at the head of the lines of what is looked through, none of them a
// letter, so that a word begins behind them. templates/find.js reads them.
const (
	markPath     = "/" // of the page that follows, tab, the id of the page
	markQuestion = "?" // code, tab, question
	markAnswer   = "!" // a sentence of the short answer
	markHead     = "#" // code, tab, heading
	markTable    = "+" // code, tab, caption
	markInTable  = "|" // a sentence of that table
	markTerm     = "*" // a term that the next sentence explains
	markSaid     = "." // a sentence
	markAlike    = "=" // words that mean the same, parted by tabs
	markMisspelt = "~" // a word mistyped, tab, the word that is meant
)

// WriteFind writes the script that holds every sentence of the book with its
// place, for finding. It is one text, for a text is what a browser reads
// fastest; each guide has set its own stretch of it.
func (r *Renderer) WriteFind(out io.Writer, b *bind.Book, stretch func(*bind.Leaf) ([]byte, error)) error {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return err
	}
	before, err := findLines(func(f findText) { f.thesaurus(b.Thesaurus()) })
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(out, "\"use strict\";\nwindow.bindpostIndex = \"%s", before); err != nil {
		return err
	}
	for _, l := range b.Leaves {
		said, err := stretch(l)
		if err != nil {
			return err
		}
		if _, err := out.Write(said); err != nil {
			return err
		}
	}
	after, err := findLines(func(f findText) { f.cautions(w, b) })
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s\";\n", after)
	return err
}

// findLines returns lines of what is looked through as they stand between the
// quotes of a script's string, so that pieces of it may be put one after another.
func findLines(write func(findText)) ([]byte, error) {
	return set(func(quoted *forme) error {
		return withForme(func(plain *forme) error {
			write(findText{plain})
			quoted.Write(bind.AppendQuoted(quoted.AvailableBuffer(), plain.Bytes()))
			return nil
		})
	})
}

// findText is the text that is looked through, line by line.
type findText struct{ *forme }

func (f findText) line(mark string, parts ...string) {
	f.WriteString(mark)
	for i, p := range parts {
		if i > 0 {
			f.WriteByte('\t')
		}
		f.WriteString(strings.Join(strings.Fields(p), " ")) // no tab, no end of line, no hard space
	}
	f.WriteByte('\n')
}

// put writes pieces as they are.
func (f findText) put(pieces ...string) {
	for _, p := range pieces {
		f.WriteString(p)
	}
}

var passageMarks = [...]string{
	bind.AnswerPassage: markAnswer, bind.HeadPassage: markHead, bind.TablePassage: markTable,
	bind.InTablePassage: markInTable, bind.TermPassage: markTerm, bind.SaidPassage: markSaid,
}

// findPiece is the stretch of one guide.
func findPiece(l *bind.Leaf, said []bind.Passage) ([]byte, error) {
	return findLines(func(f findText) {
		d := l.Guide.Docket
		f.line(markPath, href(l.Path), d.Code)
		f.line(markQuestion, d.Code, d.Question)
		for _, p := range said {
			switch p.Kind {
			case bind.HeadPassage, bind.TablePassage:
				f.line(passageMarks[p.Kind], p.Code, p.Text)
			default: // its words stand one space apart
				f.put(passageMarks[p.Kind], p.Text, "\n")
			}
		}
	})
}

// thesaurus writes the words that finding knows.
func (f findText) thesaurus(words bind.Thesaurus) {
	for _, alike := range words.Alike {
		f.line(markAlike, alike...)
	}
	for _, m := range words.Misspelt {
		f.line(markMisspelt, m[0], m[1])
	}
}

// cautions writes the list of cautions as a page of its own.
func (f findText) cautions(w words, b *bind.Book) {
	if len(b.Cautions) == 0 {
		return
	}
	f.line(markPath, bind.CautionsPath, cautionsID)
	f.line(markQuestion, w.Say("cautions-code"), w.Say("cautions"))
	for _, c := range b.Cautions {
		for _, l := range w.cautionLines(c.Caution) {
			f.line(markSaid, l.Value)
		}
	}
}
