package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"corymb/internal/access"
)

// Who may come stands beside the log and not in it: it is of this farm's server alone, and is never sent
// to phones.

// Members lists who has a role.
func (s *Store) Members(ctx context.Context) ([]access.Member, error) {
	var rows []memberRow
	err := s.view.WithContext(ctx).Where("farm = ?", s.no).Order("person").Find(&rows).Error
	members := make([]access.Member, len(rows))
	for i, row := range rows {
		members[i] = access.Member{Person: row.Person, Name: row.Name, Role: access.Role(row.Role)}
	}
	return members, explain("reading who is on the farm", err)
}

// SetRole gives a member another role.
func (s *Store) SetRole(ctx context.Context, person string, role access.Role) error {
	return s.change(ctx, "changing a role", func(tx *gorm.DB) error {
		done := tx.Model(&memberRow{}).Where("farm = ? AND person = ?", s.no, person).Update("role", string(role))
		if done.Error != nil || done.RowsAffected == 0 {
			return errors.Join(done.Error, ifNone(done))
		}
		return errors.Join(s.forgetInvitations(tx), s.anOwnerIsLeft(tx))
	})
}

// forgetInvitations takes all back: whoever may no longer come may have made one for later.
func (s *Store) forgetInvitations(tx *gorm.DB) error {
	return tx.Where("farm = ?", s.no).Delete(&invitationRow{}).Error
}

// anOwnerIsLeft tells whether somebody could still let others join: an owner who has a device that may come.
func (s *Store) anOwnerIsLeft(tx *gorm.DB) error {
	var rows []deviceRow
	err := tx.Model(&deviceRow{}).Joins("JOIN members ON members.farm = devices.farm AND members.person = devices.person").
		Where("devices.farm = ? AND members.role = ?", s.no, string(access.Owner)).Find(&rows).Error
	if err != nil {
		return err
	}
	last, err := s.lastSeen(tx.Statement.Context)
	if err == nil && !slices.ContainsFunc(rows, func(r deviceRow) bool { return r.device(last).MayCome(s.now()) }) {
		return access.ErrLastOwner
	}
	return err
}

// Devices lists which devices joined, those that were withdrawn too, in the order of joining.
func (s *Store) Devices(ctx context.Context) ([]access.Device, error) {
	var rows []deviceRow
	err := s.view.WithContext(ctx).Where("farm = ?", s.no).Order("joined, device").Find(&rows).Error
	if err != nil {
		return nil, explain("reading which devices joined", err)
	}
	last, err := s.lastSeen(ctx)
	if err != nil {
		return nil, explain("reading when devices were seen", err)
	}
	devices := make([]access.Device, len(rows))
	for i, row := range rows {
		devices[i] = row.device(last)
	}
	return devices, nil
}

// DeviceOf finds the device whose token has a digest, and its person's role. ok is false where there is
// none. A device that may not come, or not any more, is found too.
func (s *Store) DeviceOf(ctx context.Context, token access.Digest) (d access.Device, grant access.Grant, ok bool, err error) {
	var row deviceRow
	found := s.view.WithContext(ctx).Where("farm = ? AND token = ?", s.no, token[:]).Limit(1).Find(&row)
	if found.Error != nil || found.RowsAffected == 0 {
		return d, grant, false, explain("looking for a device", found.Error)
	}
	last, err := s.lastSeen(ctx)
	if err != nil {
		return d, grant, false, explain("reading when a device was seen", err)
	}
	members, err := s.Members(ctx)
	grant.Person = row.Person
	for _, m := range members {
		if m.Person == row.Person {
			grant.Role = m.Role
		}
		if m.Role == access.Owner {
			grant.Owners = append(grant.Owners, m.Person)
		}
	}
	return row.device(last), grant, true, err
}

// Invite notes an invitation under the digest of its code. What is over is forgotten.
func (s *Store) Invite(ctx context.Context, invitation access.Invitation, code access.Digest) error {
	return s.change(ctx, "noting an invitation", func(tx *gorm.DB) error {
		from, to := access.InvitationsEnd(s.now())
		over := tx.Where("farm = ? AND (expires <= ? OR expires > ?)", s.no, from.UnixMilli(), to.UnixMilli())
		if err := over.Delete(&invitationRow{}).Error; err != nil {
			return err
		}
		return tx.Omit("Farm").Create(&invitationRow{
			FarmNo: s.no, ID: invitation.ID, Code: code[:], Person: invitation.Person, Name: invitation.Name,
			Role: string(invitation.Role), Expires: invitation.Expires.UnixMilli(),
		}).Error
	})
}

// Invitations lists those that can still be taken.
func (s *Store) Invitations(ctx context.Context) ([]access.Invitation, error) {
	var rows []invitationRow
	err := s.takeable(s.view.WithContext(ctx)).Order("expires, id").Find(&rows).Error
	invitations := make([]access.Invitation, len(rows))
	for i, row := range rows {
		invitations[i] = row.invitation()
	}
	return invitations, explain("reading the invitations", err)
}

// takeable keeps the invitations that can be taken now.
func (s *Store) takeable(of *gorm.DB) *gorm.DB {
	from, to := access.InvitationsEnd(s.now())
	return of.Where("farm = ? AND expires > ? AND expires <= ?", s.no, from.UnixMilli(), to.UnixMilli())
}

// Uninvite takes an invitation back.
func (s *Store) Uninvite(ctx context.Context, id string) error {
	return s.change(ctx, "taking an invitation back", func(tx *gorm.DB) error {
		done := tx.Where("farm = ? AND id = ?", s.no, id).Delete(&invitationRow{})
		return errors.Join(done.Error, ifNone(done))
	})
}

// Redeem takes an invitation, which is gone with it: no other can take it at the same time. ok is false
// where there is none under the code, or no longer.
func (s *Store) Redeem(ctx context.Context, code access.Digest) (invitation access.Invitation, ok bool, err error) {
	var taken []invitationRow
	err = s.change(ctx, "taking an invitation", func(tx *gorm.DB) error {
		return s.takeable(tx.Clauses(clause.Returning{})).Where("code = ?", code[:]).Delete(&taken).Error
	})
	if err != nil || len(taken) == 0 {
		return invitation, false, err
	}
	return taken[0].invitation(), true, nil
}

// Admit lets a device come for a member under a new token. Who is a member already keeps the role. held is
// the digest of the token that it brought. A device is not replaced by whoever knows its id: false says so.
// It is access.ErrLastOwner where the last owner would give the last device away.
func (s *Store) Admit(ctx context.Context, member access.Member, device access.Device, token, held access.Digest) (admitted bool, err error) {
	err = s.change(ctx, "letting a device join", func(tx *gorm.DB) error {
		var before deviceRow
		known := tx.Where("farm = ? AND device = ?", s.no, device.ID).Limit(1).Find(&before)
		if known.Error != nil {
			return known.Error
		}
		if known.RowsAffected > 0 && string(before.Token) != string(held[:]) {
			return nil
		}
		admitted = true
		err := errors.Join(
			tx.Clauses(clause.OnConflict{DoNothing: true}).Omit("Farm").Create(&memberRow{
				FarmNo: s.no, Person: member.Person, Name: member.Name, Role: string(member.Role),
			}).Error,
			tx.Clauses(clause.OnConflict{UpdateAll: true}).Omit("Farm").Create(&deviceRow{
				FarmNo: s.no, Device: device.ID, Person: member.Person, Label: device.Label, Token: token[:],
				Joined: device.Joined.UnixMilli(),
			}).Error)
		if err == nil && known.RowsAffected > 0 && before.Withdrawn == 0 {
			err = s.anOwnerIsLeft(tx)
		}
		return err
	})
	return admitted && err == nil, err
}

// Withdraw lets a device come no longer. The last device of the last owner stays.
func (s *Store) Withdraw(ctx context.Context, device string, at time.Time) error {
	return s.change(ctx, "withdrawing a device", func(tx *gorm.DB) error {
		done := tx.Model(&deviceRow{}).Where("farm = ? AND device = ? AND withdrawn = 0", s.no, device).Update("withdrawn", at.UnixMilli())
		if done.Error != nil || done.RowsAffected == 0 {
			return errors.Join(done.Error, ifNone(done))
		}
		return errors.Join(s.forgetInvitations(tx), s.anOwnerIsLeft(tx))
	})
}

// WithdrawPerson lets none of a person's devices come any longer, and tells which could until now.
func (s *Store) WithdrawPerson(ctx context.Context, person string, at time.Time) (devices []string, err error) {
	var gone []deviceRow
	err = s.change(ctx, "withdrawing a person", func(tx *gorm.DB) error {
		done := tx.Model(&gone).Clauses(clause.Returning{}).Where("farm = ? AND person = ? AND withdrawn = 0", s.no, person).Update("withdrawn", at.UnixMilli())
		if done.Error != nil || done.RowsAffected == 0 {
			return errors.Join(done.Error, ifNone(done))
		}
		return errors.Join(s.forgetInvitations(tx), s.anOwnerIsLeft(tx))
	})
	if err != nil {
		return nil, err
	}
	for _, row := range gone {
		devices = append(devices, row.Device)
	}
	return devices, nil
}

// RestoredUnseen tells when the database was last found to be an older copy: devices that were withdrawn
// after it was made may come again. It is the zero time where it never was, or an owner has looked since.
func (s *Store) RestoredUnseen(ctx context.Context) (time.Time, error) {
	var farm farmRow
	err := s.view.WithContext(ctx).Select("restored").Where("no = ?", s.no).Take(&farm).Error
	return timeOf(farm.Restored), explain("reading whether an older copy was put back", err)
}

// RestoredSeen notes that an owner has looked at who may come.
func (s *Store) RestoredSeen(ctx context.Context) error {
	return s.change(ctx, "noting that an owner has looked at who may come", func(tx *gorm.DB) error {
		return tx.Model(&farmRow{}).Where("no = ?", s.no).Update("restored", 0).Error
	})
}

// change runs a transaction that is not of the log.
func (s *Store) change(ctx context.Context, doing string, work func(tx *gorm.DB) error) error {
	err := s.orm.WithContext(ctx).Transaction(work)
	if errors.Is(err, access.ErrLastOwner) || errors.Is(err, access.ErrNone) {
		return fmt.Errorf("%s: %w", doing, err)
	}
	return explain(doing, err)
}

func ifNone(done *gorm.DB) error {
	if done.RowsAffected == 0 {
		return access.ErrNone
	}
	return nil
}

func timeOf(ms int64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(ms)
}
