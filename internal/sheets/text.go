package sheets

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// saveAsUTF8 is what to do about any other encoding, in the words of the usual programs' menus.
const saveAsUTF8 = `In the spreadsheet program choose "Save as", type "CSV UTF-8", and use that file.`

// Byte order marks (Unicode Standard, section 23.8).
var (
	bomUTF8   = []byte{0xEF, 0xBB, 0xBF}
	bomUTF16L = []byte{0xFF, 0xFE}
	bomUTF16B = []byte{0xFE, 0xFF}
)

// decode turns a file's bytes into text in NFC, without byte order mark. Text in another encoding
// than UTF-8 is refused: a guess would turn a name into another name without anybody noticing.
func decode(name string, raw []byte) (string, *Problem) {
	if bytes.HasPrefix(raw, bomUTF16L) || bytes.HasPrefix(raw, bomUTF16B) {
		return "", utf16Problem(name, 1)
	}
	raw = bytes.TrimPrefix(raw, bomUTF8)
	if !bytes.Contains(raw, []byte("\n")) {
		// "CSV (Macintosh)" ends its lines with a carriage return alone.
		raw = bytes.ReplaceAll(raw, []byte("\r"), []byte("\n"))
	}
	// No CSV holds a NUL; UTF-16 without its mark has one beside each plain letter.
	if at := bytes.IndexByte(raw, 0); at >= 0 {
		return "", utf16Problem(name, lineAt(raw, at))
	}
	if at := firstInvalid(raw); at >= 0 {
		return "", &Problem{File: name, Line: lineAt(raw, at), Reason: fmt.Sprintf(
			"the text is not UTF-8 but an older encoding such as Windows-1252 or Latin-1 (byte %#x). %s",
			raw[at], saveAsUTF8)}
	}
	// One program writes é as one code point, another as two: in NFC both are the same name.
	return norm.NFC.String(string(raw)), nil
}

func utf16Problem(name string, line int) *Problem {
	return &Problem{File: name, Line: line,
		Reason: "the text is not UTF-8 but UTF-16 (often called \"Unicode text\"). " + saveAsUTF8}
}

// firstInvalid is the place of the first byte that is not UTF-8, or -1. A U+FFFD that stands in the
// file is valid; only its size tells it from one that DecodeRune made up.
func firstInvalid(raw []byte) int {
	for at := 0; at < len(raw); {
		r, size := utf8.DecodeRune(raw[at:])
		if r == utf8.RuneError && size == 1 {
			return at
		}
		at += size
	}
	return -1
}

// lineAt is the line of the byte at a place, counted from 1.
func lineAt(raw []byte, at int) int { return bytes.Count(raw[:at], []byte("\n")) + 1 }
