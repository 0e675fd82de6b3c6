package live

import (
	"context"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// job is a frame on its way to the disk, or the breach that came in its place: both are answered in
// the order in which they came.
type job struct {
	from   *conn
	frame  *changelog.Frame
	breach *syncproto.Breach
}

// commitChanges bounds what shares a commit, so that its readers are answered in good time.
const commitChanges = 10 * syncproto.MaxFrameChanges

// commit settles queued frames, as many at once as are waiting, until the queue is closed.
func (s *Server) commit() {
	for first := range s.queue {
		s.settle(s.waiting(first))
	}
}

// waiting takes what waits in the queue behind a job, up to the bound.
func (s *Server) waiting(first job) []job {
	jobs, changes := []job{first}, first.size()
	for changes < commitChanges {
		select {
		case next, open := <-s.queue:
			if !open {
				return jobs
			}
			jobs = append(jobs, next)
			changes += next.size()
		default:
			return jobs
		}
	}
	return jobs
}

func (j job) size() int {
	if j.frame == nil {
		return 0
	}
	return j.frame.Len()
}

// settle appends the frames of some jobs and answers each. What a conversation sent after it was
// refused is passed over.
func (s *Server) settle(jobs []job) {
	var frames []*changelog.Frame
	for _, j := range jobs {
		if j.frame != nil && !j.from.refused {
			frames = append(frames, j.frame)
		}
	}
	var results []changelog.Result
	if len(frames) > 0 {
		var err error
		if results, err = s.Log.Append(context.Background(), frames); err != nil {
			s.Logger.Error("pushed changes were not stored and not acknowledged", "error", err)
			results = make([]changelog.Result, len(frames))
			for i := range results {
				results[i].Breach = busy()
			}
		}
	}
	for _, j := range jobs {
		if j.from.refused {
			continue
		}
		result := changelog.Result{Breach: j.breach}
		if j.frame != nil {
			result, results = results[0], results[1:]
		}
		j.from.refused = result.Breach != nil
		j.from.results <- result // never waits: see conn.room
	}
	s.news.move(s.Log.Newest())
}

// busy is what a phone is told when the disk or the database fails. The cause is in the log.
func busy() *syncproto.Breach {
	return syncproto.Breachf(syncproto.CodeBusy, "The shed cannot store or read anything at the moment. What you recorded is safe on the phone, which tries again by itself.")
}
