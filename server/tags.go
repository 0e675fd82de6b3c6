package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"corymb/internal/crop"
	"corymb/internal/sheets"
	"corymb/internal/tags"
)

// Which plants of a file get a tag.
const (
	onlyAll     = "all"
	onlyCounted = "counted"
)

// tagsCommand prints stake tags for the plants of a spreadsheet, without any farm.
func tagsCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("tags")
	plants := set.String("plants", "", "the `file` with a row for each plant, plants.csv")
	to := set.String("out", "", "the PDF `file` to write; a PDF that is there already is replaced, nothing else is")
	paper := set.String("paper", "a4", "what it is printed on: a4 or letter")
	only := set.String("only", onlyAll, "which plants: all in the file, or those counted in this season")
	if err := parse(set, args); err != nil {
		return err
	}
	on, known := tags.Papers[*paper]
	switch {
	case *plants == "" || *to == "":
		return wrongUsage(set, "name the plants and the file to write: -plants plants.csv -out tags.pdf")
	case !known:
		return wrongUsage(set, "-paper %s is not known: use a4 or letter", *paper)
	case *only != onlyAll && *only != onlyCounted:
		return wrongUsage(set, "-only %s is not known: use %s or %s", *only, onlyAll, onlyCounted)
	}
	contents, err := readPlantsAlone(*plants)
	if err != nil {
		return err
	}
	chosen := contents.Listed
	if *only == onlyCounted {
		if chosen, err = countedNow(contents, crop.DateOf(time.Now())); err != nil {
			return fmt.Errorf("choosing the plants of %s: %w", *plants, err)
		}
	}
	list, _ := tags.Of(contents.Farm, chosen) // the file's own plants are all known
	if err := writeTags(*to, on, list); err != nil {
		return err
	}
	for _, i := range contents.Ignored {
		fmt.Fprintf(out, "Column %q of %s is not known and was not read.\n", i.Column, i.File)
	}
	fmt.Fprintf(out, "%s holds %s on %s of %s. Print it at 100 %%, the actual size, and not fitted to the page.\n",
		*to, several(len(list), "tag"), several(on.Sheets(len(list)), "sheet"), on.Name)
	return nil
}

func several(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func readPlantsAlone(path string) (sheets.Contents, error) {
	file, err := os.Open(path)
	if err != nil {
		return sheets.Contents{}, fmt.Errorf("opening the plants: %w", err)
	}
	defer file.Close()
	return sheets.ReadPlants(sheets.Source{Name: path, Reader: file}, crop.DateOf(time.Now()))
}

// countedNow are the plants counted in the season of a day that stand on it, in the order of the file.
func countedNow(contents sheets.Contents, today crop.Date) ([]crop.PlantID, error) {
	season := contents.Farm.Calendar.SeasonOf(today)
	var found []crop.PlantID
	for _, id := range contents.Listed {
		plant := contents.Farm.Plants[id]
		if _, counted := plant.Counted[season]; counted && (plant.Removed == "" || plant.Removed > today) {
			found = append(found, id)
		}
	}
	switch {
	case contents.Assumed:
		return nil, errors.New("it has no counted_from and counted_to, which say what is counted: add them, or use -only all")
	case len(found) == 0:
		return nil, fmt.Errorf("by counted_from and counted_to none is counted in season %d: correct them, or use -only all", season)
	}
	return found, nil
}

func writeTags(path string, paper tags.Paper, list []tags.Tag) error {
	var sheets bytes.Buffer
	if err := tags.Write(&sheets, paper, list); err != nil {
		return err
	}
	return writePDF(path, sheets.Bytes())
}

// writePDF writes what is to be printed into a file. What is there and is no PDF stays: it may be the plants.
func writePDF(path string, pdf []byte) error {
	before, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("looking at what is in %s: %w", path, err)
	}
	if len(before) > 0 && !bytes.HasPrefix(before, []byte("%PDF-")) {
		return fmt.Errorf("%s is there already and is no PDF, so it was not replaced: name another file with -out", path)
	}
	if err := os.WriteFile(path, pdf, 0o644); err != nil {
		return fmt.Errorf("writing %s: %w; name another file with -out", path, err)
	}
	return nil
}
