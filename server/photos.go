package main

import (
	"context"
	"flag"
	"fmt"
	"log/slog"
	"strconv"
	"time"

	"corymb/internal/farm"
	"corymb/server/photos"
	"corymb/server/store"
)

// photoLimits adds the flag for how much room a farm's photos may take.
func photoLimits(set *flag.FlagSet) *photos.Limits {
	limits := photos.UsualLimits()
	usage := fmt.Sprintf("how many `GB` all photos together may take (usually %d). Beyond that they stay on the phones until there is more room", limits.Room/gigabyte)
	set.Func("photo-room", usage, func(text string) error {
		room, err := strconv.ParseUint(text, 10, 20)
		if err != nil || room == 0 {
			return fmt.Errorf("write it as a whole number of GB, such as 50")
		}
		limits.Room = int64(room) * gigabyte
		return nil
	})
	return &limits
}

const gigabyte = 1e9

// Photos that no change names are looked for once a day, and not while everything else begins.
const (
	letGoFirst = 10 * time.Minute
	letGoEvery = 24 * time.Hour
)

// letGoOfPhotos lets go of photos that no change has named for long. It returns when the context ends.
func letGoOfPhotos(ctx context.Context, log *store.Store, kept *photos.Photos, logger *slog.Logger) {
	for wait := letGoFirst; ; wait = letGoEvery {
		select {
		case <-time.After(wait):
		case <-ctx.Done():
			return
		}
		gone, err := letGoOnce(ctx, log, kept)
		if err != nil && ctx.Err() == nil {
			logger.Error("photos that no change names were not looked for; that is tried again", "error", err)
		}
		if gone > 0 {
			logger.Info("photos that no change has named for long were let go of", "photos", gone)
		}
	}
}

func letGoOnce(ctx context.Context, log *store.Store, kept *photos.Photos) (gone int, err error) {
	state, _, err := log.State(ctx)
	if err != nil {
		return 0, err
	}
	named := farm.Photos(state)
	return kept.LetGo(ctx, func(h photos.Hash) bool { return named[h.String()] })
}
