package live

import (
	"context"

	"corymb/internal/changelog"
)

// mostFailures is how many conversations in a row must fail before the others of a commit are not
// tried any more. What is damaged of one phone fails that phone alone, and seldom do two such come one
// behind the other; a full or broken disk fails them all, and each failure may take seconds.
const mostFailures = 2

// append appends the frames of some jobs in one transaction. On an error the conversations know what
// they knew before it.
func (s *Server) append(jobs []job) ([]changelog.Result, error) {
	frames := make([]*changelog.Frame, len(jobs))
	known := map[*changelog.Conversation]changelog.Conversation{}
	for i, j := range jobs {
		frames[i] = j.frame
		if c := j.frame.Conversation; c != nil {
			known[c] = *c
		}
	}
	settled, err := s.Log.Append(context.Background(), frames)
	if err != nil {
		for c, was := range known {
			*c = was
		}
	}
	return settled, err
}

// appendApart appends the frames of some jobs that failed together, those of each conversation in a
// transaction of their own, so that only the conversation that is the cause is told busy.
func (s *Server) appendApart(jobs []job) []changelog.Result {
	results := make([]changelog.Result, len(jobs))
	conversations := bySender(jobs)
	failed := 0 // in a row
	if len(conversations) == 1 {
		failed = mostFailures // it was tried alone already
	}
	for _, at := range conversations {
		settled, ok := []changelog.Result(nil), false
		if failed < mostFailures {
			settled, ok = s.appendAlone(jobs, at)
			failed++
		}
		if ok {
			failed = 0
		}
		for k, i := range at {
			if ok {
				results[i] = settled[k]
			} else {
				results[i].Breach = busy()
			}
		}
	}
	return results
}

func (s *Server) appendAlone(jobs []job, at []int) (settled []changelog.Result, ok bool) {
	alone := make([]job, len(at))
	for k, i := range at {
		alone[k] = jobs[i]
	}
	settled, err := s.append(alone)
	if err != nil {
		s.Logger.Error("what a phone pushed was not stored", "incarnation", alone[0].frame.Incarnation, "error", err)
	}
	return settled, err == nil
}

// bySender lists where the jobs of each sender are, in their order.
func bySender(jobs []job) [][]int {
	var at [][]int
	of := map[sender]int{}
	for i, j := range jobs {
		k, ok := of[j.from]
		if !ok {
			k = len(at)
			of[j.from], at = k, append(at, nil)
		}
		at[k] = append(at[k], i)
	}
	return at
}
