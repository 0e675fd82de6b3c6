package tags

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Reason is a word for why a tag cannot be printed, for programs.
type Reason string

// The reasons.
const (
	NoCode    Reason = "no_code"   // the plant has no code
	LongCode  Reason = "long_code" // the code is longer than MostCodeBytes
	Character Reason = "character" // a text has a character that the typeface lacks
)

// Problem says why one tag cannot be printed.
type Problem struct {
	Reason Reason `json:"reason"`
	Code   string `json:"plant"` // the plant's
	Where  string `json:"where"` // the text in which it lies: "code", "stock" or "bed"
	Text   string `json:"text"`  // that text
	// Character is the one that cannot be printed, as it is written and as U+ and its number.
	Character string `json:"character"`
}

// String is the problem as a sentence with its remedy.
func (p Problem) String() string {
	switch p.Reason {
	case NoCode:
		return "a plant has no code, and its tag would say nothing: give it one first"
	case LongCode:
		return fmt.Sprintf("the code %q is %d bytes long, and a tag holds %d: give the plant a shorter one", p.Code, len(p.Code), MostCodeBytes)
	}
	if p.Where == "code" {
		return fmt.Sprintf("the code %q has the character %s, which cannot be printed: give the plant another code", p.Code, p.Character)
	}
	return fmt.Sprintf("on the tag of %q the name of the %s, %q, has the character %s, which cannot be printed: write the name without it", p.Code, p.Where, p.Text, p.Character)
}

// Problems is everything for which tags are refused, in their order.
type Problems []Problem

// mostTold is how many problems an error names: a name that cannot be printed may stand on every tag.
const mostTold = 10

// Error names the first, a line each, and how many more there are.
func (ps Problems) Error() string {
	lines := []string{fmt.Sprintf("no tag was printed; problems: %d", len(ps))}
	for i, p := range ps {
		if i == mostTold {
			lines = append(lines, fmt.Sprintf("and %d more", len(ps)-i))
			break
		}
		lines = append(lines, p.String())
	}
	return strings.Join(lines, "\n")
}

// problemsOf finds what keeps a tag from being printed.
func problemsOf(tag Tag) Problems {
	switch {
	case tag.Code == "":
		return Problems{{Reason: NoCode}}
	case len(tag.Code) > MostCodeBytes:
		return Problems{{Reason: LongCode, Code: tag.Code, Where: "code", Text: tag.Code}}
	}
	var found Problems
	for _, part := range []struct {
		where, text, set string
		face             *face
	}{
		{"code", tag.Code, shown(tag.Code), codeFace()},
		{"stock", tag.Stock, name(tag.Stock), smallFace()},
		{"bed", tag.Bed, name(tag.Bed), smallFace()},
	} {
		if c, missing := firstMissing(part.face, part.set); missing {
			found = append(found, Problem{Reason: Character, Code: tag.Code, Where: part.where, Text: part.text, Character: c})
		}
	}
	return found
}

// firstMissing is the first character of a text that a face cannot show. What leaves no mark, such as a
// line end or a letter of no width, would be dropped in silence, so it counts as well.
func firstMissing(f *face, text string) (string, bool) {
	for at, r := range text {
		if _, size := utf8.DecodeRuneInString(text[at:]); r == utf8.RuneError && size == 1 {
			return "of bytes that are no text", true
		}
		if !unicode.IsGraphic(r) || !f.has(r) {
			return fmt.Sprintf("%q (%U)", r, r), true
		}
	}
	return "", false
}
