package httpapi

import (
	"errors"
	"net/http"

	"github.com/gin-gonic/gin"
)

// Backups is what httpapi knows of the backups of the farm. Where they go to is not to be chosen here: a
// page would then have the shed write where it likes.
type Backups interface {
	State() BackupState
	// MakeNow has one made and does not wait for it. It is ErrNoBackupFolder where none was chosen.
	MakeNow() error
	// Turn has one made every night, or not. It is ErrNoBackupFolder where none was chosen.
	Turn(on bool) error
}

// ErrNoBackupFolder says that nobody has chosen a folder at the shed.
var ErrNoBackupFolder = errors.New("no folder was chosen for backups")

// BackupState is how backups stand. Times are in ms since 1970 UTC.
type BackupState struct {
	Folder  string         `json:"folder"` // empty where none was chosen
	On      bool           `json:"on"`
	Running bool           `json:"running"`
	Next    int64          `json:"next"` // 0 for never
	Good    *GoodBackup    `json:"last_good"`
	Failure *BackupFailure `json:"last_failure"` // after the last good one
	Files   []BackupFile   `json:"files"`        // in the folder, the newest first
}

// GoodBackup was read back and found good.
type GoodBackup struct {
	Made    int64    `json:"made"`
	Path    string   `json:"path"`
	Size    int64    `json:"size"`
	Arrival int64    `json:"arrival"` // of the last change in it
	There   bool     `json:"there"`   // where it was put, when that was last looked at
	Damaged int      `json:"damaged"` // photos that were damaged before
	LeftOut []string `json:"left_out"`
}

// BackupFailure is why there is none.
type BackupFailure struct {
	When int64  `json:"when"`
	Code string `json:"code"`
	Text string `json:"text"` // in English; pages word it by the code
}

// BackupFile is one that is kept.
type BackupFile struct {
	File string `json:"file"`
	Made int64  `json:"made"`
	Size int64  `json:"size"`
}

// getBackups answers GET /api/backups.
func (config Config) getBackups(c *gin.Context) { c.JSON(http.StatusOK, config.Backups.State()) }

// postBackups answers POST /api/backups with how backups then stand. Its body says what to do: now, which
// is then under way (202); or on or off, which is done (200).
func (config Config) postBackups(c *gin.Context) {
	var body struct {
		Do string `json:"do"`
	}
	if !config.asked(c, &body) {
		return
	}
	status, err := http.StatusOK, error(nil)
	switch body.Do {
	case "now":
		status, err = http.StatusAccepted, config.Backups.MakeNow()
	case "on", "off":
		err = config.Backups.Turn(body.Do == "on")
	default:
		refuse(c, http.StatusBadRequest, "malformed", `The body must be {"do":"now"}, {"do":"on"} or {"do":"off"}.`)
		return
	}
	switch {
	case errors.Is(err, ErrNoBackupFolder):
		refuse(c, http.StatusConflict, "no_folder_chosen", "No folder was chosen for backups. That is done at the shed: start Corymb there with serve -backups FOLDER.")
	case err != nil:
		config.failed(c, "backups were not turned on or off", err)
	default:
		c.JSON(status, config.Backups.State())
	}
}
