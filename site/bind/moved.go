package bind

import (
	"fmt"
	"slices"
	"strings"
)

// Moved is what one press printed otherwise than the one before it: cautions
// that came or went, verdicts, figures, and the sentences that hold changed
// figures. What an author wrote anew is not in it.
type Moved struct {
	Cautions, Verdicts, Sentences, Figures, Cells []string // plain sentences, in the order of codes
	Came, Went                                    int      // figures that have a new address, or none any more
}

// None reports whether nothing moved.
func (m Moved) None() bool {
	return len(m.Lines()) == 0
}

// Lines tells what moved, cautions first and the many cells of tables last.
func (m Moved) Lines() []string {
	lines := slices.Concat(m.Cautions, m.Verdicts, m.Sentences, m.Figures, m.Cells)
	if m.Came > 0 {
		lines = append(lines, fmt.Sprintf("Figures that were not there before: %d.", m.Came))
	}
	if m.Went > 0 {
		lines = append(lines, fmt.Sprintf("Figures that are gone: %d.", m.Went))
	}
	return lines
}

// Since returns what moved between an older ledger and this one.
func (l *Ledger) Since(old *Ledger) Moved {
	m := Moved{}
	before := map[string]*LedgerEntry{}
	for i := range old.Entries {
		before[old.Entries[i].Code] = &old.Entries[i]
	}
	m.figures(old, l)
	for i := range l.Entries {
		now := &l.Entries[i]
		then := before[now.Code]
		if then == nil {
			continue // a new guide has not moved
		}
		m.cautions(then, now)
		m.verdicts(then, now)
		m.sentences(then, now)
	}
	return m
}

func (m *Moved) cautions(then, now *LedgerEntry) {
	for _, id := range now.Cautions {
		if !slices.Contains(then.Cautions, id) {
			m.Cautions = append(m.Cautions, fmt.Sprintf("%s: the caution %s stands on its page now.", now.Code, id))
		}
	}
	for _, id := range then.Cautions {
		if !slices.Contains(now.Cautions, id) {
			m.Cautions = append(m.Cautions, fmt.Sprintf("%s: the caution %s no longer stands on its page.", now.Code, id))
		}
	}
}

func (m *Moved) verdicts(then, now *LedgerEntry) {
	for _, v := range now.Verdicts {
		i := slices.IndexFunc(then.Verdicts, func(o LedgerVerdict) bool { return o.Table == v.Table && o.Name == v.Name })
		if i >= 0 && then.Verdicts[i] != v {
			m.Verdicts = append(m.Verdicts, fmt.Sprintf("%s, verdict %s: was %q, is %q.", v.Table, v.Name, told(then.Verdicts[i]), told(v)))
		}
	}
}

func told(v LedgerVerdict) string { return strings.TrimSuffix(v.Grade+", "+v.Words, ", ") }

// figures compares all figures of the two ledgers: a block may have moved from
// one guide to another.
func (m *Moved) figures(old, now *Ledger) {
	before := map[string]string{}
	for _, e := range old.Entries {
		for _, f := range e.Figures {
			before[f.Address] = f.Text
		}
	}
	seen := map[string]bool{}
	for _, e := range now.Entries {
		for _, f := range e.Figures {
			if seen[f.Address] {
				continue // a standing figure stands under every guide that uses it
			}
			seen[f.Address] = true
			text, known := before[f.Address]
			delete(before, f.Address)
			switch {
			case !known:
				m.Came++
			case text != f.Text:
				m.figure(f, text, e)
			}
		}
	}
	m.Went = len(before)
}

// figure tells a changed figure: one that a block names has an address of two
// parts, a cell one of more.
func (m *Moved) figure(f LedgerFigure, was string, e LedgerEntry) {
	to := &m.Figures
	if strings.Count(f.Address, ".") > 1 {
		to = &m.Cells
	}
	*to = append(*to, fmt.Sprintf("%s: was %s, is %s (in %s).", f.Address, was, f.Text, f.where(e)))
}

// where names the places that print a figure, or the guide of one that
// nothing prints.
func (f LedgerFigure) where(e LedgerEntry) string {
	if len(f.Used) == 0 {
		return e.Code
	}
	return strings.Join(f.Used, ", ")
}

func (m *Moved) sentences(then, now *LedgerEntry) {
	for _, s := range now.Sentences {
		same := func(o LedgerSentence) bool { return o.Form == s.Form }
		i := slices.IndexFunc(then.Sentences, same)
		if i >= 0 && then.Sentences[i].Text != s.Text {
			m.Sentences = append(m.Sentences, fmt.Sprintf("%s now reads: %s", s.Where, s.Text))
		}
	}
}
