package store

import "corymb/syncproto"

// The tables. A farm's number leads every key, so that many farms can share a database one day.
// Bytes of a change are never rewritten: settling, merging and restoring only ever add rows.

// farmRow is one farm and its counters. Appending locks it.
type farmRow struct {
	No          int64  `gorm:"primaryKey;autoIncrement:false"`
	ID          string `gorm:"not null;uniqueIndex:farms_id"`
	Epoch       string `gorm:"not null"`
	NextArrival int64  `gorm:"not null"`
	HighestL    int64  `gorm:"not null"` // highest order given
	HighestC    int64  `gorm:"not null"`
	Projected   int64  `gorm:"not null"`            // arrival up to which slots and passed are made
	Origin      string `gorm:"not null;default:''"` // that phones know the farm by; empty until it is settled
	// When the database was last found to be an older copy, ms since 1970 UTC, for as long as no owner has
	// looked at who may come since; else 0.
	Restored int64 `gorm:"not null;default:0"`
}

func (farmRow) TableName() string { return "farms" }

func (f farmRow) highest() syncproto.Stamp { return syncproto.Stamp{L: f.HighestL, C: f.HighestC} }

// lifeRow is one opening of the database for writing. A copy that is put back later lacks the lives
// after it, and goes on in one of its own: so a place in the log that was told in any of them is known
// for what it is.
type lifeRow struct {
	FarmNo int64   `gorm:"primaryKey;column:farm;autoIncrement:false;uniqueIndex:lives_id,priority:1"`
	No     int64   `gorm:"primaryKey;autoIncrement:false"` // in order of time
	Life   string  `gorm:"not null;uniqueIndex:lives_id,priority:2"`
	After  int64   `gorm:"not null"` // arrival number of the last change before it
	Farm   farmRow `gorm:"foreignKey:FarmNo"`
}

func (lifeRow) TableName() string { return "lives" }

// segmentRow is a run of kept changes of one incarnation whose seqs are consecutive, as are their
// arrival numbers. The index and the trigger keepApart are the last guard against keeping an identity
// twice.
type segmentRow struct {
	FarmNo      int64   `gorm:"primaryKey;column:farm;autoIncrement:false;uniqueIndex:segments_identity,priority:1"`
	First       int64   `gorm:"primaryKey;autoIncrement:false"` // arrival number of the first
	N           int64   `gorm:"not null"`
	Incarnation int64   `gorm:"not null;uniqueIndex:segments_identity,priority:2"` // its number
	FirstSeq    int64   `gorm:"not null;uniqueIndex:segments_identity,priority:3"`
	Scopes      int64   `gorm:"not null"` // bit i is set where a change is of syncproto.Scopes[i]
	Batch       []byte  `gorm:"not null"` // syncproto, packed alone, every order told
	Farm        farmRow `gorm:"foreignKey:FarmNo"`
}

func (segmentRow) TableName() string { return "segments" }

// formerRow finds a kept change by the identity that it names as its former one and by what it says.
// Many may name the same: each later count of a cell does.
type formerRow struct {
	FarmNo  int64   `gorm:"primaryKey;column:farm;autoIncrement:false"`
	Former  string  `gorm:"primaryKey"`
	Facts   []byte  `gorm:"primaryKey"` // SHA-256 of changelog.FactsOf
	Arrival int64   `gorm:"not null"`
	Farm    farmRow `gorm:"foreignKey:FarmNo"`
}

func (formerRow) TableName() string { return "formers" }

// incarnationRow is how far the server is with one incarnation.
type incarnationRow struct {
	FarmNo      int64   `gorm:"primaryKey;column:farm;autoIncrement:false;uniqueIndex:incarnations_id,priority:1"`
	No          int64   `gorm:"primaryKey;autoIncrement:false"`
	Incarnation string  `gorm:"not null;uniqueIndex:incarnations_id,priority:2"`
	Seq         int64   `gorm:"not null"` // highest settled
	Hash        []byte  `gorm:"not null"` // chain value after it
	StampL      int64   `gorm:"not null"` // its stamp
	StampC      int64   `gorm:"not null"`
	Staged      int64   `gorm:"not null"` // highest seq put aside, 0 for none
	StagedHash  []byte  `gorm:"not null"` // chain value after it, empty for none
	StagedBytes int64   `gorm:"not null"` // canonical, of all that is put aside
	Device      string  `gorm:"not null"`
	Person      string  `gorm:"not null"`
	Seen        int64   `gorm:"not null"` // last hello, ms since 1970 UTC; 0 for none
	Unsent      int64   `gorm:"not null"` // what that hello said was not sent yet
	Farm        farmRow `gorm:"foreignKey:FarmNo"`
}

func (incarnationRow) TableName() string { return "incarnations" }

// outcomeRow is a change that was settled without being kept: refused (Code and Text), or held
// already under another identity (HeldIncarnation and HeldSeq).
type outcomeRow struct {
	FarmNo          int64   `gorm:"primaryKey;column:farm;autoIncrement:false"`
	Incarnation     int64   `gorm:"primaryKey;autoIncrement:false"`
	Seq             int64   `gorm:"primaryKey;autoIncrement:false"`
	Digest          []byte  `gorm:"not null"` // SHA-256 of the canonical bytes
	Code            string  `gorm:"not null"` // empty where held
	Text            string  `gorm:"not null"`
	HeldIncarnation int64   `gorm:"not null"` // 0 where refused
	HeldSeq         int64   `gorm:"not null"`
	Farm            farmRow `gorm:"foreignKey:FarmNo"`
}

func (outcomeRow) TableName() string { return "outcomes" }

// stagedRow is a part of a large operation that is put aside until its last part has come.
type stagedRow struct {
	FarmNo      int64   `gorm:"primaryKey;column:farm;autoIncrement:false"`
	Incarnation int64   `gorm:"primaryKey;autoIncrement:false"`
	FirstSeq    int64   `gorm:"primaryKey;autoIncrement:false"`
	Batch       []byte  `gorm:"not null"` // packed alone, with the orders that it asks for
	Farm        farmRow `gorm:"foreignKey:FarmNo"`
}

func (stagedRow) TableName() string { return "staged" }

// slotRow says which change stands in a slot (see changelog.SlotKey). Slots and passed are a
// projection of the log, which they trail: they can be made anew from it.
type slotRow struct {
	FarmNo  int64 `gorm:"primaryKey;column:farm;autoIncrement:false"`
	Place   int64 `gorm:"primaryKey;autoIncrement:false"` // see placeOf
	Arrival int64 `gorm:"not null"`
}

func (slotRow) TableName() string { return "slots" }

// passedRow says which changes of a segment stand no longer.
type passedRow struct {
	FarmNo int64  `gorm:"primaryKey;column:farm;autoIncrement:false"`
	First  int64  `gorm:"primaryKey;autoIncrement:false"` // the segment's
	N      int64  `gorm:"not null"`                       // how many
	Bits   []byte `gorm:"not null"`                       // bit i%8 of byte i/8 is set for change i
}

func (passedRow) TableName() string { return "passed" }

// schemaRow says which version of these tables the database has. It is one row.
type schemaRow struct {
	ID      int `gorm:"primaryKey;autoIncrement:false"`
	Version int `gorm:"not null"`
}

func (schemaRow) TableName() string { return "schema" }
