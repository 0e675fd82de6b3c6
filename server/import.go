package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/google/uuid"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/sheets"
	"corymb/server/store"
)

// importCommand adds two spreadsheets to a farm, of which what stands there already is not said again; or makes a farm
// of an export.
func importCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("import")
	files := spreadsheetFlags(set)
	from := set.String("from", "", "in place of spreadsheets: a `file` that export wrote, to make a farm of in an empty folder")
	data := dataFlag(set)
	if err := parse(set, args); err != nil {
		return err
	}
	if *from != "" && (files.plants != "" || files.cuts != "") {
		return wrongUsage(set, "name either an export with -from, or two spreadsheets")
	}
	if *from != "" {
		return importExport(ctx, *from, *data, out)
	}
	if err := files.named(set); err != nil {
		return err
	}
	s, err := store.Open(*data, time.Now)
	if err != nil {
		return err
	}
	err = importInto(ctx, s, *files, out)
	return errors.Join(err, s.Close())
}

func importInto(ctx context.Context, s *store.Store, files spreadsheets, out io.Writer) error {
	state, _, err := s.State(ctx)
	if err != nil {
		return fmt.Errorf("reading the farm: %w", err)
	}
	here := farm.Read(crop.FarmID(s.Farm()), state)
	contents, err := files.read(sheets.WithCalendar(here.Calendar))
	if err != nil {
		return err
	}
	importer, err := uuid.Parse(s.Farm())
	if err != nil {
		return fmt.Errorf("reading the farm's id: %w", err)
	}
	importer = uuid.NewSHA1(importer, []byte("spreadsheets"))
	if here.MadeUp {
		return errors.New("the farm in this folder is made up, and real plants would be lost among its own: name another folder with -data")
	}
	brought, err := farm.Bring(contents.Farm, here, importer)
	if err != nil {
		return err
	}
	said, err := s.Said(ctx, importer.String())
	if err != nil {
		return err
	}
	renewal := farm.Renew(brought, contents.Assumed, said, state, importer.String())
	stored, err := pushRenewal(ctx, s, importer.String(), renewal, out)
	if err != nil {
		return err
	}
	tellImport(out, contents, stored, renewal.Differs)
	return nil
}

// pushRenewal appends what is new as the changes of the importer's incarnation.
func pushRenewal(ctx context.Context, s *store.Store, importer string, renewal farm.Renewal, out io.Writer) (stored int, err error) {
	standing, err := s.Standing(ctx, changelog.Asked{Incarnation: importer})
	if err != nil {
		return 0, fmt.Errorf("reading what was imported before: %w", err)
	}
	recorder := changelog.Recorder{Incarnation: importer, Seq: standing.Seq}
	recorder.Clock.Last = standing.Stamp
	push := pusher{farm: s, incarnation: importer, progress: out}
	for _, facts := range renewal.Operations {
		if err := push.add(ctx, recorder.Operation(time.Now().UnixMilli(), facts...)); err != nil {
			return push.pushed, err
		}
	}
	err = push.flush(ctx)
	return push.pushed, err
}

func tellImport(out io.Writer, contents sheets.Contents, stored, differs int) {
	for _, note := range contents.Notes() {
		fmt.Fprintln(out, note)
	}
	if differs > 0 {
		fmt.Fprintf(out, "%d things that these files said before were changed on the farm since: they stay as they were changed.\n", differs)
	}
	if stored == 0 {
		fmt.Fprintln(out, "Nothing new: the farm holds all of this already.")
		return
	}
	fmt.Fprintf(out, "%d plants and %d visits were read; %d changes were new to the farm and are stored.\n",
		len(contents.Farm.Plants), len(contents.Farm.Visits), stored)
}
