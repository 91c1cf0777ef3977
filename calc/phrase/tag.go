package phrase

import "strings"

// Tag returns a language as it is usually written, for it means the same in
// capitals and in small letters: "en-US" for "EN-us".
func Tag(language string) string {
	parts := strings.Split(strings.ToLower(language), "-")
	for i, p := range parts[1:] {
		switch len(p) {
		case 2: // a region
			parts[i+1] = strings.ToUpper(p)
		case 4: // a script
			parts[i+1] = strings.ToUpper(p[:1]) + p[1:]
		}
	}
	return strings.Join(parts, "-")
}
