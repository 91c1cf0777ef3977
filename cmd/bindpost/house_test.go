package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// permitted is the whole permission: which of our packages each may import.
// Imports run one way. A row joins the table with its package; a permission
// that nobody uses goes.
var permitted = map[string]string{
	"calc/fault":    "",
	"calc/unit":     "calc/fault",
	"calc/record":   "calc/fault",
	"calc/phrase":   "calc/fault",
	"calc/decide":   "",
	"calc/formula":  "calc/unit calc/fault",
	"calc/wording":  "",
	"calc/method":   "calc/phrase calc/wording calc/formula calc/unit calc/record calc/fault",
	"calc/wiring":   "calc/unit calc/fault",
	"calc/trade":    "calc/phrase calc/decide calc/wiring calc/method calc/formula calc/record calc/unit calc/fault",
	"site/folder":   "calc/fault",
	"site/guide":    "calc/trade calc/wiring calc/wording calc/decide calc/method calc/formula calc/unit calc/record calc/fault site/folder",
	"site/bind":     "site/guide site/folder calc/method calc/unit calc/fault",
	"site/render":   "site/bind site/guide calc/formula calc/phrase calc/unit calc/fault",
	"site/publish":  "site/folder calc/fault",
	"site/press":    "calc/phrase site/folder site/guide site/bind site/render site/publish calc/method calc/record calc/fault",
	"site/galley":   "calc/fault site/folder site/press",
	"site/browser":  "",
	"site/specimen": "",
	"templates":     "",
	"content":       "",
	"cmd/bindpost":  "calc/fault calc/unit calc/formula calc/method calc/record calc/trade site/bind site/folder site/galley site/guide site/press site/publish content templates",
}

// TestImports reads the direct imports of every package, tests left out, and
// fails on an arrow that is not permitted and on a permission nobody uses.
func TestImports(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}}{{range .Imports}} {{.}}{{end}}`, "bindpost/...").CombinedOutput()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, out)
	}
	seen := map[string]bool{}
	for line := range strings.Lines(string(out)) {
		fields := strings.Fields(line)
		pkg := strings.TrimPrefix(fields[0], "bindpost/")
		seen[pkg] = true
		row, ok := permitted[pkg]
		if !ok {
			t.Errorf("the package %s has no row in the table", pkg)
			continue
		}
		var used []string
		for _, imported := range fields[1:] {
			if ours, ok := strings.CutPrefix(imported, "bindpost/"); ok {
				used = append(used, ours)
			}
		}
		may := strings.Fields(row)
		for _, u := range used {
			if !slices.Contains(may, u) {
				t.Errorf("%s imports %s, which the table does not permit", pkg, u)
			}
		}
		for _, m := range may {
			if !slices.Contains(used, m) {
				t.Errorf("%s may import %s and does not: take the permission back", pkg, m)
			}
		}
	}
	for pkg := range permitted {
		if !seen[pkg] {
			t.Errorf("the table has a row for %s, which is no package", pkg)
		}
	}
}
