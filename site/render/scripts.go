package render

import (
	"slices"
	"sync"

	"bindpost/site/guide"
)

// Beside are the files of the templates that a page of a manual may call.
var Beside = []string{StyleSheet, OwnScript, findScript}

// FiguresScript works methods in a reader's browser. It is made for the manual,
// as the script of each method is.
const FiguresScript = "figures.js"

// MethodScript returns the file of a method's script. Thousands of pages call
// few scripts: they hold one and the same name of each.
func MethodScript(method string) string {
	file, known := methodScripts.Load(method)
	if !known {
		file, _ = methodScripts.LoadOrStore(method, "methods/"+method+".js")
	}
	return file.(string)
}

var methodScripts sync.Map // their files by method

// figureScripts returns the scripts that a page with these tables calls so that
// its reader can work their methods, each once, in the order in which they are
// wanted; none where no table has any.
func figureScripts(tables []*guide.Table) []string {
	var scripts []string
	for _, t := range tables {
		for _, name := range t.Scripted {
			if file := MethodScript(name); !slices.Contains(scripts, file) {
				scripts = append(scripts, file)
			}
		}
	}
	if scripts == nil {
		return nil
	}
	return append([]string{FiguresScript}, scripts...)
}
