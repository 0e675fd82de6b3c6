package simnet

import (
	"context"
	"fmt"
	"time"
)

// Line carries whole messages both ways, as a websocket does. Receive may wait for the next while
// Send sends.
type Line interface {
	Send(Message) error
	Receive() (Message, error)
	Close() error
}

// Drive holds one conversation over a line that was just opened, until the phone hangs up, the line
// breaks, done says that it is enough, or the context ends. It closes the line. The error is what
// broke the line or was wrong with a message; the phone has seen to it, and wants another line when
// Wants says so. Nobody else may touch the phone meanwhile; done may, to record something.
func Drive(ctx context.Context, p *Phone, line Line, now func() Moment, done func() bool) error {
	heard := make(chan Message)
	broken := make(chan error, 1)
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	go func() {
		for {
			m, err := line.Receive()
			if err != nil {
				broken <- err
				return
			}
			select {
			case heard <- m:
			case <-ctx.Done():
				return
			}
		}
	}()
	p.Connected(now())
	err := converse(ctx, p, line, now, done, heard, broken)
	if closed := line.Close(); err == nil && p.Online() {
		err = closed
	}
	if p.Online() {
		p.Lost(now())
	}
	return err
}

func converse(ctx context.Context, p *Phone, line Line, now func() Moment, done func() bool, heard <-chan Message, broken <-chan error) error {
	beat := time.NewTicker(time.Second)
	defer beat.Stop()
	for p.Online() && !done() {
		for m, ok := p.Say(); ok; m, ok = p.Say() {
			if err := line.Send(m); err != nil {
				return fmt.Errorf("sending to the shed: %w", err)
			}
		}
		select {
		case m := <-heard:
			if err := p.Hear(m, now()); err != nil {
				return fmt.Errorf("hearing the shed: %w", err)
			}
		case err := <-broken:
			return fmt.Errorf("waiting for the shed: %w", err)
		case <-beat.C:
			p.Tick(now())
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}
