package main

import (
	"context"
	"fmt"

	"corymb/internal/changelog"
	"corymb/server/store"
	"corymb/syncproto"
)

// appendOperations pushes whole operations of one incarnation through the door that a phone's come
// by, as few frames as hold them. An operation that is refused ends it with the reason.
func appendOperations(ctx context.Context, farm *store.Store, incarnation string, operations [][]syncproto.Change) error {
	for _, changes := range framesOf(operations) {
		frame, err := changelog.NewFrame(incarnation, syncproto.Scopes, syncproto.Push{T: syncproto.TypePush, Changes: changes})
		if err != nil {
			return fmt.Errorf("framing changes: %w", err)
		}
		results, err := farm.Append(ctx, []*changelog.Frame{frame})
		if err != nil {
			return err
		}
		if breach := results[0].Breach; breach != nil {
			return fmt.Errorf("storing changes: %w", breach)
		}
		if refused := results[0].Ack.Refused; len(refused) > 0 {
			return fmt.Errorf("storing changes: %d were refused, the first because %s", len(refused), refused[0].Text)
		}
	}
	return nil
}

func framesOf(operations [][]syncproto.Change) [][]syncproto.Change {
	var frames [][]syncproto.Change
	var frame []syncproto.Change
	for _, op := range operations {
		if len(frame)+len(op) > syncproto.MaxFrameChanges {
			frames = append(frames, frame)
			frame = nil
		}
		frame = append(frame, op...)
	}
	if len(frame) > 0 {
		frames = append(frames, frame)
	}
	return frames
}
