package render

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"bindpost/site/guide"
)

// hookupView is what the template of a drawn hook-up is filled with.
type hookupView struct {
	words
	Number  string
	Name    template.HTML
	Title   string
	Heed    []template.HTML
	Drawing drawnView
	Verdict template.HTML
	Wrong   bool
	Steps   []template.HTML
	Keys    []template.HTML
	Lines   []template.HTML
	Sockets []socketLine // of a panel
	Sources []sourceLine
}

// drawnView is a drawing of boxes.
type drawnView struct {
	ID, Title, Desc string
	Height          string
	Paths           []stroke
	Words           []lettered
}

// socketLine tells one socket of a panel.
type socketLine struct{ Mark, Looks, Way template.HTML }

// hookup sets a drawn hook-up, or a panel.
func (s *setter) hookup(t *guide.Table) hookupView {
	h := t.Hookup
	v := hookupView{words: s.words, Number: t.Number, Name: s.fill("drawing", "number", t.Number), Title: h.Title, Sources: s.sources(t)}
	told := teller{s, h}
	if h.Panel {
		v.Drawing = drawPanel(told)
		v.Sockets = told.sockets()
	} else {
		v.Heed = s.heedFirst(t)
		v.Drawing = drawHookup(told)
		v.Wrong = h.Grade == "do not connect"
		v.Verdict = s.fill("hookup-verdict", "grade", s.sayOr("grade-", h.Grade))
		v.Keys, v.Lines = told.keys(), told.lines()
		v.Steps = told.steps(v.Wrong)
	}
	v.Drawing.ID = t.Number
	v.Drawing.Title = seen(v.Name + " " + asHTML(h.Title))
	v.Drawing.Desc = told.desc()
	return v
}

// heedFirst tells the cautions of a drawing once more before its steps, each
// by its signal word and what to do: a drawing may be copied out of its page.
func (s *setter) heedFirst(t *guide.Table) []template.HTML {
	var all []template.HTML
	for _, on := range s.leaf.Cautions {
		if slices.Contains(t.Cautions, on.ID) {
			c := s.cautions[on.ID]
			all = append(all, s.fill("hookup-heed", "caution", "<b>"+link("#"+c.ID, asHTML(c.Signal+" "+c.ID))+"</b>", "instead", sentence(on.Instead)))
		}
	}
	return all
}

// teller tells a hook-up in words.
type teller struct {
	*setter
	hookup *guide.Hookup
}

// box names a box: "the record player"; where it is two, for one side.
func (t teller) box(e guide.HookupEnd) string {
	b, side := t.hookup.Boxes[e.Box], t.socket(e).Side
	switch {
	case b.Called:
		return b.Says
	case b.Two && side != "":
		return seen(t.fill("hookup-the-side", "side", t.side(side), "box", b.Says))
	}
	return seen(t.fill("hookup-the", "box", b.Says))
}

func (t teller) socket(e guide.HookupEnd) guide.HookupSocket {
	return t.hookup.Boxes[e.Box].Sockets[e.Socket]
}

// side is the word for left or right.
func (t teller) side(side string) string {
	if side == "left" {
		return t.Say("hookup-left")
	}
	return t.Say("hookup-right")
}

// hole names a socket as it is looked for: "the right socket marked PHONO".
func (t teller) hole(e guide.HookupEnd) template.HTML {
	s := t.socket(e)
	keys := [2]string{"hookup-socket", "hookup-socket-side"}
	switch s.Family {
	case "post", "clip", "ribbon", "loop":
		keys = [2]string{"hookup-terminals", "hookup-terminals-side"}
	case "ground":
		keys = [2]string{"hookup-screw", "hookup-screw"}
	}
	if s.Side == "" {
		return t.fill(keys[0], "mark", s.Mark)
	}
	return t.fill(keys[1], "mark", s.Mark, "side", t.side(s.Side))
}

// plug names the end of a lead: "red phono plug (right)". The colours of phono
// plugs always stand beside the word for their side.
func (t teller) plug(e guide.HookupEnd, side string) template.HTML {
	word := e.Plug
	if word == "" {
		word = t.Say("hookup-plug")
	}
	switch phono := t.socket(e).Family == "phono"; {
	case side == "":
		return asHTML(word)
	case phono && side == "left":
		return t.fill("hookup-plug-left", "plug", word)
	case phono:
		return t.fill("hookup-plug-right", "plug", word)
	}
	return t.fill("hookup-plug-side", "plug", word, "side", t.side(side))
}

// steps tells every lead in a step, between the step that makes the boxes dead
// and the one that wakes them. Of what nobody must join only the leads are told.
func (t teller) steps(wrong bool) []template.HTML {
	var all []template.HTML
	if wrong {
		return nil
	}
	all = append(all, asHTML(t.Say("hookup-first")))
	for _, s := range t.hookup.Steps {
		all = append(all, t.step(s))
	}
	return append(all, asHTML(t.Say("hookup-last")))
}

// stepNumber is the number of a lead: the first step is that of pulling plugs.
func stepNumber(i int) string { return strconv.Itoa(i + 2) }

// step tells one lead.
func (t teller) step(s guide.HookupStep) template.HTML {
	from, to := t.box(s.From), t.box(s.To)
	plug, other := t.plug(s.From, t.socket(s.From).Side), t.plug(s.To, t.socket(s.To).Side)
	by := strings.Join(s.Parts, ", ")
	var told template.HTML
	switch own := t.socket(s.From).Lead || t.socket(s.To).Lead; {
	case s.Ground:
		told = t.fill("hookup-step-ground", "from", from, "to", to, "socket", t.hole(s.To))
	case s.Speaker:
		told = t.fill("hookup-step-speaker", "from", from, "to", to, "socket", t.hole(s.From), "plug", asHTML(s.From.Plug), "other", asHTML(s.To.Plug), "terminals", t.hole(s.To))
	case own && len(s.Parts) == 0 && t.socket(s.To).Lead:
		told = t.fill("hookup-step-own", "plug", other, "from", to, "to", from, "socket", t.hole(s.From))
	case own && len(s.Parts) == 0:
		told = t.fill("hookup-step-own", "plug", plug, "from", from, "to", to, "socket", t.hole(s.To))
	case own:
		told = t.fill("hookup-step-own-by", "plug", plug, "from", from, "by", by, "other", other, "to", to, "socket", t.hole(s.To))
	case s.Again:
		told = t.fill("hookup-step-again", "plug", other, "to", to, "socket", t.hole(s.To))
	case s.Ends:
		told = t.fill("hookup-step-again", "plug", plug, "to", from, "socket", t.hole(s.From))
	case len(s.Parts) == 0:
		told = t.fill("hookup-step-unknown", "from", from, "socket", t.hole(s.From), "to", to, "other", t.hole(s.To))
	case plug == other:
		told = t.fill("hookup-step-same", "by", by, "plug", plug, "from", from, "socket", t.hole(s.From), "to", to, "into", t.hole(s.To))
	default:
		told = t.fill("hookup-step", "by", by, "plug", plug, "from", from, "socket", t.hole(s.From), "other", other, "to", to, "into", t.hole(s.To))
	}
	if s.Length != "" && !s.Again && !s.Ends {
		told = t.fill("hookup-step-length", "step", told, "length", t.computed(s.Length))
	}
	return capitalHTML(told)
}

// desc tells the drawing to those who listen: which boxes, and that the steps
// tell the rest.
func (t teller) desc() string {
	var boxes []template.HTML
	for _, b := range t.hookup.Boxes {
		boxes = append(boxes, asHTML(b.Says))
	}
	key := "hookup-desc"
	switch {
	case t.hookup.Panel:
		key = "panel-desc"
	case t.hookup.Grade == "do not connect":
		key = "hookup-desc-wrong"
	}
	return capital(aloud(t.fill(key, "boxes", t.joined(boxes), "count", strconv.Itoa(len(t.hookup.Steps)))))
}

// sockets tells the sockets of a panel.
func (t teller) sockets() []socketLine {
	var all []socketLine
	for _, s := range t.hookup.Boxes[0].Sockets {
		l := socketLine{Mark: asHTML(s.Mark), Looks: asHTML(sentence(s.Looks))}
		key := "panel-in"
		switch {
		case s.Family == "":
			key = "panel-unknown"
		case s.Out:
			key = "panel-out"
		}
		l.Way = t.fill(key, "signal", s.Signal)
		all = append(all, l)
	}
	return all
}
