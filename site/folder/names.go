package folder

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Misnamed says in a few words why a path with slashes would not survive being
// carried to another system, or returns "" when it would. It looks at each
// name of the path by itself; whether the path stays inside a folder is for
// [io/fs.ValidPath] to say.
func Misnamed(path string) string {
	for name := range strings.SplitSeq(path, "/") {
		if why := misnamed(name); why != "" {
			return why
		}
	}
	return ""
}

func misnamed(name string) string {
	if !utf8.ValidString(name) {
		return fmt.Sprintf("the name %q is not written in UTF-8", name)
	}
	for _, r := range name {
		switch {
		case control(r):
			return fmt.Sprintf("the name %q holds a control character", name)
		case strings.ContainsRune(`<>:"|?*\`, r):
			return fmt.Sprintf("the name %q holds %q, which Windows does not allow in a name", name, string(r))
		}
	}
	if i := strings.IndexAny(name, "#%"); i >= 0 {
		return fmt.Sprintf("the name %q holds %q, which stands for something else in an address", name, name[i:i+1])
	}
	if strings.HasSuffix(name, ".") || strings.HasSuffix(name, " ") {
		return fmt.Sprintf("the name %q ends in a full stop or a space, which Windows takes away", name)
	}
	if device(name) {
		return fmt.Sprintf("Windows keeps the name %q for a device", name)
	}
	return ""
}

// device reports whether Windows would open a device instead of a file of
// this name. What follows the first full stop does not matter to it.
func device(name string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(name), ".")
	stem = strings.TrimRight(stem, " ")
	if port, ok := strings.CutPrefix(stem, "com"); ok {
		return portNumber(port)
	}
	if port, ok := strings.CutPrefix(stem, "lpt"); ok {
		return portNumber(port)
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul", "conin$", "conout$"}, stem)
}

func portNumber(s string) bool {
	return utf8.RuneCountInString(s) == 1 && strings.Contains("0123456789¹²³", s)
}

// SameName is equal for two paths that a system which does not tell capital
// from small letters would take for one.
func SameName(path string) string {
	return strings.Map(func(r rune) rune {
		least := r
		for f := unicode.SimpleFold(r); f != r; f = unicode.SimpleFold(f) {
			least = min(least, f)
		}
		return least
	}, path)
}

// control reports whether a character moves the cursor or turns the direction
// of writing, so that a terminal shows another name than the one it was given.
func control(r rune) bool {
	return unicode.IsControl(r) || (r >= 0x202a && r <= 0x202e) || (r >= 0x2066 && r <= 0x2069)
}

// Shown is a path fit for a terminal: it differs from the path only where
// [Misnamed] finds fault with it.
func Shown(path string) string {
	return strings.Map(func(r rune) rune {
		if control(r) {
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(path, "\ufffd"))
}
