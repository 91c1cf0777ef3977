package press

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// destinations reads from a PDF on which side each place lies that a link leads
// to. It reads PDF as the browser writes it: with a plain table of objects, and
// with the places in one object named by the catalogue.
func destinations(pdf []byte) (map[string]int, error) {
	objects, root, err := objectsOf(pdf)
	if err != nil {
		return nil, err
	}
	catalogue := objects[root]
	sides := map[int]int{}
	number(objects, reference(catalogue, "Pages"), sides, map[int]bool{})
	found := map[string]int{}
	for _, place := range destination.FindAllSubmatch(objects[reference(catalogue, "Dests")], -1) {
		page, _ := strconv.Atoi(string(place[2]))
		if sides[page] == 0 {
			return nil, fmt.Errorf("the place %q lies on no side", place[1])
		}
		found[unhashed(string(place[1]))] = sides[page]
	}
	if len(sides) == 0 || len(found) == 0 {
		return nil, fmt.Errorf("it has %d sides and %d places", len(sides), len(found))
	}
	return found, nil
}

var (
	destination = regexp.MustCompile(`/([^\s/\[\]<>()]+)\s*\[(\d+) 0 R`)
	indirect    = regexp.MustCompile(`(\d+) 0 R`)
	kids        = regexp.MustCompile(`/Kids\s*\[([^\]]*)\]`)
	started     = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)
	rooted      = regexp.MustCompile(`/Root (\d+) 0 R`)
)

// number numbers the sides under a node of the tree of sides, in their order.
func number(objects map[int][]byte, node int, sides map[int]int, seen map[int]bool) {
	if seen[node] {
		return
	}
	seen[node] = true
	under := kids.FindSubmatch(objects[node])
	if under == nil {
		sides[node] = len(sides) + 1
		return
	}
	for _, kid := range indirect.FindAllSubmatch(under[1], -1) {
		n, _ := strconv.Atoi(string(kid[1]))
		number(objects, n, sides, seen)
	}
}

// reference returns the object that a key of another names.
func reference(object []byte, key string) int {
	found := regexp.MustCompile(`/` + key + ` (\d+) 0 R`).FindSubmatch(object)
	if found == nil {
		return 0
	}
	n, _ := strconv.Atoi(string(found[1]))
	return n
}

// objectsOf finds the objects of a PDF by the table at its end, each without
// what is pressed together in it.
func objectsOf(pdf []byte) (objects map[int][]byte, root int, err error) {
	start, trailer := started.FindSubmatch(pdf), rooted.FindSubmatch(pdf[max(0, len(pdf)-2000):])
	if start == nil || trailer == nil {
		return nil, 0, errors.New("it ends unlike a PDF")
	}
	root, _ = strconv.Atoi(string(trailer[1]))
	at, _ := strconv.Atoi(string(start[1]))
	if at > len(pdf) {
		return nil, 0, errors.New("its table of objects is not there")
	}
	objects = map[int][]byte{}
	lines := strings.Split(string(pdf[at:]), "\n")
	for n, line := range lines[min(2, len(lines)):] {
		offset, entry, ok := strings.Cut(line, " ")
		if !ok || len(offset) != 10 {
			break
		}
		from, err := strconv.Atoi(offset)
		if err != nil || from > len(pdf) || !strings.HasPrefix(entry, "00000 n") {
			continue
		}
		object := pdf[from:]
		for _, end := range []string{"endobj", "stream\n"} {
			if i := bytes.Index(object, []byte(end)); i >= 0 {
				object = object[:i]
			}
		}
		objects[n] = object
	}
	return objects, root, nil
}

// unhashed returns a name of a PDF as it is meant: "#20" stands for a space.
func unhashed(name string) string {
	var b strings.Builder
	for i := 0; i < len(name); i++ {
		if name[i] == '#' && i+2 < len(name) {
			if c, err := strconv.ParseUint(name[i+1:i+3], 16, 8); err == nil {
				b.WriteByte(byte(c))
				i += 2
				continue
			}
		}
		b.WriteByte(name[i])
	}
	return b.String()
}

// makers are where it names itself and the system that it ran on.
var makers = regexp.MustCompile(`/(Creator|Producer) \((?:[^()\\]|\\.)*\)`)

// plainMaker stands in their place: a paper copy says nothing of somebody's machine.
const plainMaker = "bindpost"

// signed gives a PDF this program as its maker. Nothing in it moves: what is
// shorter is filled up with spaces.
func signed(pdf []byte) []byte {
	return makers.ReplaceAllFunc(pdf, func(entry []byte) []byte {
		key, _, _ := bytes.Cut(entry, []byte("("))
		room := len(entry) - len(key) - len("()")
		if room < len(plainMaker) {
			return entry
		}
		return slices.Concat(key, []byte("("+plainMaker+strings.Repeat(" ", room-len(plainMaker))+")"))
	})
}

// dates are where a browser writes when it printed.
var dates = regexp.MustCompile(`/(CreationDate|ModDate) \(D:\d{14}`)

// dated gives a PDF the date of its edition in place of the moment at which it
// was printed, so that the same copy gives the same booklet tomorrow.
func dated(pdf []byte, date string) []byte {
	day := strings.ReplaceAll(date, "-", "")
	if len(day) != len("20061231") {
		return pdf
	}
	return dates.ReplaceAllFunc(pdf, func(entry []byte) []byte {
		return append(entry[:len(entry)-14:len(entry)-14], day+"000000"...)
	})
}
