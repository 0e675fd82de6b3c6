package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"time"

	"corymb/internal/crop"
	"corymb/internal/sheets"
)

// spreadsheets are the two files that a command line names.
type spreadsheets struct {
	plants, cuts string
}

func spreadsheetFlags(set *flag.FlagSet) *spreadsheets {
	var s spreadsheets
	set.StringVar(&s.plants, "plants", "", "the `file` with a row for each plant, plants.csv")
	set.StringVar(&s.cuts, "cuts", "", "the `file` with a row for each cut, cuts.csv")
	return &s
}

// named tells whether both files were named.
func (s spreadsheets) named(set *flag.FlagSet) error {
	if s.plants == "" || s.cuts == "" {
		return wrongUsage(set, "name both spreadsheets: -plants plants.csv -cuts cuts.csv")
	}
	return nil
}

// read reads both files, or tells everything that is wrong with them.
func (s spreadsheets) read(options ...sheets.Option) (sheets.Contents, error) {
	plants, err := os.Open(s.plants)
	if err != nil {
		return sheets.Contents{}, fmt.Errorf("opening the plants: %w", err)
	}
	defer plants.Close()
	cuts, err := os.Open(s.cuts)
	if err != nil {
		return sheets.Contents{}, fmt.Errorf("opening the cuts: %w", err)
	}
	defer cuts.Close()
	return sheets.Read(
		sheets.Source{Name: s.plants, Reader: plants}, sheets.Source{Name: s.cuts, Reader: cuts},
		crop.DateOf(time.Now()), options...,
	)
}

// tellNotes says what was assumed, added up or left out of files that were taken.
func tellNotes(w io.Writer, contents sheets.Contents) {
	for _, note := range contents.Notes() {
		fmt.Fprintf(w, "corymb: %s\n", note)
	}
}

// tellIgnored names the columns of a file that nobody reads.
func tellIgnored(w io.Writer, columns []sheets.IgnoredColumn) {
	for _, column := range columns {
		fmt.Fprintf(w, "corymb: the column %s of %s is not read\n", column.Column, column.File)
	}
}
