package press

import (
	"html/template"
	"reflect"
	"testing"

	"bindpost/site/bind"
	"bindpost/site/render"
)

// TestSetPiece reads what the pages of the book need of a guide as it was written,
// and nothing out of a piece that is not whole.
func TestSetPiece(t *testing.T) {
	item := func(code, path, text string, question bool) bind.Item {
		return bind.Item{Spot: bind.Spot{Code: code, Path: path}, Text: text, Question: question}
	}
	full := &render.Set{
		Answer: "<p>Over 9 m, 0.26 dB.</p>", Tables: []template.HTML{"<b>K3-T1</b>", "", "Last—"},
		Items: []bind.Item{item("K3", "wire.html", "How thick?", true), item("K3-1", "wire.html#K3-1", "", false)},
	}
	full.Page.Needs, full.Page.Scripts = []string{"own.js", "style.css"}, []string{"figures.js"}
	for _, set := range []*render.Set{full, {Items: []bind.Item{}}} {
		piece := setPiece([]byte("before")[:0], set)
		got, err := setOfPiece(piece)
		if err != nil || !reflect.DeepEqual(got, set) {
			t.Errorf("%+v is read as %+v: %v", set, got, err)
		}
		for n := range piece {
			if _, err := setOfPiece(piece[:n]); err == nil {
				t.Errorf("the first %d of %d bytes are read as a whole piece", n, len(piece))
			}
		}
		if _, err := setOfPiece(append(piece, 0)); err == nil {
			t.Error("a piece with more behind it is read")
		}
	}
}

// TestUsesPiece does the same of the figures that a guide prints.
func TestUsesPiece(t *testing.T) {
	for _, uses := range [][]bind.Use{{}, {{Address: "one.loss", Where: "W1-1"}, {Address: "standing.far", Where: "X1"}}} {
		piece := usesPiece(nil, uses)
		if got, err := usesOfPiece(piece); err != nil || !reflect.DeepEqual(got, uses) {
			t.Errorf("%+v is read as %+v: %v", uses, got, err)
		}
		for n := range piece {
			if _, err := usesOfPiece(piece[:n]); err == nil {
				t.Errorf("the first %d of %d bytes are read as a whole piece", n, len(piece))
			}
		}
	}
}
