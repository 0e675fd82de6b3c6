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
	"corymb/syncproto"
)

// importCommand adds two spreadsheets to a farm. What stands there already is not said again.
func importCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("import")
	files := spreadsheetFlags(set)
	data := dataFlag(set)
	if err := parse(set, args); err != nil {
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
	contents, err := files.read(here.Calendar)
	if err != nil {
		return err
	}
	importer, err := uuid.Parse(s.Farm())
	if err != nil {
		return fmt.Errorf("reading the farm's id: %w", err)
	}
	importer = uuid.NewSHA1(importer, []byte("spreadsheets"))
	brought, err := farm.Bring(contents.Farm, here, importer)
	if err != nil {
		return err
	}
	facts := farm.Operations(brought)
	if contents.Assumed {
		facts = append(facts, farm.AssumedFacts(here.ID))
	}
	said, err := sayUnsaid(ctx, s, state, importer.String(), facts)
	if err != nil {
		return err
	}
	tellImport(out, contents, said)
	return nil
}

// sayUnsaid appends what of the facts is new, as the changes of the importer's incarnation.
func sayUnsaid(ctx context.Context, s *store.Store, state *changelog.State, importer string, facts [][]changelog.Fact) (said int, err error) {
	standing, err := s.Standing(ctx, importer, nil, syncproto.Scopes)
	if err != nil {
		return 0, fmt.Errorf("reading what was imported before: %w", err)
	}
	recorder := changelog.Recorder{Incarnation: importer, Seq: standing.Seq}
	recorder.Clock.Last = standing.Stamp
	var operations [][]syncproto.Change
	for _, op := range facts {
		if fresh := state.Unsaid(op, importer); len(fresh) > 0 {
			operations = append(operations, recorder.Operation(time.Now().UnixMilli(), fresh...))
			said += len(fresh)
		}
	}
	return said, appendOperations(ctx, s, importer, operations)
}

func tellImport(out io.Writer, contents sheets.Contents, said int) {
	for _, note := range contents.Notes() {
		fmt.Fprintln(out, note)
	}
	if said == 0 {
		fmt.Fprintln(out, "Nothing new: the farm holds all of this already.")
		return
	}
	fmt.Fprintf(out, "%d plants and %d visits were read; %d changes were new to the farm and are stored.\n",
		len(contents.Farm.Plants), len(contents.Farm.Visits), said)
}
