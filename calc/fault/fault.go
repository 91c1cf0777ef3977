package fault

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Grade says what a fault does to a press.
type Grade uint8

const (
	Note Grade = iota // helps; never stands in the way
	Warn              // the press goes on, and says so
	Stop              // nothing is written while it stands
)

// String returns the grade's word.
func (g Grade) String() string {
	switch g {
	case Note:
		return "note"
	case Warn:
		return "warn"
	case Stop:
		return "stop"
	}
	return fmt.Sprintf("grade %d", uint8(g))
}

// Fault is one thing found wrong. Message says what is wrong in a plain
// sentence without a full stop; Wanted what would be right; Try a likely
// mend. Wanted and Try may be empty.
type Fault struct {
	Grade   Grade
	Place   Place
	Message string
	Wanted  string
	Try     string
	Err     error // the cause, if another error led to this one
}

// At makes a fault of grade Stop at a place. The message is written as by
// [fmt.Sprintf].
func At(p Place, format string, args ...any) *Fault {
	return &Fault{Grade: Stop, Place: p, Message: fmt.Sprintf(format, args...)}
}

// Want sets what would be right and returns the fault.
func (f *Fault) Want(format string, args ...any) *Fault {
	f.Wanted = fmt.Sprintf(format, args...)
	return f
}

// Fix sets what to try and returns the fault.
func (f *Fault) Fix(format string, args ...any) *Fault {
	f.Try = fmt.Sprintf(format, args...)
	return f
}

// Graded sets the grade and returns the fault.
func (f *Fault) Graded(g Grade) *Fault {
	f.Grade = g
	return f
}

// Unwrap returns the cause.
func (f *Fault) Unwrap() error { return f.Err }

// Error returns the whole fault as an author reads it: place, grade and
// message, the line quoted with a caret under the place, what was wanted and
// what to try. It has no newline at its end.
func (f *Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.Head())
	if line, caret := f.Quote(); caret != "" {
		fmt.Fprintf(&b, "\n  %s\n  %s", line, caret)
	}
	if f.Wanted != "" {
		fmt.Fprintf(&b, "\n  wanted: %s", f.Wanted)
	}
	if f.Try != "" {
		fmt.Fprintf(&b, "\n  try: %s", f.Try)
	}
	return b.String()
}

// Head returns the first line of a fault: place, grade and message.
func (f *Fault) Head() string {
	var b strings.Builder
	if t := f.Place.Text; t != nil {
		b.WriteString(t.name)
		if t.size > 0 {
			line, column := t.Position(f.Place.Start)
			fmt.Fprintf(&b, ":%d:%d", line, column)
		}
		b.WriteString(": ")
	}
	fmt.Fprintf(&b, "%s: %s", f.Grade, f.Message)
	return b.String()
}

// A quoted line longer than this is cut round the caret, in runes.
const longestQuote = 100

// Quote returns the line that a fault is about, cut round its place where it is
// long, and what is set below the line to point at the place; both are "" where
// the fault is about no line.
func (f *Fault) Quote() (line, caret string) {
	t := f.Place.Text
	if t == nil || t.size == 0 {
		return "", ""
	}
	number, column := t.Position(f.Place.Start)
	quoted := []rune(strings.ReplaceAll(t.Line(number), "\t", " "))
	width := utf8.RuneCountInString(f.Place.String())
	width = max(1, min(width, len(quoted)-column+1))
	at := column - 1
	head, tail := "", ""
	if len(quoted) > longestQuote {
		from := max(0, min(at-longestQuote/2, len(quoted)-longestQuote))
		to := from + longestQuote
		if from > 0 {
			head = "… "
		}
		if to < len(quoted) {
			tail = " …"
		}
		quoted, at = quoted[from:to], at-from
		width = min(width, max(1, len(quoted)-at))
	}
	return head + cleaned(quoted) + tail,
		strings.Repeat(" ", at+utf8.RuneCountInString(head)) + strings.Repeat("^", width)
}

// cleaned keeps control characters of hostile text from reaching a terminal:
// each is shown as one visible character, so that the caret stays in place.
func cleaned(line []rune) string {
	shown := make([]rune, len(line))
	for i, r := range line {
		if r < ' ' || (r >= 0x7f && r < 0xa0) || (r >= 0x202a && r <= 0x202e) || (r >= 0x2066 && r <= 0x2069) {
			r = utf8.RuneError
		}
		shown[i] = r
	}
	return string(shown)
}
