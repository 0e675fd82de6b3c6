package store

import "corymb/syncproto"

// The tables. The farm leads every key, so that many farms can share a database one day. Bytes of
// a change are never rewritten: settling, merging and restoring only ever add rows beside them.

// farmRow is one farm and its counters. Appending locks it.
type farmRow struct {
	ID          string `gorm:"primaryKey"`
	Epoch       string `gorm:"not null"`
	NextArrival int64  `gorm:"not null"`
	HighestL    int64  `gorm:"not null"` // highest order given
	HighestC    int64  `gorm:"not null"`
}

func (farmRow) TableName() string { return "farms" }

func (f farmRow) highest() syncproto.Stamp { return syncproto.Stamp{L: f.HighestL, C: f.HighestC} }

// changeRow is one kept change.
type changeRow struct {
	FarmID      string  `gorm:"primaryKey;column:farm;uniqueIndex:changes_identity,priority:1;index:changes_former,priority:1,where:former <> ''"`
	Arrival     int64   `gorm:"primaryKey;autoIncrement:false"`
	Incarnation string  `gorm:"not null;uniqueIndex:changes_identity,priority:2"`
	Seq         int64   `gorm:"not null;uniqueIndex:changes_identity,priority:3"`
	Scope       string  `gorm:"not null"`
	OrderL      int64   `gorm:"not null"`
	OrderC      int64   `gorm:"not null"`
	Former      string  `gorm:"not null;index:changes_former,priority:2"` // identity, or empty
	Bytes       []byte  `gorm:"not null"`                                 // canonical
	Farm        farmRow `gorm:"foreignKey:FarmID"`
}

func (changeRow) TableName() string { return "changes" }

// incarnationRow is how far the server is with one incarnation.
type incarnationRow struct {
	FarmID      string  `gorm:"primaryKey;column:farm"`
	Incarnation string  `gorm:"primaryKey"`
	Seq         int64   `gorm:"not null"` // highest settled
	Hash        []byte  `gorm:"not null"` // chain value after it
	StampL      int64   `gorm:"not null"` // its stamp
	StampC      int64   `gorm:"not null"`
	Device      string  `gorm:"not null"`
	Person      string  `gorm:"not null"`
	Seen        int64   `gorm:"not null"` // last hello, ms since 1970 UTC; 0 for none
	Unsent      int64   `gorm:"not null"` // what that hello said was not sent yet
	Farm        farmRow `gorm:"foreignKey:FarmID"`
}

func (incarnationRow) TableName() string { return "incarnations" }

// outcomeRow is a change that was settled without being kept: refused (Code and Text), or held
// already under another identity (HeldIncarnation and HeldSeq).
type outcomeRow struct {
	FarmID          string  `gorm:"primaryKey;column:farm"`
	Incarnation     string  `gorm:"primaryKey"`
	Seq             int64   `gorm:"primaryKey;autoIncrement:false"`
	Digest          []byte  `gorm:"not null"` // SHA-256 of the canonical bytes
	Code            string  `gorm:"not null"` // empty where held
	Text            string  `gorm:"not null"`
	HeldIncarnation string  `gorm:"not null"` // empty where refused
	HeldSeq         int64   `gorm:"not null"`
	Farm            farmRow `gorm:"foreignKey:FarmID"`
}

func (outcomeRow) TableName() string { return "outcomes" }

// slotRow is the merge state: the change that stands in a slot (see changelog.SlotKey). It is a
// projection of the log and can be made anew from it.
type slotRow struct {
	FarmID      string  `gorm:"primaryKey;column:farm"`
	Type        string  `gorm:"primaryKey"`
	ID          string  `gorm:"primaryKey"`
	Op          string  `gorm:"primaryKey"`
	Field       string  `gorm:"primaryKey"`
	Part        string  `gorm:"primaryKey"`
	EntryOp     string  `gorm:"not null"`
	Value       []byte  `gorm:"not null"` // canonical JSON
	Extra       []byte  `gorm:"not null"` // canonical JSON, empty for none
	OrderL      int64   `gorm:"not null"`
	OrderC      int64   `gorm:"not null"`
	Incarnation string  `gorm:"not null"`
	Seq         int64   `gorm:"not null"`
	Person      string  `gorm:"not null"`
	Farm        farmRow `gorm:"foreignKey:FarmID"`
}

func (slotRow) TableName() string { return "slots" }

// schemaRow says which version of these tables the database has. It is one row.
type schemaRow struct {
	ID      int `gorm:"primaryKey;autoIncrement:false"`
	Version int `gorm:"not null"`
}

func (schemaRow) TableName() string { return "schema" }
