package store

import "corymb/internal/access"

// memberRow is a person with a role.
type memberRow struct {
	FarmNo int64   `gorm:"primaryKey;column:farm;autoIncrement:false"`
	Person string  `gorm:"primaryKey"`
	Name   string  `gorm:"not null"`
	Role   string  `gorm:"not null"`
	Farm   farmRow `gorm:"foreignKey:FarmNo"`
}

func (memberRow) TableName() string { return "members" }

// deviceRow is a device that joined. Its token is known by its digest alone.
type deviceRow struct {
	FarmNo    int64   `gorm:"primaryKey;column:farm;autoIncrement:false;uniqueIndex:devices_token,priority:1"`
	Device    string  `gorm:"primaryKey"`
	Person    string  `gorm:"not null"`
	Label     string  `gorm:"not null"`
	Token     []byte  `gorm:"not null;uniqueIndex:devices_token,priority:2"`
	Joined    int64   `gorm:"not null"` // ms since 1970 UTC
	Withdrawn int64   `gorm:"not null"` // the same; 0 while it may come
	Farm      farmRow `gorm:"foreignKey:FarmNo"`
}

func (deviceRow) TableName() string { return "devices" }

// device is what a row says, and what was seen of it last.
func (r deviceRow) device(last map[string]sighting) access.Device {
	d := access.Device{ID: r.Device, Person: r.Person, Label: r.Label, Joined: timeOf(r.Joined), Withdrawn: timeOf(r.Withdrawn)}
	if seen, ok := last[r.Device]; ok {
		d.Seen, d.Unsent = timeOf(seen.at), seen.Unsent
	}
	return d
}

// invitationRow is an invitation that was not taken yet.
type invitationRow struct {
	FarmNo  int64   `gorm:"primaryKey;column:farm;autoIncrement:false;uniqueIndex:invitations_code,priority:1"`
	ID      string  `gorm:"primaryKey"`
	Code    []byte  `gorm:"not null;uniqueIndex:invitations_code,priority:2"` // digest
	Person  string  `gorm:"not null"`
	Name    string  `gorm:"not null"`
	Role    string  `gorm:"not null"`
	Expires int64   `gorm:"not null"` // ms since 1970 UTC
	Farm    farmRow `gorm:"foreignKey:FarmNo"`
}

func (invitationRow) TableName() string { return "invitations" }

func (r invitationRow) invitation() access.Invitation {
	return access.Invitation{ID: r.ID, Person: r.Person, Name: r.Name, Role: access.Role(r.Role), Expires: timeOf(r.Expires)}
}
