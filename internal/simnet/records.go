package simnet

import (
	"maps"
	"slices"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// Records is all that a phone keeps: what a crash leaves.
type Records struct {
	Device      string
	Farm        string   // empty before the first welcome
	Incarnation string   // under which it records now
	Formers     []string // incarnations before that, the newest first
	Clock       changelog.Clock
	Logs        map[string]Log // by incarnation
	// Epoch is that of the last shed which welcomed the phone itself.
	Epoch string
	// Own is where that shed's log stood when it last told what became of the phone's own changes.
	Own string
	// Fill lists former incarnations whose settled changes a restored shed may lack.
	Fill []string

	Reading Reading  // what is shown
	Staging *Reading // a reading anew, which takes the other's place when it is complete
}

// Reading is confirmed history, and how far it goes.
type Reading struct {
	Cursor *syncproto.Cursor // nil where it must be read from the start
	Told   []Told
}

// cursor is what the phone tells of how far it is, nil where it reads from the start.
func (r *Records) cursor() *syncproto.Cursor {
	reading := r.reading()
	if reading.Cursor == nil {
		return nil
	}
	cursor := *reading.Cursor
	cursor.Own = r.Own
	return &cursor
}

// Told is a change with the order that the shed gave it.
type Told struct {
	Change syncproto.Change
	Order  syncproto.Stamp
}

// copy is a copy that shares nothing which either side may still alter.
func (r Records) copy() Records {
	r.Formers, r.Fill = slices.Clone(r.Formers), slices.Clone(r.Fill)
	r.Logs = maps.Clone(r.Logs)
	for incarnation, log := range r.Logs {
		log.Operations = slices.Clone(log.Operations)
		r.Logs[incarnation] = log
	}
	r.Reading = r.Reading.copy()
	if r.Staging != nil {
		staging := r.Staging.copy()
		r.Staging = &staging
	}
	return r
}

func (r Reading) copy() Reading {
	r.Told = slices.Clip(r.Told) // the next append makes an array of its own
	if r.Cursor != nil {
		cursor := *r.Cursor
		r.Cursor = &cursor
	}
	return r
}

// current is the log of the incarnation under which the phone records.
func (r *Records) current() Log { return r.Logs[r.Incarnation] }

// reading is the one that news goes into, which is also the one that a hello tells of.
func (r *Records) reading() *Reading {
	if r.Staging != nil {
		return r.Staging
	}
	return &r.Reading
}

// begin makes the records of a phone that has none.
func (r *Records) begin(device, incarnation string) {
	*r = Records{Device: device, Incarnation: incarnation, Logs: map[string]Log{incarnation: {Incarnation: incarnation}}}
}

// join takes the farm's id in. Only with it the chain is known.
func (r *Records) join(farm string) {
	if r.Farm != "" {
		return
	}
	r.Farm = farm
	for incarnation, log := range r.Logs {
		operations := log.Operations
		log.Operations = nil
		for _, o := range operations {
			log = log.with(farm, o)
		}
		r.Logs[incarnation] = log
	}
}
