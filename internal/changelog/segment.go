package changelog

import "corymb/syncproto"

// Segment is a run of kept changes of one incarnation with consecutive seqs, as the log holds it.
// Arrival numbers are consecutive in it too.
type Segment struct {
	Incarnation string
	First       int64              // arrival number of its first change
	Arrival     int64              // of its last
	Last        syncproto.Identity // of that change
	Scopes      []syncproto.Scope  // those of its changes, in canonical order
	Batch       []byte             // packed alone, every order told
}

// Result is what became of a frame: settled or put aside, or refused as a whole.
type Result struct {
	Ack    syncproto.Ack
	Breach *syncproto.Breach // nothing of the frame was stored; Ack is empty
	// Written is what the frame added to the log. Frames of one incarnation may share a segment,
	// which the last of them names then; over the results of a commit arrivals have no gap.
	Written []Segment
}

// Asked is what a phone wants to know when it comes.
type Asked struct {
	Incarnation string
	Settled     int64             // it knows what became of its changes up to this seq
	Cursor      *syncproto.Cursor // how far it has read; nil for nothing
	Scopes      []syncproto.Scope // what it may read
}

// Standing is how far a server is with one incarnation, all of it at one moment.
type Standing struct {
	Seq        int64 // highest settled, 0 for none
	Hash       syncproto.Hash
	Stamp      syncproto.Stamp // of that change
	Staged     int64           // highest seq put aside, 0 for none
	StagedHash syncproto.Hash  // chain value after it
	Device     string          // that writes under it; empty for none yet

	// What became of the changes after Asked.Settled up to Told, as in an acknowledgement. Told is
	// Seq unless there are very many.
	Told    int64
	Orders  []syncproto.SeqOrder
	Held    []int64
	Refused []syncproto.Refusal

	Newest int64 // the farm's newest arrival number
	Holds  bool  // the cursor that was asked about holds
}

// IsAnothers tells whether another device than this one writes under the incarnation.
func (s Standing) IsAnothers(device string) bool {
	return device != "" && s.Device != "" && device != s.Device && (s.Seq > 0 || s.Staged > 0)
}

// Tail is a stretch of the log in order of arrival.
type Tail struct {
	// Batch holds the changes of the scopes that were asked for that still stand, each with its
	// order.
	Batch   syncproto.Batch
	Arrival int64              // of the last change passed, whatever became of it
	Last    syncproto.Identity // that change's
}
