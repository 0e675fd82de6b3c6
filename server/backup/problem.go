package backup

import (
	"errors"
	"fmt"
	"io/fs"

	"corymb/server/disk"
)

// Code says of what kind a Problem is, for pages that word it themselves.
type Code string

// Codes of a Problem.
const (
	CodeNoFolder Code = "no_folder" // the folder is not there
	CodeInside   Code = "inside"    // it lies in the data folder
	CodeEmptied  Code = "emptied"   // it is there, but no backup of the farm is in it any more
	CodeNoRoom   Code = "no_room"
	CodeTooLarge Code = "too_large" // for the file system of the folder
	CodeCopy     Code = "copy"      // the database could not be copied
	CodeBad      Code = "bad"       // it does not read back as it was written
	CodeFaults   Code = "faults"    // the database in it has faults
	CodeFailed   Code = "failed"    // anything else
)

// Problem is why there is no good backup: a sentence for people, and its cause for the log.
type Problem struct {
	Code  Code
	Text  string
	cause error
}

func (p *Problem) Error() string {
	if p.cause == nil {
		return p.Text
	}
	return fmt.Sprintf("%s (%v)", p.Text, p.cause)
}

func (p *Problem) Unwrap() error { return p.cause }

// asProblem words whatever kept a backup from being made. nil stays nil.
func asProblem(err error, folder string) error {
	var problem *Problem
	switch {
	case err == nil:
		return nil
	case disk.IsFull(err):
		return &Problem{CodeNoRoom, noRoomText(folder), err}
	case disk.IsTooLarge(err):
		return &Problem{CodeTooLarge, fmt.Sprintf("The disk of %s cannot hold a file as large as the backup. It may be formatted as FAT32, which stops at 4 GiB: exFAT does not.", folder), err}
	case errors.As(err, &problem):
		return problem
	case errors.Is(err, fs.ErrPermission):
		return &Problem{CodeFailed, fmt.Sprintf("Corymb may not write in %s. Let the account that it runs as write there.", folder), err}
	default:
		return &Problem{CodeFailed, "No backup could be made. The backups that are there are safe.", err}
	}
}

func noRoomText(folder string) string {
	return fmt.Sprintf("There is no room for a backup. It needs that of a whole farm in %s, and that of the database beside the farm for a while. The backups that are there are safe. Make room, or choose another folder.", folder)
}

// faulty says that a database was read and is not as it should be.
func faulty(found string, cause error) *Problem {
	return &Problem{CodeFaults, fmt.Sprintf("The database in the backup has faults, which the farm's own then has too: %s. Stop Corymb in the shed, keep a copy of the data folder, and run corymb verify.", found), cause}
}
