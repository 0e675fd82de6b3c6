//go:build cgo

package main

/*
#include <stdlib.h>
#ifdef __GLIBC__
#include <malloc.h>
#endif

static void trim(void) {
#ifdef __GLIBC__
	malloc_trim(0);
#endif
}
*/
import "C"

// trimC returns what SQLite has freed to the system: glibc keeps it otherwise, an arena for each of
// the threads that ever called it.
func trimC() { C.trim() }
