package render

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"bindpost/calc/method"
	"bindpost/templates"
)

// TestScriptNotes reads the notes in the scripts that are delivered: none names
// a file that is not in the manual, and the first line says what the script is.
func TestScriptNotes(t *testing.T) {
	scripts := map[string]string{FiguresScript: method.ScriptRuntime()}
	for _, name := range []string{OwnScript, "find.js", "galley.js"} {
		text, err := fs.ReadFile(templates.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		scripts[name] = string(text)
	}
	named := regexp.MustCompile(`(?m)^\s*//.*\w\.(go|js)\b.*$`)
	for name, text := range scripts {
		if !strings.HasPrefix(strings.TrimPrefix(text, "\"use strict\";\n"), "// ") {
			t.Errorf("%s does not say at its head what it is", name)
		}
		if line := named.FindString(text); line != "" {
			t.Errorf("%s: %s", name, line)
		}
	}
}
