package press_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
)

// tenCellsTell sees what a screen reader is given for ten cells: each is found
// by its table, its row head and its column head, and says units and signs as
// words.
func (r *reader) tenCellsTell(t *testing.T) {
	b := r.tab(t, "spoken.html")
	tree := heardPage(call(t, b.Context, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{}).Nodes)
	tables := tree.withRole(tree.root, "table")
	if len(tables) != 2 {
		t.Fatalf("%d tables are heard, want 2", len(tables))
	}
	const (
		longest  = "Longest run for wire at most 0.2 ohm (one way), metres"
		headroom = "Headroom left (in the open), decibels"
		wanted   = "Watts wanted (continuous), watts"
	)
	for _, c := range []struct {
		table             int
		row, column, says string
	}{
		{0, "14 gauge", "Run 3 metres", "0.0498 ohms"},
		{0, "14 gauge", "Run 9 metres", "0.150 ohms"},
		{0, "14 gauge", longest, "12 metres"},
		{0, "16 gauge", "Run 3 metres", "0.0791 ohms"},
		{0, "16 gauge", "Run 9 metres", "0.238 ohms too much"},
		{0, "16 gauge", longest, "7.59 metres"},
		{1, "75 decibels of sound pressure", headroom, "13.4 decibels"},
		{1, "85 decibels of sound pressure", headroom, "3.4 decibels"},
		{1, "90 decibels of sound pressure", headroom, "minus 1.6 decibels too loud for it"},
		{1, "90 decibels of sound pressure", wanted, "230 watts"},
	} {
		if says := tree.cell(tables[c.table], c.row, c.column); !slices.Equal(says, []string{c.says}) {
			t.Errorf("table %d, row %q, column %q says %q, want %q once", c.table+1, c.row, c.column, says, c.says)
		}
	}
	for i, limit := range []string{"Limit: wire at most 0.2 ohm", "Limit: headroom left at least 0 decibels"} {
		if said := tree.said(tables[i]); !strings.Contains(said, limit) {
			t.Errorf("table %d does not say %q: %s", i+1, limit, said)
		}
	}
}

// heard is what a screen reader is given of a page: a tree of what has a role.
type heard struct {
	root  accessibility.NodeID
	nodes map[accessibility.NodeID]*accessibility.Node
}

func heardPage(nodes []*accessibility.Node) heard {
	h := heard{root: nodes[0].NodeID, nodes: map[accessibility.NodeID]*accessibility.Node{}}
	for _, n := range nodes {
		h.nodes[n.NodeID] = n
	}
	return h
}

// withRole returns the nodes of some roles at or below one, in the order of the
// page; what lies inside one of them is not looked at.
func (h heard) withRole(at accessibility.NodeID, roles ...string) []accessibility.NodeID {
	n := h.nodes[at]
	if n == nil {
		return nil
	}
	if !n.Ignored && n.Role != nil && slices.Contains(roles, unquoted(n.Role)) {
		return []accessibility.NodeID{at}
	}
	var found []accessibility.NodeID
	for _, child := range n.ChildIDs {
		found = append(found, h.withRole(child, roles...)...)
	}
	return found
}

// name is what a node is called, role what it is.
func (h heard) name(at accessibility.NodeID) string {
	if n := h.nodes[at]; n.Name != nil {
		return strings.Join(strings.Fields(unquoted(n.Name)), " ")
	}
	return ""
}

func (h heard) role(at accessibility.NodeID) string { return unquoted(h.nodes[at].Role) }

// said is all text below a node, as it is read out.
func (h heard) said(at accessibility.NodeID) string {
	var parts []string
	for _, text := range h.withRole(at, "StaticText") {
		parts = append(parts, h.name(text))
	}
	return strings.Join(parts, " ")
}

// cell returns what the cells say that stand in a row and in a column of these
// heads.
func (h heard) cell(table accessibility.NodeID, row, column string) (says []string) {
	var columns []string
	for _, line := range h.withRole(table, "row") {
		head := ""
		for i, at := range h.withRole(line, "columnheader", "rowheader", "cell", "gridcell") {
			switch h.role(at) {
			case "columnheader":
				columns = append(columns, h.name(at))
			case "rowheader":
				head = h.name(at)
			default:
				if head == row && i < len(columns) && columns[i] == column {
					says = append(says, h.name(at))
				}
			}
		}
	}
	return says
}
