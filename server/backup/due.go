package backup

import "time"

const (
	// settled is how long the shed must have been awake where it slept through the hour: who opens a
	// laptop has other things to do first.
	settled = 10 * time.Minute
	// lasts is how old the last good backup may then be.
	lasts = 24 * time.Hour
	// retryAfter is when a try that came to nothing is made again.
	retryAfter = time.Hour
	// retryFaultsAfter is when that is done where the database itself has faults: nothing will have changed.
	retryFaultsAfter = 24 * time.Hour
)

// due is when the next backup is to be made: at the hour, by local time, next after the last good one; or,
// where the shed was not awake then, once that is a day old and the shed was awake for a while. made is
// zero where there is no good one; retry is not before when to try again.
func due(hour int, made, awake, retry time.Time) time.Time {
	when := nextAt(hour, made)
	if when.Before(awake) {
		when = later(awake.Add(settled), made.Add(lasts))
	}
	return later(when, retry)
}

// nextAt is when it is next that hour.
func nextAt(hour int, after time.Time) time.Time {
	when := time.Date(after.Year(), after.Month(), after.Day(), hour, 0, 0, 0, after.Location())
	if !when.After(after) {
		when = time.Date(after.Year(), after.Month(), after.Day()+1, hour, 0, 0, 0, after.Location())
	}
	return when
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// retry is not before when a failure lets the next try be made.
func (f *Failure) retry() time.Time {
	switch {
	case f == nil:
		return time.Time{}
	case f.Code == CodeFaults:
		return f.When.Add(retryFaultsAfter)
	default:
		return f.When.Add(retryAfter)
	}
}
