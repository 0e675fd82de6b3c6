package main

import (
	"syscall"
	"unsafe"
)

// ownWindow tells whether the console window was opened for this program alone, as a double click does:
// it closes with the program, and what was printed last would never be read.
// https://learn.microsoft.com/windows/console/getconsoleprocesslist
func ownWindow() bool {
	list := syscall.NewLazyDLL("kernel32.dll").NewProc("GetConsoleProcessList")
	var processes [2]uint32
	n, _, _ := list.Call(uintptr(unsafe.Pointer(&processes[0])), uintptr(len(processes)))
	return n == 1
}
