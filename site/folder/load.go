package folder

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"strings"
	"unicode/utf8"

	"bindpost/calc/fault"
)

// MaxSize is the size in bytes beyond which a file is refused. The longest
// book of the trade is shorter; what is longer was put here by mistake.
const MaxSize = 4 << 20

// load reads the file at from under the name p, or tells why it cannot be
// taken in.
func (r *reader) load(p, from string) (data []byte, ok bool) {
	info, err := fs.Stat(r.fsys, from)
	if err != nil {
		r.unread(p, err)
		return nil, false
	}
	if !info.Mode().IsRegular() {
		r.fault(p, "is not a file that can be read").Fix("rename it or move it out of the copy")
		return nil, false
	}
	if data, err = r.bytes(from, info.Size()); err != nil {
		r.unread(p, err)
		return nil, false
	}
	if len(data) <= MaxSize {
		return data, true
	}
	if partOf(p) == drawing {
		r.fault(p, "is larger than %d MB, and readers carry the manual on a stick", MaxSize>>20).
			Fix("save the drawing smaller")
		return nil, false
	}
	r.fault(p, "is larger than %d MB, which no guide is", MaxSize>>20).
		Fix("split the guide; or move the file out of the copy, if it is something else")
	return nil, false
}

// bytes reads one byte more than is allowed, so that a file which grew since
// it was looked at, when it had so many bytes, is still found too large.
func (r *reader) bytes(from string, size int64) ([]byte, error) {
	f, err := r.fsys.Open(from)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data := bytes.NewBuffer(make([]byte, 0, min(size, MaxSize)+bytes.MinRead))
	_, err = data.ReadFrom(io.LimitReader(f, MaxSize+1))
	return data.Bytes(), err
}

func (r *reader) text(p string, data []byte) *fault.Text {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		r.fault(p, "is saved as UTF-16").Want("a text saved as UTF-8").
			Fix("open it in your editor and save it again with the encoding UTF-8")
		return nil
	}
	text := fault.NewText(Shown(p), string(data))
	at, size := firstBad(text.Source())
	if size == 0 {
		return text
	}
	r.faults.Add(fault.At(text.Place(at, at+size), "here is a byte that is no part of a text").
		Want("a text saved as UTF-8").
		Fix("open the file in your editor, mend this character and save it with the encoding UTF-8"))
	return nil
}

// firstBad finds the first byte of a source that no text in UTF-8 holds. A
// byte of value 0 is well formed, but stands only in files that are no text.
func firstBad(s string) (at, size int) {
	if utf8.ValidString(s) && strings.IndexByte(s, 0) < 0 { // nearly always, and soon seen
		return 0, 0
	}
	for i, c := range s {
		if c == 0 {
			return i, 1
		}
		if c == utf8.RuneError {
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				return i, 1
			}
		}
	}
	return 0, 0
}

// reason is what the system said, without the path and the name of the call.
func reason(err error) string {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err.Error()
	}
	return err.Error()
}
