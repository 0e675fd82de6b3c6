package syncproto

import (
	"encoding/json"
	"fmt"
)

// Version is the protocol version that this code speaks.
const Version = 1

// Kinds of text message, the "t" of each.
const (
	TypeHello   = "hello"
	TypeWelcome = "welcome"
	TypeRefuse  = "refuse"
	TypeAck     = "ack"
	TypePing    = "ping"
	TypePong    = "pong"
	TypeBackup  = "backup"
)

// Kinds of binary message, the first byte of each.
const (
	KindPush = 1
	KindNews = 2
)

// Hello is the phone's first message.
type Hello struct {
	T           string  `json:"t"`
	Versions    []int   `json:"versions"` // every protocol version the phone speaks
	Farm        string  `json:"farm"`     // empty when the phone has none yet
	Person      string  `json:"person"`
	Device      string  `json:"device"`      // UUID
	Incarnation string  `json:"incarnation"` // UUID
	Settled     int64   `json:"settled"`     // highest seq that the phone knows to be settled
	Unsent      int     `json:"unsent"`      // changes that the phone holds beyond
	News        bool    `json:"news"`        // false: it only fills in what is missing, and wants no news
	Cursor      *Cursor `json:"cursor"`      // null for a fresh start
}

// Cursor is how far a phone has read. All four parts must still be true at the server, or the
// phone starts anew.
type Cursor struct {
	Epoch   string  `json:"epoch"`   // of the server's database: new after a restore
	Scopes  []Scope `json:"scopes"`  // what the pulls delivered
	Arrival int64   `json:"arrival"` // number of the last change read; 0 before the first
	Last    string  `json:"last"`    // as the last news told it; empty at 0
	// Own is where the log stood when the phone last heard what became of its own changes: the arrival
	// of that ack or welcome, a slash, and the life that the welcome named. Empty for never.
	Own string `json:"own,omitempty"`
}

// Welcome answers a hello that may go on. Orders, Held and Refused tell, as an Ack does, what became
// of the changes above the hello's Settled, up to Known; those beyond are pushed again to hear it.
type Welcome struct {
	T          string     `json:"t"`
	Version    int        `json:"version"`
	Farm       string     `json:"farm"`
	Epoch      string     `json:"epoch"`
	Scopes     []Scope    `json:"scopes"`
	Clock      int64      `json:"clock"`          // the server's wall clock, ms since 1970 UTC
	Seq        int64      `json:"seq"`            // highest settled seq of this incarnation, 0 for none
	Hash       string     `json:"hash"`           // chain value after that seq
	Staged     int64      `json:"staged"`         // highest seq put aside of a large operation, 0 for none
	StagedHash string     `json:"staged_hash"`    // chain value after that seq, or empty
	Told       int64      `json:"told,omitempty"` // seq up to which the lists tell all; left out where that is Seq
	Orders     []SeqOrder `json:"orders"`
	Held       []int64    `json:"held"`
	Refused    []Refusal  `json:"refused"`
	Arrival    int64      `json:"arrival"`             // the farm's newest arrival number
	Life       string     `json:"life,omitempty"`      // of the log, from this opening of the database to the next
	BackedUp   int64      `json:"backed_up,omitempty"` // as a Backup's Arrival
	Resume     bool       `json:"resume"`              // false: the cursor does not hold, everything comes from the start
}

// Known is the seq up to which the phone knows what became of its changes, if it knew that up to
// settled before.
func (w Welcome) Known(settled int64) int64 {
	if w.Told == 0 {
		return w.Seq
	}
	return min(w.Seq, max(w.Told, settled))
}

// Refuse ends a conversation; the phone keeps its log and shows what to do.
type Refuse struct {
	T    string `json:"t"`
	Code Code   `json:"code"`
	Text string `json:"text"` // for the log; the phone words its own sentence from the code
}

// Code says why a conversation or a change was refused.
type Code string

// Codes of Refuse.
const (
	CodeVersion   Code = "version"   // no protocol version in common
	CodeFarm      Code = "farm"      // this server keeps another farm
	CodeMalformed Code = "malformed" // not a message, or a change of the wrong shape
	CodeTooLarge  Code = "too_large" // frame over its limits
	CodeGap       Code = "gap"       // seq does not follow the last settled one
	CodeReused    Code = "reused"    // a settled seq came with other bytes
	CodeSplit     Code = "split"     // a frame ends inside an operation that fits a frame
	CodeBusy      Code = "busy"      // the store cannot take anything now
	CodeJoin      Code = "join"      // this device has not joined the farm
	CodeWithdrawn Code = "withdrawn" // this device was withdrawn by an owner
)

// Codes of Refusal.
const (
	CodeScope    Code = "scope"     // this person may not write what is of that scope
	CodeRole     Code = "role"      // nor what this person's role does not cover
	CodeCount    Code = "count"     // a count is negative or above what one visit can hold
	CodeDate     Code = "date"      // a date that does not exist, or lies in the future
	CodeValue    Code = "value"     // a value of the wrong kind for its field
	CodeTogether Code = "operation" // another change of the same operation was refused
)

// Refusal is one change that was settled by not keeping it.
type Refusal struct {
	Seq  int64  `json:"seq"`
	Code Code   `json:"code"`
	Text string `json:"text"`
}

// SeqOrder is the order that the server gave to a change; it travels as [seq,l,c].
type SeqOrder struct {
	Seq   int64
	Order Stamp
}

// MarshalJSON writes [seq,l,c].
func (o SeqOrder) MarshalJSON() ([]byte, error) {
	return json.Marshal([3]int64{o.Seq, o.Order.L, o.Order.C})
}

// UnmarshalJSON reads [seq,l,c].
func (o *SeqOrder) UnmarshalJSON(data []byte) error {
	n, err := numbers(data, 3)
	if err != nil {
		return fmt.Errorf("reading an order: %w", err)
	}
	*o = SeqOrder{Seq: n[0], Order: Stamp{L: n[1], C: n[2]}}
	return nil
}

// Ack is sent after the changes are on disk, never before. What is settled and named in none of its
// lists was kept under its stamp as order.
type Ack struct {
	T       string     `json:"t"`
	Seq     int64      `json:"seq"`              // everything up to here is settled
	Staged  int64      `json:"staged,omitempty"` // highest seq put aside of a large operation
	Orders  []SeqOrder `json:"orders,omitempty"` // orders that are not the change's stamp
	Held    []int64    `json:"held,omitempty"`   // held already under another identity
	Refused []Refusal  `json:"refused,omitempty"`
	Arrival int64      `json:"arrival,omitempty"` // the farm's newest arrival number after it
}

func numbers(data []byte, want int) ([]int64, error) {
	var n []int64
	if err := json.Unmarshal(data, &n); err != nil {
		return nil, err
	}
	if len(n) != want {
		return nil, fmt.Errorf("it has %d numbers, want %d", len(n), want)
	}
	return n, nil
}

// Ping asks whether the line still stands; Pong answers. Browsers cannot see websocket pings.
type Ping struct {
	T string `json:"t"`
}

// Pong answers a ping with the server's wall clock.
type Pong struct {
	T     string `json:"t"`
	Clock int64  `json:"clock"`
}

// Backup tells how much of the farm's log, in the epoch of the welcome, a good backup holds now. It takes
// the place of what was told before, also where it is less.
type Backup struct {
	T       string `json:"t"`
	Arrival int64  `json:"arrival"` // of the last change in it; 0 where there is none
}

// TypeOf reads a message's "t".
func TypeOf(data []byte) (string, error) {
	var m struct {
		T string `json:"t"`
	}
	if err := json.Unmarshal(data, &m); err != nil {
		return "", fmt.Errorf("reading a message: %w", err)
	}
	return m.T, nil
}
