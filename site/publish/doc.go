// Package publish writes a finished manual to disk at one stroke.
//
// The manual is written whole into a folder beside the one that it is for,
// brought safely onto the disk, and then exchanged with it in a single call of
// the system. A reader, or a press that is killed at any moment, meets the old
// manual or the new one and never a mixture. Where the system has no such
// call, the old manual is moved aside and the new one put in its place, and
// the report says so.
//
// A press replaces only a folder that is absent, empty or carries the stamp of
// an earlier manual: see [Check], which is asked before anything is computed.
//
// For a manual in the folder NAME three names beside it belong to this
// package, and none of them outlives a publish that ran to its end:
//
//	.NAME.new-bindpost    the manual being written; after the exchange, the old one
//	.NAME.old-bindpost    the old manual, where two steps are needed
//	.NAME.lock-bindpost   held while writing, so that two presses do not meet
//
// What a killed press left under these names is removed by the next one, if
// it carries the stamp, which is therefore written first and removed last.
package publish
