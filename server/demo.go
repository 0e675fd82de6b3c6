package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/demo"
	"corymb/internal/farm"
	"corymb/server/store"
)

// demoCommand serves the made-up farm. It keeps to a folder of its own, so that a real farm never
// gets made-up plants.
func demoCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("demo")
	listen := listenFlag(set)
	data := set.String("data", filepath.Join(defaultData(), "demo"), "the `folder` that holds the made-up farm; made where it is missing")
	if err := parse(set, args); err != nil {
		return err
	}
	return serve(ctx, *listen, *data, out, func(ctx context.Context, s *store.Store) error {
		return fillWithDemo(ctx, s, *data)
	})
}

// fillWithDemo appends the made-up farm to an empty folder and leaves one that it filled before.
func fillWithDemo(ctx context.Context, s *store.Store, data string) error {
	if s.Newest() > 0 {
		return madeUpAlready(ctx, s, data)
	}
	for _, device := range demo.Changes(crop.FarmID(s.Farm()), crop.DateOf(time.Now())) {
		err := s.Seen(ctx, changelog.Sighting{
			Incarnation: device.Incarnation, Device: device.ID, Person: device.Person,
		})
		if err != nil {
			return fmt.Errorf("making up the farm: %w", err)
		}
		if err := appendOperations(ctx, s, device.Incarnation, device.Operations); err != nil {
			return fmt.Errorf("making up the farm: %w", err)
		}
	}
	return nil
}

func madeUpAlready(ctx context.Context, s *store.Store, data string) error {
	state, err := s.Entity(ctx, farm.TypeFarm, s.Farm())
	if err != nil {
		return fmt.Errorf("looking at the farm in %s: %w", data, err)
	}
	if !farm.Read(crop.FarmID(s.Farm()), state).MadeUp {
		return fmt.Errorf("the folder %s holds a farm that was not made up, and it stays as it is: name another with -data", data)
	}
	return nil
}
