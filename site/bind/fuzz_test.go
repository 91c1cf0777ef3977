package bind

import (
	"encoding/xml"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"bindpost/calc/fault"
)

// FuzzSVG reads hostile drawings: each ends in a text without a stop or in
// faults inside it, and one without a stop holds no element that does
// something and no address elsewhere.
func FuzzSVG(f *testing.F) {
	for _, name := range []string{"svg", "drawings"} {
		a, err := txtar.ParseFile(filepath.Join("../../testdata/copy", name+".txtar"))
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range a.Files {
			if strings.HasSuffix(file.Name, ".svg") {
				f.Add(string(file.Data))
			}
		}
	}
	f.Add(`<svg><a href=" #a"/><A HREF="//192.0.2.1/"/></svg>`)
	f.Add(`<svg style="x:\75rl(//a)"/>`)
	f.Add(`<svg xmlns:a="http://www.w3.org/2000/svg"><a:script/></svg>`)
	f.Add("<svg>" + strings.Repeat("<g>", 1000))
	f.Fuzz(func(t *testing.T, source string) {
		text := fault.NewText("drawings/a.svg", source)
		faults := checkSVG(text)
		for _, one := range faults.All() {
			if p := one.Place; p.Start > p.End || p.End > len(text.Source()) {
				t.Errorf("a fault lies outside its text: %+v", p)
			}
		}
		if !faults.Stopped() {
			lookThrough(t, text.Source())
		}
	})
}

// lookThrough reads a drawing once more, by rules written down plainly.
func lookThrough(t *testing.T, source string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(source))
	for {
		token, err := d.Token()
		if err != nil {
			return
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if name := strings.ToLower(e.Name.Local); name == "script" || name == "foreignobject" || name == "set" || strings.HasPrefix(name, "animate") {
			t.Errorf("<%s> passed", e.Name.Local)
		}
		for _, a := range e.Attr {
			name := strings.ToLower(a.Name.Local)
			value := strings.TrimSpace(a.Value)
			if strings.HasPrefix(name, "on") && a.Name.Space != "xmlns" ||
				name == "href" && a.Name.Space != "xmlns" && !strings.HasPrefix(value, "#") && !strings.HasPrefix(value, "data:image/") {
				t.Errorf("%s=%q passed", a.Name.Local, a.Value)
			}
		}
	}
}

// FuzzLedger reads hostile ledgers: an error or a ledger, never a panic, and
// one that is read is written as it was read again.
func FuzzLedger(f *testing.F) {
	f.Add(`{"format":1}` + "\n" + `{"code":"A1","figures":[{"address":"a.b","text":"1 m"}]}`)
	f.Add(`{"format":1}` + "\n" + `[]`)
	f.Add(`{"format":2}`)
	f.Add("")
	f.Fuzz(func(t *testing.T, source string) {
		l, err := ReadLedger([]byte(source))
		if err != nil {
			return
		}
		again, err := ReadLedger(l.Write())
		if err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
		if string(again.Write()) != string(l.Write()) {
			t.Error("a ledger changes when it is read and written")
		}
		again.Since(l).Lines()
	})
}

// A drawing with a hundred thousand attributes, or as many faults, is looked
// through in time that grows with its size: each is told once, or not at all.
func TestHostileSVG(t *testing.T) {
	for name, piece := range map[string]string{"attributes": ` a%d="x"`, "programs": ` on%d="x"`} {
		var b strings.Builder
		b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"`)
		for i := range 100_000 {
			b.WriteString(strings.Replace(piece, "%d", strconv.Itoa(i), 1))
		}
		b.WriteString("/>")
		faults := checkSVG(fault.NewText("drawings/a.svg", b.String()))
		if name == "attributes" && faults.Len() > 0 {
			t.Errorf("%s: %s", name, faults.All()[0])
		}
		if name == "programs" && (!faults.Stopped() || faults.Len() != mostDrawingFaults) {
			t.Errorf("%s: %d faults", name, faults.Len())
		}
	}
}
