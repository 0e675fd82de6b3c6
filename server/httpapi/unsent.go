package httpapi

import (
	"errors"
	"io"
	"net/http"

	"github.com/gin-gonic/gin"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

const (
	// maxUnsentBytes is far above what a phone records in a season.
	maxUnsentBytes = 32 << 20
	// mostFilesAtOnce bounds the memory for such files.
	mostFilesAtOnce = 2
	// unsentPatience is how many times as long as anything else such a file may take: 32 MiB by weak wifi.
	unsentPatience = 5
)

// postUnsent answers POST /api/unsent, whose body is a file of unsent changes as a phone saves it.
// They are judged as if whoever brings the file had sent them. It says what became of them: kept, there
// already, or refused.
func (config Config) postUnsent(c *gin.Context) {
	file, err := io.ReadAll(http.MaxBytesReader(c.Writer, c.Request.Body, maxUnsentBytes))
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		refuse(c, http.StatusRequestEntityTooLarge, string(syncproto.CodeTooLarge),
			"The file is larger than 32 MiB. Nothing was taken in. Stop Corymb in the shed and read the file in there with corymb take-in.")
		return
	}
	if err != nil {
		refuse(c, http.StatusBadRequest, string(syncproto.CodeMalformed), "The file did not come whole. Nothing was taken in. Try again.")
		return
	}
	unsent, err := changelog.ReadUnsent(config.Farm.Farm(), file)
	if err != nil {
		config.notReadIn(c, err)
		return
	}
	intake := config.Intake
	intake.Rights, intake.Device = grantOf(c), deviceOf(c).ID
	taken, err := intake.TakeIn(c.Request.Context(), unsent)
	if err != nil {
		config.notTakenIn(c, err)
		return
	}
	c.JSON(http.StatusOK, gin.H{"kept": taken.Kept, "already": taken.Already, "refused": taken.Refused})
}

// notReadIn answers for a file that is not as a phone saves it. What is wrong with it is a sentence
// already, see changelog.ReadUnsent.
func (config Config) notReadIn(c *gin.Context, err error) {
	var breach *syncproto.Breach
	switch {
	case !errors.As(err, &breach):
		config.failed(c, "a file of unsent changes was not read", err)
	case breach.Code == syncproto.CodeFarm:
		refuse(c, http.StatusConflict, string(breach.Code), breach.Text)
	default:
		refuse(c, http.StatusBadRequest, string(breach.Code), breach.Text)
	}
}

// notTakenIn answers where the log did not take all of a file. Its own words are for the log: they are
// of seqs and frames.
func (config Config) notTakenIn(c *gin.Context, err error) {
	var breach *syncproto.Breach
	switch {
	case !errors.As(err, &breach):
		config.failed(c, "a file of unsent changes was not taken in", err)
	case breach.Code == syncproto.CodeBusy:
		refuse(c, http.StatusServiceUnavailable, string(breach.Code),
			"The shed cannot store anything at the moment. What it took in of the file is safe. Keep the file and read it in again later: nothing counts twice.")
	default:
		config.Logger.Error("a file of unsent changes was not taken in whole", "error", err)
		refuse(c, http.StatusBadRequest, string(breach.Code),
			"Something in the file cannot be stored, so it was not taken in whole. What the shed took in is safe. Keep the file and leave the phone as it is, and ask whoever looks after Corymb: the server printed the cause.")
	}
}
