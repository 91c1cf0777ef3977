package main

import (
	"unsafe"

	"golang.org/x/sys/windows"
)

// ownsWindow reports whether the terminal window was opened for this program
// alone, as by a double click: then no other program is attached to its
// console, and the window closes with this one.
func ownsWindow() bool {
	list := windows.NewLazySystemDLL("kernel32.dll").NewProc("GetConsoleProcessList")
	if list.Find() != nil {
		return false
	}
	var ids [2]uint32
	n, _, _ := list.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	return n == 1
}
