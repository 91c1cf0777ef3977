// Package folder reads an author's folder, the copy, into named texts.
//
// It decides what belongs to the copy and nothing about what the texts say:
//
//	*.md, anywhere below       a guide
//	imprint.yaml               title, publisher, language, date, paper
//	standing.yaml              values kept once for many guides
//	methods/*.yaml             the author's own methods
//	drawings/*                 drawings: .svg, .png, .jpg
//
// Files and folders whose names start with a dot or an underscore are put
// aside and not read. A folder that carries the stamp of a finished manual is
// never entered, so that what a press wrote is never read back as input.
//
// What cannot be read as text is told as a fault at its first bad byte; so is
// a name that would break on another system, a link that leads out of the
// copy, and a file too large to be a text. Where the system itself would not
// let a file be read, the fault's cause is [ErrUnread].
package folder
