package live

import (
	"context"
	"slices"

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
	pending := slices.DeleteFunc(jobs, func(j job) bool { return j.from.refused })
	for i, result := range s.resultsOf(pending) {
		from := pending[i].from
		if from.refused { // by an earlier frame of this very batch
			continue
		}
		from.refused = result.Breach != nil
		from.results <- result // never waits: see conn.room
	}
	s.news.move(s.Log.Newest())
}

// resultsOf gives each job its own result: those with a frame in one commit, the others at once.
func (s *Server) resultsOf(jobs []job) []changelog.Result {
	results := make([]changelog.Result, len(jobs))
	var frames []*changelog.Frame
	var jobOf []int // by frame
	broken := map[*conn]bool{}
	for i, j := range jobs {
		results[i].Breach = j.breach
		broken[j.from] = broken[j.from] || j.breach != nil
		if j.frame != nil && !broken[j.from] {
			frames, jobOf = append(frames, j.frame), append(jobOf, i)
		}
	}
	if len(frames) == 0 {
		return results
	}
	settled, err := s.Log.Append(context.Background(), frames)
	if err != nil {
		s.Logger.Error("pushed changes were not acknowledged", "error", err)
	}
	for k, i := range jobOf {
		if err != nil {
			results[i].Breach = busy()
		} else {
			results[i] = settled[k]
		}
	}
	return results
}

// busy is what a phone is told when the disk or the database fails. The cause is in the log.
func busy() *syncproto.Breach {
	return syncproto.Breachf(syncproto.CodeBusy, "The shed cannot store or read anything at the moment. What you recorded is safe on the phone, which tries again by itself.")
}
