package bind

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Differing reads two ledgers as [Ledger.Write] wrote them, side by side, and
// returns of each only the entries that are not the same in both: what moved
// between the two is what moved between these. An error tells of the older one,
// which may be in a format of another program.
func Differing(old, now io.Reader) (then, new *Ledger, err error) {
	d := &differ{old: newLedgerLines(old), now: newLedgerLines(now)}
	if d.then.Head, err = d.old.head(); err != nil {
		return nil, nil, err
	}
	if d.new.Head, err = d.now.head(); err != nil {
		return nil, nil, err
	}
	if err := d.run(); err != nil {
		return nil, nil, err
	}
	return &d.then, &d.new, nil
}

type differ struct {
	old, now  *ledgerLines
	then, new Ledger
}

// run reads the lines of both in the order of codes.
func (d *differ) run() error {
	oldLine, oldIs := d.old.next()
	newLine, newIs := d.now.next()
	for oldIs || newIs {
		order := 0
		switch {
		case !oldIs:
			order = 1
		case !newIs:
			order = -1
		default:
			order = strings.Compare(codeOf(oldLine), codeOf(newLine))
		}
		if order == 0 && bytes.Equal(oldLine, newLine) && !bytes.Contains(oldLine, sharedFigure) {
			oldLine, oldIs = d.old.next()
			newLine, newIs = d.now.next()
			continue
		}
		if order <= 0 {
			if err := d.then.take(oldLine, d.old.number); err != nil {
				return err
			}
			oldLine, oldIs = d.old.next()
		}
		if order >= 0 {
			if err := d.new.take(newLine, d.now.number); err != nil {
				return err
			}
			newLine, newIs = d.now.next()
		}
	}
	if err := d.old.Err(); err != nil {
		return err
	}
	return d.now.Err()
}

// sharedFigure marks an entry with a figure that stands in other entries too:
// whether one is new can only be told with all of these.
var sharedFigure = []byte(`{"address":"standing.`)

// ledgerLines are the lines of a ledger.
type ledgerLines struct {
	*bufio.Scanner
	number int
}

// longestLine is the longest line of a ledger that is read, in bytes.
const longestLine = 64 << 20

func newLedgerLines(r io.Reader) *ledgerLines {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, 1<<16), longestLine)
	return &ledgerLines{Scanner: s}
}

// next returns the next line, to be kept.
func (l *ledgerLines) next() (line []byte, is bool) {
	if !l.Scan() {
		return nil, false
	}
	l.number++
	return bytes.Clone(l.Bytes()), true
}

func (l *ledgerLines) head() (h LedgerHead, err error) {
	line, is := l.next()
	if !is {
		if err := l.Err(); err != nil {
			return h, err
		}
		return h, errors.New("the ledger is empty")
	}
	if err := json.Unmarshal(line, &h); err != nil {
		return h, fmt.Errorf("the head of the ledger cannot be read: %w", err)
	}
	if h.Format != LedgerFormat {
		return h, fmt.Errorf("the ledger has the format %d, and this program reads %d", h.Format, LedgerFormat)
	}
	return h, nil
}

// take reads an entry.
func (l *Ledger) take(line []byte, number int) error {
	var e LedgerEntry
	if err := json.Unmarshal(line, &e); err != nil {
		return fmt.Errorf("line %d of the ledger cannot be read: %w", number, err)
	}
	l.Entries = append(l.Entries, e)
	return nil
}

// codeOf returns the code of an entry without reading the rest of its line; ""
// where none can be read.
func codeOf(line []byte) string {
	rest, ok := bytes.CutPrefix(line, []byte(`{"code":`))
	if !ok {
		return ""
	}
	var code string
	if err := json.NewDecoder(bytes.NewReader(rest)).Decode(&code); err != nil {
		return ""
	}
	return code
}
