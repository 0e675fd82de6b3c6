package main

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"corymb/server/about"
	"corymb/server/backup"
	"corymb/server/httpapi"
	"corymb/server/live"
	"corymb/server/store"
)

// backupHour is when a backup is made, by local time: nobody cuts then.
const backupHour = 3

// openBackups prepares the backups of a farm that is to be served, which tell its phones.
func openBackups(ctx context.Context, farm *store.Store, phones *live.Server, logger *slog.Logger) (*backup.Nightly, error) {
	return backup.Open(ctx, backup.Config{
		Farm: farm, Version: about.Version(), Hour: backupHour, Now: time.Now, Tell: phones.BackedUp, Logger: logger,
	})
}

// shedBackups tells pages of the backups.
type shedBackups struct{ *backup.Nightly }

func (b shedBackups) State() httpapi.BackupState {
	s := b.Nightly.State()
	state := httpapi.BackupState{Folder: s.Folder, On: s.On, Running: s.Running, Next: millis(s.Next), Files: []httpapi.BackupFile{}}
	if g := s.Good; g != nil {
		state.Good = &httpapi.GoodBackup{
			Made: millis(g.Made), Path: g.Path, Size: g.Size, Arrival: g.Arrival, There: s.There, Damaged: g.Damaged, LeftOut: append([]string{}, g.LeftOut...),
		}
	}
	if f := s.Failure; f != nil {
		state.Failure = &httpapi.BackupFailure{When: millis(f.When), Code: string(f.Code), Text: f.Text}
	}
	for _, k := range s.Kept {
		state.Files = append(state.Files, httpapi.BackupFile{File: k.File, Made: millis(k.Made), Size: k.Size})
	}
	return state
}

func (b shedBackups) MakeNow() error { return asChoosing(b.Nightly.MakeNow()) }

func (b shedBackups) Turn(on bool) error { return asChoosing(b.Nightly.Turn(on)) }

func asChoosing(err error) error {
	if errors.Is(err, backup.ErrNoFolder) {
		return httpapi.ErrNoBackupFolder
	}
	return err
}

// millis is a time as pages take it, 0 for none.
func millis(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}
