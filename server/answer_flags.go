package main

import (
	"encoding/json"
	"flag"
	"io"
	"slices"
	"strings"

	"corymb/internal/crop"
)

// answering is how a question of what is ahead is put and its answer printed.
type answering struct {
	day, format string
	formats     []string
}

// answerFlags are -asof, whose words for a day not given are unsaid, and -format, the first of which is taken where none is
// given.
func answerFlags(set *flag.FlagSet, unsaid string, formats ...string) *answering {
	a := answering{formats: formats}
	set.StringVar(&a.day, "asof", "", "the `day` on whose evening the question is put, like 2026-05-28; "+unsaid+" if it is not given")
	set.StringVar(&a.format, "format", formats[0], "how to print it: "+strings.Join(formats, " or "))
	return &a
}

// checked is the day, empty where none is given, or a usage error.
func (a *answering) checked(set *flag.FlagSet) (crop.Date, error) {
	if !slices.Contains(a.formats, a.format) {
		return "", wrongUsage(set, "-format %s is not known: use %s", a.format, strings.Join(a.formats, " or "))
	}
	if a.day == "" {
		return "", nil
	}
	asOf, err := crop.ParseDate(a.day)
	if err != nil {
		return "", wrongUsage(set, "-asof %v", err)
	}
	return asOf, nil
}

func printJSON(out io.Writer, answer any) error {
	printer := json.NewEncoder(out)
	printer.SetIndent("", " ")
	return printer.Encode(answer)
}
