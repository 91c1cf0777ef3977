package bind

import (
	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// Kept is a light outline in a form that can be written down and read again. It
// holds places by where they lie in the guide's text, and what comes with the
// copy by its name.
type Kept struct {
	Hash     string
	Asked    guide.Asked
	Code     string
	Question string
	Topics   []string
	Order    int
	Explains []KeptTerm
	Places   map[string]KeptPlace
	Tables   []KeptTable
	Figures  []guide.KeptFigure
	Standing []string
	Quotes   []KeptQuote
	Sweeps   []KeptQuote
	Cautions []KeptCaution
	Heads    []KeptHead
	Links    []KeptMention
	Pictures []KeptMention
	Terms    []KeptSentence
}

// KeptPlace is a place in the guide's text.
type KeptPlace struct{ Start, End int }

// KeptTerm is a term and where the docket names it.
type KeptTerm struct {
	Word  string
	Place KeptPlace
}

// KeptTable is a table of a light guide.
type KeptTable struct {
	Name, Number, Method, Rule string
	Named, Block               KeptPlace
	Sources, Cautions          []string // by their IDs
	Limits, Claims             []KeptLine
	Parts                      int
}

// KeptCaution is a caution by its ID, and where what it guards begins.
type KeptCaution struct {
	ID     string
	Guards int
}

// KeptLine is a limit or a claim.
type KeptLine struct {
	Text, Beyond string
	Over         []string
	Results      []string
	Place        KeptPlace
}

// KeptQuote is a figure of another guide that is named, and beside a sweeping
// word that word.
type KeptQuote struct {
	Address, Word string
	Place         KeptPlace
}

// KeptHead is a heading.
type KeptHead struct {
	Code      string
	Level, At int
	Top       bool
}

// KeptMention is a link, or a picture and whether words stand for it.
type KeptMention struct {
	Destination string
	At          int
	Worded      bool
}

// KeptSentence is a term with the sentence that explains it.
type KeptSentence struct {
	Term   KeptTerm
	Pieces []KeptPiece
}

// KeptPiece is a piece of a sentence: words, or a figure, of which the guide's
// own, and a standing one, stand with their numbers.
type KeptPiece struct {
	Words, Address string
	Figure         *guide.KeptFigure
}

// Keep returns the outline as it is written down; false where it cannot be read
// again as it is.
func (o *Outline) Keep() (Kept, bool) {
	g, s := o.Guide, &keeper{text: o.Guide.Text, whole: true}
	k := Kept{
		Hash: g.Hash, Asked: g.Asked, Code: g.Docket.Code, Question: g.Docket.Question, Topics: g.Docket.Topics, Order: g.Docket.Order,
		Explains: each(g.Docket.Explains, s.term), Places: map[string]KeptPlace{}, Tables: each(g.Tables, s.table),
		Quotes: each(g.Quotes, func(q guide.Quote) KeptQuote { return KeptQuote{Address: q.Address, Place: s.place(q.Place)} }),
		Sweeps: each(g.Sweeps, func(w guide.Sweep) KeptQuote { return KeptQuote{w.Address, w.Word, s.place(w.Place)} }),
		Heads:  each(o.heads, func(h Head) KeptHead { return KeptHead{h.Code, h.Level, h.at, h.top} }),
		Links:  each(o.links, func(m mention) KeptMention { return KeptMention{Destination: m.destination, At: m.at} }),
		Pictures: each(o.pictures, func(p picture) KeptMention {
			return KeptMention{p.destination, p.at, p.worded}
		}),
		Terms: each(o.explains, s.sentence),
	}
	for key, p := range g.Docket.Places {
		k.Places[key] = s.place(p)
	}
	for _, address := range sortedFigures(g) {
		k.Figures = append(k.Figures, s.figure(g.Figures[address]))
	}
	for _, one := range g.Standing {
		k.Standing = append(k.Standing, one.Name)
	}
	for _, c := range g.Cautions {
		k.Cautions = append(k.Cautions, KeptCaution{c.ID, c.Guards})
	}
	return k, s.whole && !g.Lost && len(g.Broken) == 0
}

// each returns what a function makes of each of some things.
func each[A, B any](all []A, f func(A) B) []B {
	if all == nil {
		return nil
	}
	made := make([]B, len(all))
	for i, a := range all {
		made[i] = f(a)
	}
	return made
}

// keeper writes things down.
type keeper struct {
	text  *fault.Text
	whole bool // nothing was met that cannot be read again as it is
}

// place of no text is told by an end before its start.
func (s *keeper) place(p fault.Place) KeptPlace {
	if p.Text == nil {
		return KeptPlace{Start: 0, End: -1}
	}
	if p.Text != s.text {
		s.whole = false
	}
	return KeptPlace{p.Start, p.End}
}

func (s *keeper) term(t guide.Term) KeptTerm { return KeptTerm{t.Word, s.place(t.Place)} }

func (s *keeper) table(t *guide.Table) KeptTable {
	return KeptTable{
		Name: t.Name, Number: t.Number, Method: t.Method, Rule: t.Rule, Named: s.place(t.Named), Block: s.place(t.Block),
		Sources: each(t.Sources, func(s *guide.Source) string { return s.ID }), Cautions: t.Cautions, Parts: t.Parts(),
		Limits: each(t.Limits, func(l guide.Limit) KeptLine { return KeptLine{Text: l.Text, Beyond: l.Beyond, Place: s.place(l.Place)} }),
		Claims: each(t.Claims, func(c guide.Claim) KeptLine {
			return KeptLine{Text: c.Text, Over: c.Over, Results: c.Results, Place: s.place(c.Place)}
		}),
	}
}

func (s *keeper) figure(f *guide.Figure) guide.KeptFigure {
	k, same := f.Keep()
	s.whole = s.whole && same
	return k
}

func (s *keeper) sentence(e explanation) KeptSentence {
	return KeptSentence{s.term(e.term), each(e.sentence.Pieces, func(p Piece) KeptPiece {
		k := KeptPiece{Words: p.Words}
		if p.Figure != nil {
			k.Address = p.Figure.Address
			if p.Figure.Figure != nil {
				f := s.figure(p.Figure.Figure)
				k.Figure = &f
			}
		}
		return k
	})}
}

// Outline returns what was written down as the light outline that it was, of a
// guide whose text is still the same. False says that something is not in the kit
// which it names.
func (k Kept) Outline(t *fault.Text, kit guide.Kit) (*Outline, bool) {
	r := &restorer{text: t, kit: kit, whole: true}
	g := &guide.Guide{
		Text: t, File: t.Name(), Asked: k.Asked, Hash: k.Hash, Figures: make(map[string]*guide.Figure, len(k.Figures)),
		Docket: guide.Docket{
			Code: k.Code, Question: k.Question, Topics: k.Topics, Order: k.Order, Explains: each(k.Explains, r.term),
			Places: make(map[string]fault.Place, len(k.Places)),
		},
		Tables: each(k.Tables, r.table),
		Quotes: each(k.Quotes, func(q KeptQuote) guide.Quote { return guide.Quote{Address: q.Address, Place: r.place(q.Place)} }),
		Sweeps: each(k.Sweeps, func(q KeptQuote) guide.Sweep {
			return guide.Sweep{Word: q.Word, Place: r.place(q.Place), Address: q.Address}
		}),
	}
	for key, p := range k.Places {
		g.Docket.Places[key] = r.place(p)
	}
	for _, f := range k.Figures {
		g.Figures[f.Address] = f.Figure()
	}
	for _, name := range k.Standing {
		one := kit.Standing.Named(name)
		r.whole = r.whole && one != nil
		g.Standing = append(g.Standing, one)
	}
	g.Cautions = each(k.Cautions, r.caution)
	return &Outline{
		Guide: g, heads: each(k.Heads, func(h KeptHead) Head { return Head{Code: h.Code, Level: h.Level, at: h.At, top: h.Top} }),
		links:    each(k.Links, func(m KeptMention) mention { return mention{m.Destination, m.At} }),
		pictures: each(k.Pictures, func(m KeptMention) picture { return picture{mention{m.Destination, m.At}, m.Worded} }),
		explains: each(k.Terms, r.sentence),
	}, r.whole
}

// restorer reads things that were written down.
type restorer struct {
	text  *fault.Text
	kit   guide.Kit
	whole bool // all that was named was in the kit
}

func (r *restorer) source(id string) *guide.Source {
	s := r.kit.Source(id)
	r.whole = r.whole && s != nil
	return s
}

func (r *restorer) caution(k KeptCaution) *guide.Caution {
	c, known := r.kit.Library.Caution(k.ID)
	if !known {
		r.whole = false
		return nil
	}
	return &guide.Caution{CautionText: &c.CautionText, Guards: k.Guards}
}

func (r *restorer) place(p KeptPlace) fault.Place {
	if p.End < p.Start {
		return fault.Place{}
	}
	return r.text.Place(p.Start, p.End)
}

func (r *restorer) term(t KeptTerm) guide.Term {
	return guide.Term{Word: t.Word, Place: r.place(t.Place)}
}

func (r *restorer) table(t KeptTable) *guide.Table {
	return guide.LightTable(guide.Table{
		Name: t.Name, Number: t.Number, Method: t.Method, Rule: t.Rule, Named: r.place(t.Named), Block: r.place(t.Block),
		Sources: each(t.Sources, r.source), Cautions: t.Cautions,
		Limits: each(t.Limits, func(l KeptLine) guide.Limit {
			return guide.Limit{Text: l.Text, Beyond: l.Beyond, Place: r.place(l.Place)}
		}),
		Claims: each(t.Claims, func(c KeptLine) guide.Claim {
			return guide.Claim{Text: c.Text, Over: c.Over, Results: c.Results, Place: r.place(c.Place)}
		}),
	}, t.Parts)
}

func (r *restorer) sentence(k KeptSentence) explanation {
	return explanation{r.term(k.Term), Sentence{Pieces: each(k.Pieces, func(p KeptPiece) Piece {
		piece := Piece{Words: p.Words}
		if p.Address != "" {
			piece.Figure = &guide.FigureNode{Address: p.Address}
			if p.Figure != nil {
				piece.Figure.Figure = p.Figure.Figure()
			}
		}
		return piece
	})}}
}
