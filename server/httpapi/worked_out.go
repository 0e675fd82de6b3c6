package httpapi

import (
	"context"
	"fmt"
	"sync"
)

// workedOut is an answer that takes long to find. It is worked out one at a time: whoever asks meanwhile waits for it.
type workedOut[A any] struct {
	// run finds it; before is the last that was found, at first what before gives.
	run func(before *A) (A, error)
	// before is what an earlier run of the program kept; nil for nothing.
	before func() *A

	mu    sync.Mutex
	last  *working[A]
	found *A
}

// working is one run, under way until done is closed. Its other fields are for reading after that.
type working[A any] struct {
	done   chan struct{}
	answer A
	err    error
}

// get is an answer that knows enough: the run under way or the last one where that does, else a new one. It ends with
// the context; the run goes on for the next who asks.
func (w *workedOut[A]) get(ctx context.Context, knowsEnough func(A) bool) (none A, err error) {
	for {
		run := w.current(knowsEnough)
		select {
		case <-run.done:
		case <-ctx.Done():
			return none, ctx.Err()
		}
		if run.err != nil || knowsEnough(run.answer) {
			return run.answer, run.err
		}
	}
}

func (w *workedOut[A]) current(knowsEnough func(A) bool) *working[A] {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.last != nil {
		select {
		case <-w.last.done:
			if w.last.err == nil && knowsEnough(w.last.answer) {
				return w.last
			}
		default:
			return w.last
		}
	}
	next := &working[A]{done: make(chan struct{})}
	w.last = next
	go w.work(next, w.found)
	return next
}

// work outlives the request that asked for it first.
func (w *workedOut[A]) work(run *working[A], before *A) {
	defer close(run.done)
	defer func() {
		if cause := recover(); cause != nil {
			run.err = fmt.Errorf("the fit broke off: %v", cause)
		}
	}()
	if before == nil {
		before = w.before()
	}
	run.answer, run.err = w.run(before)
	if run.err == nil {
		w.mu.Lock()
		w.found = &run.answer
		w.mu.Unlock()
	}
}

// Kept keeps answers that take long to find from one run of the program to the next.
type Kept interface {
	// Read tells false where there is none that can be trusted.
	Read(name string, into any) bool
	Write(name string, answer any) error
}

func (config Config) readKept(name string, into any) bool {
	return config.Kept != nil && config.Kept.Read(name, into)
}

// keepAnswer tells of a failure where the server's faults are told: the answer is given all the same.
func (config Config) keepAnswer(name string, answer any) {
	if config.Kept == nil {
		return
	}
	if err := config.Kept.Write(name, answer); err != nil {
		config.Logger.Warn("an answer could not be kept; it is worked out again after a restart", "error", err)
	}
}
