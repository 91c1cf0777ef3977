// Package galley keeps a live proof of a copy open while its author writes: it
// watches the copy's folders, presses into memory when they come to rest, and
// serves the pages to browsers on this machine.
//
// It has three parts. The watch hears what changes in the copy and hands on, once
// nothing has changed for a moment, what did: no more than one press is made of
// one burst of changes. The proof is what is shown: the last good manual, with the
// faults of the last press on a slip at the head of each page. What is shown is
// served on 127.0.0.1, and every open page hears of each press by an event.
//
// A press begins at the latest [Quiet] after the last change, or after [Longest]
// where changes do not come to an end; where one is at work, as soon as it is
// done. Nothing is looked at again and again: where nothing changes, nothing runs.
package galley
