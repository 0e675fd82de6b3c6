package live

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// commitChanges bounds what shares a commit, so that its readers are answered in good time.
const commitChanges = 10 * syncproto.MaxFrameChanges

// commitAll settles what is queued, as much at once as is waiting, until the queue is closed and empty.
func (s *Server) commitAll() {
	for !s.queue.isClosed() {
		<-s.queue.filled
		for s.Commit() {
		}
	}
	for s.Commit() { // what came between the last look and the closing
	}
}

// Commit settles the frames that wait, in one transaction unless they are very many, and answers
// each conversation. It returns false if none waited. Run calls it; where Run does not run, one
// goroutine may.
func (s *Server) Commit() bool {
	jobs := s.queue.take()
	if len(jobs) == 0 {
		return false
	}
	results := s.resultsOf(jobs)
	for i, j := range jobs {
		j.from.answer(j, results[i])
	}
	// Only now, when every answer was handed over, may news go as far: it cannot pass a phone's own
	// change before its acknowledgement.
	s.recent.extend(writtenIn(results), s.Log.Newest())
	return true
}

// resultsOf appends the frames of some jobs. What a conversation sent after it was refused is passed
// over; its result means nothing.
func (s *Server) resultsOf(jobs []job) []changelog.Result {
	results := make([]changelog.Result, len(jobs))
	asking := make([]job, 0, len(jobs))
	at := make([]int, 0, len(jobs)) // of those that ask
	for i, j := range jobs {
		if !j.from.refused() {
			asking, at = append(asking, j), append(at, i)
		}
	}
	if len(asking) == 0 {
		return results
	}
	settled, err := s.append(asking)
	if err != nil {
		s.Logger.Error("pushed changes could not be stored together; those of each phone are tried alone", "error", err)
		settled = s.appendApart(asking)
	}
	for k, i := range at {
		results[i] = settled[k]
	}
	return results
}

// writtenIn is what some results added to the log, in order of arrival.
func writtenIn(results []changelog.Result) []changelog.Segment {
	var written []changelog.Segment
	for _, r := range results {
		written = append(written, r.Written...)
	}
	slices.SortFunc(written, func(a, b changelog.Segment) int { return cmp.Compare(a.First, b.First) })
	return written
}

// busy is what a phone is told when the disk or the database fails. The cause is in the log.
func busy() *syncproto.Breach {
	return syncproto.Breachf(syncproto.CodeBusy, "The shed cannot store or read anything at the moment. What you recorded is safe on the phone, which tries again by itself.")
}

// Take settles frames that come from elsewhere than a phone, together with those of phones, so that
// connected phones hear of them. Where nothing can be stored now, the results say so, each with a
// breach. After an error it is open whether they are stored: the same frames may be taken again.
func (s *Server) Take(ctx context.Context, frames []*changelog.Frame) ([]changelog.Result, error) {
	t := &taking{of: len(frames), done: make(chan struct{})}
	if len(frames) == 0 {
		return nil, nil
	}
	for _, f := range frames {
		if err := s.queue.awaitRoom(ctx); err != nil {
			return nil, fmt.Errorf("taking frames in: %w", err)
		}
		if !s.queue.put(job{frame: f, from: t, weight: weightOf(f, 0)}) {
			return nil, errors.New("taking frames in: the shed is stopping; try again when it runs")
		}
	}
	select {
	case <-t.done:
		return t.results, nil
	case <-ctx.Done():
		return nil, fmt.Errorf("taking frames in: %w", ctx.Err())
	}
}

// taking gathers the results of Take.
type taking struct {
	of      int
	results []changelog.Result
	done    chan struct{} // closed when all results are there
}

func (t *taking) refused() bool { return false }

func (t *taking) answer(_ job, r changelog.Result) {
	t.results = append(t.results, r)
	if len(t.results) == t.of {
		close(t.done)
	}
}
