package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"slices"
	"strings"

	"corymb/internal/tags"
)

// cardCommand prints colour cards, without any farm: whoever has them tells the app of their batch.
func cardCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("card")
	to := set.String("out", "", "the PDF `file` to write; a PDF that is there already is replaced, nothing else is")
	batch := set.String("batch", "", "the `code` of the batch, to print one again as it was; a new one unless told")
	paper := set.String("paper", "a4", "what it is printed on: a4 or letter")
	language := set.String("lang", "en", "the language of the page of how to: "+strings.Join(tags.CardLanguages, " or "))
	if err := parse(set, args); err != nil {
		return err
	}
	on, known := tags.Papers[*paper]
	switch {
	case *to == "":
		return wrongUsage(set, "name the file to write: -out card.pdf")
	case !known:
		return wrongUsage(set, "-paper %s is not known: use a4 or letter", *paper)
	case !slices.Contains(tags.CardLanguages, *language):
		return wrongUsage(set, "-lang %s is not known: use %s", *language, strings.Join(tags.CardLanguages, " or "))
	}
	code, err := batchNamed(*batch)
	if err != nil {
		return err
	}
	var sheets bytes.Buffer
	if err := tags.WriteCards(&sheets, tags.CardPrint{Batch: code, Paper: on, Language: *language, Sheets: 1}); err != nil {
		return err
	}
	if err := writePDF(*to, sheets.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s holds %d colour cards of batch %s on %s, and a page of how to. Print it at 100 %%, the actual size, "+
		"with colour management on, on matte paper without optical brighteners.\n", *to, on.CardsPerSheet(), code, on.Name)
	return nil
}

// batchNamed is a batch as it was asked for, or a new one.
func batchNamed(typed string) (string, error) {
	if typed == "" {
		return tags.NewBatch(rand.Reader)
	}
	return tags.ParseBatch(typed)
}
