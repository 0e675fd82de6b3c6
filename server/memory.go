package main

import (
	"context"
	"log/slog"
	"runtime"
	"runtime/debug"
	"time"
)

// A farm's laptop has other work too, so the server keeps little: it collects garbage sooner than
// programs usually do, which costs it a few hundredths of its time, and gives back at rest what it
// needed while it was busy.
const (
	gcPercent   = 50
	atRestAfter = 10 * time.Second
)

// giveBackMemory returns unused memory to the system whenever there was work and it is over. rest lets
// go of what the store holds for speed alone. It returns when the context ends.
func giveBackMemory(ctx context.Context, logger *slog.Logger, busy func() bool, rest func() error) {
	debug.SetGCPercent(gcPercent)
	var given uint32 // collections at the last time
	for {
		select {
		case <-time.After(atRestAfter):
		case <-ctx.Done():
			return
		}
		var now runtime.MemStats
		runtime.ReadMemStats(&now)
		if now.NumGC == given || busy() {
			continue
		}
		if err := rest(); err != nil {
			logger.Warn("the store could not do what waits for a quiet moment", "error", err)
		}
		trimC()
		runtime.GC()         // pools let go of what they hold at the second collection
		debug.FreeOSMemory() // which is that one
		given = now.NumGC + 2
	}
}
