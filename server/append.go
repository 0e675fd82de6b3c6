package main

import (
	"context"
	"fmt"
	"io"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// pusher pushes whole operations of one incarnation through the door that a phone's come by, in as
// few frames as hold them.
type pusher struct {
	farm        *store.Store
	incarnation string
	progress    io.Writer // told now and then; nil for nobody
	waiting     []syncproto.Change
	pushed      int
}

// tellEvery is how many changes pass between two words of progress.
const tellEvery = 50 * syncproto.MaxFrameChanges

// add takes an operation, and pushes what waits if the frame is full. An operation that is refused
// is an error with the reason.
func (p *pusher) add(ctx context.Context, operation []syncproto.Change) error {
	if len(p.waiting)+len(operation) > syncproto.MaxFrameChanges {
		if err := p.flush(ctx); err != nil {
			return err
		}
	}
	p.waiting = append(p.waiting, operation...)
	return nil
}

// flush pushes what waits. Call it last.
func (p *pusher) flush(ctx context.Context) error {
	for _, changes := range changelog.InFrames(p.waiting) {
		if err := p.push(ctx, changes); err != nil {
			return err
		}
	}
	p.waiting = nil
	return nil
}

func (p *pusher) push(ctx context.Context, changes []syncproto.Change) error {
	frame, err := changelog.NewFrame(p.incarnation, changelog.Within(syncproto.Scopes), syncproto.Batch{Changes: changes})
	if err != nil {
		return fmt.Errorf("framing changes: %w", err)
	}
	frame.Device = changelog.DeviceShed
	results, err := p.farm.Append(ctx, []*changelog.Frame{frame})
	if err != nil {
		return err
	}
	if breach := results[0].Breach; breach != nil {
		return fmt.Errorf("storing changes: %w", breach)
	}
	if refused := results[0].Ack.Refused; len(refused) > 0 {
		return fmt.Errorf("storing changes: %d were refused, the first because %s", len(refused), refused[0].Text)
	}
	before := p.pushed
	p.pushed += len(changes)
	if p.progress != nil && p.pushed/tellEvery > before/tellEvery {
		fmt.Fprintf(p.progress, "%d changes stored …\n", p.pushed)
	}
	return nil
}
