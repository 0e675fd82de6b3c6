// Package formula guards text that a spreadsheet would run as a formula.
package formula

import (
	"regexp"
	"strings"
)

// begins is the beginning of what a spreadsheet may run: = + - @, tab, carriage return and line feed, and the signs in
// full width (OWASP, "CSV Injection", from memory). Apostrophes before it are those of a guard.
var begins = regexp.MustCompile("^'*[=+\\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]")

// Guard puts an apostrophe before a text that a spreadsheet may take for a formula. Unguard takes it away again, so that
// every text comes back as it was, one that begins with an apostrophe of its own too.
func Guard(text string) string {
	if begins.MatchString(text) {
		return "'" + text
	}
	return text
}

// Unguard is the text that Guard was given.
func Unguard(text string) string {
	if rest, ok := strings.CutPrefix(text, "'"); ok && begins.MatchString(rest) {
		return rest
	}
	return text
}
