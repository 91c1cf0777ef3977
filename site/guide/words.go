package guide

import (
	"sync"

	"bindpost/calc/fault"
)

// The info words of the blocks that a guide may hold.
const (
	docketWord = "docket"
	calcWord   = "calc"
	decideWord = "decide"
	hookupWord = "hookup"
)

// blockWords are all of them.
var blockWords = []string{docketWord, calcWord, decideWord, hookupWord}

// Word is a word that an author may write at the head of an info line or of
// a line of a block.
type Word struct {
	Block   string // the block whose line it heads; "" for the info word of a block
	Word    string
	Help    string // what stands behind it, in a sentence
	Example string // a whole line
	Twice   bool   // it may stand more than once
}

// row is a word with its reader, which keeps a line for what is being read.
type row[T any] struct {
	Word
	keep func(t T, l line)
}

// Words returns every word of a guide's blocks, those of a block behind its
// info word. The values that a method takes are words of a calc block too.
func Words() []Word {
	words := []Word{{
		Word: docketWord, Example: "```docket",
		Help: "The first block of a guide: its page code, its question and its short answer.",
	}}
	for _, r := range docketRows() {
		words = append(words, r.Word)
	}
	words = append(words, Word{
		Word: calcWord, Example: "```calc speaker-wire",
		Help: "A table that a method computes; behind the word stands the method's name.",
	})
	for _, r := range calcRows() {
		words = append(words, r.Word)
	}
	words = append(words, Word{
		Word: decideWord, Example: "```decide",
		Help: "A table that decides: questions, rules and answers, proved to answer every case once.",
	})
	for _, r := range decideRows() {
		words = append(words, r.Word)
	}
	words = append(words, Word{
		Word: hookupWord, Example: "```hookup",
		Help: "A drawing of a hook-up: boxes, sockets and leads, told in numbered steps too, and held to the rules of wiring.",
	})
	for _, r := range hookupRows() {
		words = append(words, r.Word)
	}
	return words
}

// docketRows are the lines of a docket; all but order, explains, cautions, first, guard and stet must
// be there.
func docketRows() []row[*reader] {
	return []row[*reader]{
		{Word{docketWord, "code", "The page code, unique in the copy: one to three letters and a number.", "code: K1", false}, (*reader).readCode},
		{Word{docketWord, "question", "The question that the guide answers, as a reader would ask it.", "question: What does this guide answer?", false}, (*reader).readQuestion},
		{Word{docketWord, "answer", "The short answer, on one line; it may hold figures.", "answer: The short answer, in a line.", false}, (*reader).readAnswer},
		{Word{docketWord, "topics", "The topics of the contents under which the guide stands, parted by commas.", "topics: wire", false}, (*reader).readTopics},
		{Word{docketWord, orderWord, "The guide's place among those of its topic, a whole number; it may be left out.", "order: 1", false}, (*reader).readOrder},
		{Word{docketWord, explainsWord, "Terms that a sentence of the guide explains, parted by commas: each is marked where the text first has it with *stress*, or else first has it, and that sentence stands in the glossary too. It may be left out.", "explains: gauge, phono stage", false}, (*reader).readExplains},
		{Word{docketWord, cautionsWord, "Cautions that guard a step of the prose, by name, parted by commas; a method brings its own. It may be left out.", "cautions: mains", false}, (*reader).readCautions},
		{Word{docketWord, firstWord, "Cautions that are to stand at the head of the guide, by name, parted by commas; every other stands before the section that first calls for it. It may be left out.", "first: amp-off", false}, (*reader).readFirst},
		{Word{docketWord, guardWord, "A caution that is to stand before a section, by the section's head, where no words of it call for the caution. It may be left out.", "guard: amp-off before Join the speakers", true}, (*reader).readGuard},
		{Word{docketWord, stetWord, "A typed figure, or words that would bring a caution, that are to stand as they are, and why; it may be left out.", "stet: 230 V, because the plate says so", true}, (*reader).readStet},
	}
}

const (
	orderWord    = "order"
	cautionsWord = "cautions"
	firstWord    = "first"
	guardWord    = "guard"
)

// optional reports whether a docket may do without a line.
func optional(word string) bool {
	return word == orderWord || word == explainsWord || word == cautionsWord || word == firstWord || word == guardWord || word == stetWord
}

// calcRows are the lines of a calc block beside its values.
var calcRows = sync.OnceValue(func() []row[*block] {
	return []row[*block]{
		{Word{calcWord, "name", "The block's own name, by which its figures are called: letters, digits and -.", "name: kitchen-run", false},
			one(func(b *block) *fault.Place { return &b.named })},
		{Word{calcWord, captionWord, "What the table shows, in words, where a list of its results would say it worse; no figure stands in it.", "caption: What each size of wire loses", false},
			one(func(b *block) *fault.Place { return &b.caption })},
		{Word{calcWord, "rows", "The value that runs down the table.", "rows: gauge", false},
			one(func(b *block) *fault.Place { return &b.rows.named })},
		{Word{calcWord, "columns", "The value that runs across the table.", "columns: run", false},
			one(func(b *block) *fault.Place { return &b.columns.named })},
		{Word{calcWord, "show", "The results to print, parted by commas; without it, all that the method gives.", "show: loss", false},
			one(func(b *block) *fault.Place { return &b.show })},
		{Word{calcWord, "limit", "What a figure must meet, and the words for one that does not.", `limit: loss at most 0.5 dB, beyond: "too thin"`, true},
			many(func(b *block) *[]fault.Place { return &b.limitLines })},
		{Word{calcWord, "claim", "What must hold over all that the values run through, not in the cells alone; it is proved, or the press stops.", "claim: loss at most 0.5 dB when gauge is 14 AWG and run at most 9 m", true},
			many(func(b *block) *[]fault.Place { return &b.claimLines })},
		{Word{calcWord, mostWord, "The most of a value with which a condition holds, rounded down.", "most: run where loss at most 0.5 dB, for each gauge", true},
			func(b *block, l line) { b.askLines = append(b.askLines, askLine{rest: l.rest}) }},
		{Word{calcWord, leastWord, "The least of a value with which a condition holds, rounded up.", "least: run where loss at least 0.1 dB, for each gauge", true},
			func(b *block, l line) { b.askLines = append(b.askLines, askLine{rest: l.rest, least: true}) }},
		{Word{calcWord, risesWord, "A result that must rise with a value, all along the table.", "rises: loss with run", true}, orderLine},
		{Word{calcWord, fallsWord, "A result that must fall as a value rises, all along the table.", "falls: damping with run", true}, orderLine},
		{Word{calcWord, ratiosWord, "A result that equal steps of a value must multiply alike, all along the table.", "ratios: wire with gauge", true}, orderLine},
		{Word{calcWord, "figure", "A figure for the prose: its name, what it is, and at which point of the table.", "figure: at-nine = loss when gauge is 16 AWG and run is 9 m", true},
			many(func(b *block) *[]fault.Place { return &b.figureLines })},
		{Word{calcWord, "work", "The point of the table for which the working is shown with its numbers.", "work: gauge is 16 AWG and run is 9 m", true},
			many(func(b *block) *[]fault.Place { return &b.workLines })},
		{Word{calcWord, chartWord, "A result drawn under its table, over a value along which the table runs; how a side is ruled may follow: by tens, or evenly.", "chart: loss over run, run evenly", true},
			many(func(b *block) *[]fault.Place { return &b.chartLines })},
	}
})

const captionWord = "caption"

// one keeps the only line of a word, and many each of several.
func one[T any](to func(t T) *fault.Place) func(T, line) {
	return func(t T, l line) { *to(t) = l.rest }
}

func many[T any](to func(t T) *[]fault.Place) func(T, line) {
	return func(t T, l line) { *to(t) = append(*to(t), l.rest) }
}

// find returns the row of a word, nil where there is none.
func find[T any](rows []row[T], word string) *row[T] {
	for i := range rows {
		if rows[i].Word.Word == word {
			return &rows[i]
		}
	}
	return nil
}

// spelled returns the words of rows.
func spelled[T any](rows []row[T]) []string {
	words := make([]string, len(rows))
	for i := range rows {
		words[i] = rows[i].Word.Word
	}
	return words
}
