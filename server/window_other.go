//go:build !windows

package main

// ownWindow tells whether the window closes with the program: elsewhere than on Windows a terminal
// stays, or there was none.
func ownWindow() bool { return false }
