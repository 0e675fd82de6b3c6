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
	"corymb/server/joining"
	"corymb/server/store"
	"corymb/syncproto"
)

// demoCommand serves the made-up farm. It keeps to a folder of its own, so that a real farm never
// gets made-up plants.
func demoCommand(ctx context.Context, args []string, out io.Writer) error {
	set := flags("demo")
	var where place
	where.flags(set)
	data := set.String("data", filepath.Join(defaultData(), "demo"), "the `folder` that holds the made-up farm; made where it is missing")
	limits := photoLimits(set)
	if err := parse(set, args); err != nil {
		return err
	}
	return serve(ctx, where, *data, *limits, out, func(ctx context.Context, s *store.Store, desk *joining.Desk) error {
		grower, err := fillWithDemo(ctx, s, *data)
		desk.OpenTo(grower) // nothing in it is worth a code
		return err
	}, nil)
}

// fillWithDemo appends what is missing of the made-up farm: all of it to an empty folder, the rest
// where it was interrupted. It leaves the phones of people who tried it alone, and says who its grower is.
func fillWithDemo(ctx context.Context, s *store.Store, data string) (grower string, err error) {
	if s.Newest() > 0 {
		if err := madeUpAlready(ctx, s, data); err != nil {
			return "", err
		}
	}
	last, err := lastMadeUpSeason(ctx, s)
	if err != nil {
		return "", err
	}
	devices := demo.Changes(crop.FarmID(s.Farm()), last)
	for _, device := range devices {
		if err := fillDevice(ctx, s, device); err != nil {
			return "", fmt.Errorf("making up the farm: %w", err)
		}
	}
	return devices[0].Person, nil
}

// lastMadeUpSeason is the season up to which the farm was made up, or is to be if it is new.
func lastMadeUpSeason(ctx context.Context, s *store.Store) (crop.Season, error) {
	begun, err := s.ReadAfter(ctx, 0, s.Newest(), syncproto.Scopes)
	if err != nil || len(begun.Batch.Changes) == 0 {
		return demo.LastSeasonOver(crop.DateOf(time.Now())), err
	}
	return demo.LastSeasonTold(begun.Batch.Changes[0]), nil
}

// fillDevice pushes what the farm does not hold yet of a device.
func fillDevice(ctx context.Context, s *store.Store, device demo.Device) error {
	standing, err := s.Standing(ctx, changelog.Asked{Incarnation: device.Incarnation})
	if err != nil {
		return err
	}
	s.Seen(changelog.Sighting{Incarnation: device.Incarnation, Device: device.ID, Person: device.Person})
	push := pusher{farm: s, incarnation: device.Incarnation}
	for _, op := range device.Operations {
		if op[0].Seq <= standing.Seq {
			continue
		}
		if err := push.add(ctx, op); err != nil {
			return err
		}
	}
	return push.flush(ctx)
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
