package main

import (
	"errors"
	"fmt"
	"io"
	"sync"
	"sync/atomic"
	"time"
)

// step is one command of the check; what it says goes to log.
type step struct {
	name string
	do   func(log io.Writer) error
}

// sideBySide runs lanes at the same time, the steps of each one after the other. After a failure no step begins, and
// those that run go to their end.
func sideBySide(to io.Writer, lanes ...[]step) error {
	told := &outputs{to: to}
	errs := make([]error, len(lanes))
	var failed atomic.Bool
	var running sync.WaitGroup
	for i, lane := range lanes {
		logs := make([]*output, len(lane))
		for k := range lane {
			logs[k] = told.add()
		}
		running.Go(func() {
			for k, one := range lane {
				if !failed.Load() {
					errs[i] = errors.Join(errs[i], one.run(logs[k]))
				}
				if errs[i] != nil {
					failed.Store(true)
				}
				logs[k].end()
			}
		})
	}
	running.Wait()
	return errors.Join(errs...)
}

func (s step) run(log io.Writer) error {
	start := time.Now()
	fmt.Fprintf(log, "== %s\n", s.name)
	if err := s.do(log); err != nil {
		return fmt.Errorf("%s: %w", s.name, err)
	}
	fmt.Fprintf(log, "== %s: %.0f s\n", s.name, time.Since(start).Seconds())
	return nil
}

// outputs tells what several say at the same time as if they had spoken one after the other: the first at once, the
// others once all before them have ended.
type outputs struct {
	mu    sync.Mutex
	to    io.Writer
	still []*output
}

// output is one of them.
type output struct {
	of    *outputs
	waits []byte
	ended bool
}

// add appends one that has not ended.
func (o *outputs) add() *output {
	one := &output{of: o}
	o.still = append(o.still, one)
	return one
}

func (o *output) Write(said []byte) (int, error) {
	o.of.mu.Lock()
	defer o.of.mu.Unlock()
	if o.of.still[0] == o {
		return o.of.to.Write(said)
	}
	o.waits = append(o.waits, said...)
	return len(said), nil
}

// end lets the next speak.
func (o *output) end() {
	o.of.mu.Lock()
	defer o.of.mu.Unlock()
	o.ended = true
	for len(o.of.still) > 0 && o.of.still[0].ended {
		o.of.still = o.of.still[1:]
		if len(o.of.still) > 0 {
			next := o.of.still[0]
			o.of.to.Write(next.waits)
			next.waits = nil
		}
	}
}
