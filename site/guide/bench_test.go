package guide_test

import (
	"bytes"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/guide"
	"bindpost/site/specimen"
)

// BenchmarkRead makes specimen guides, one after another, no two the same.
func BenchmarkRead(b *testing.B) {
	kit := guide.Kit{Library: trade.Library(), Edition: guide.Edition{Title: "The Long Shelf", Language: "en-GB", Topics: specimen.Topics, Workings: true}}
	i := 0
	for b.Loop() {
		_, faults := guide.Read(fault.NewText(specimen.File(i), specimen.Guide(i)), kit)
		if faults.Stopped() {
			b.Fatal(faults)
		}
		i++
	}
}

// BenchmarkBare is the floor under it: the same guides with their tables typed
// in, through the Markdown library alone.
func BenchmarkBare(b *testing.B) {
	bare := goldmark.New(goldmark.WithExtensions(extension.Table))
	i := 0
	for b.Loop() {
		var out bytes.Buffer
		if err := bare.Convert([]byte(specimen.Typed(i)), &out); err != nil {
			b.Fatal(err)
		}
		i++
	}
}
