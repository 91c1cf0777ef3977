package press

import (
	"bindpost/calc/method"
	"bindpost/site/publish"
	"bindpost/site/render"
)

// figureScripts makes the scripts with which a reader's browser works the
// book's methods: those that are called, and no other.
func figureScripts(library *method.Library, called map[string]bool) []publish.File {
	var files []publish.File
	add := func(path string, script func() string) {
		if called[path] {
			files = append(files, publish.File{Path: path, Data: []byte(script())})
		}
	}
	add(render.FiguresScript, method.ScriptRuntime)
	for _, name := range library.Names() {
		add(render.MethodScript(name), func() string { return library.Script(name) })
	}
	return files
}
