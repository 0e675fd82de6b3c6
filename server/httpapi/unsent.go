package httpapi

import (
	"errors"
	"io"
	"net/http"

	"github.com/gin-gonic/gin"

	"corymb/internal/changelog"
	"corymb/syncproto"
)

// maxUnsentBytes is far above what a phone records in a season.
const maxUnsentBytes = 32 << 20

// unsentStatus gives the HTTP status of a file that is not taken in, where it is not 400.
var unsentStatus = map[syncproto.Code]int{
	syncproto.CodeFarm: http.StatusConflict,
	syncproto.CodeBusy: http.StatusServiceUnavailable,
}

// postUnsent answers POST /api/unsent, whose body is a file of unsent changes as a phone saves it.
// It says what became of them: kept, there already, or refused.
func (config Config) postUnsent(c *gin.Context) {
	if err := http.NewCrossOriginProtection().Check(c.Request); err != nil {
		refuse(c, http.StatusForbidden, "origin", "A page of another site may not write here.")
		return
	}
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
	var taken changelog.Taken
	if err == nil {
		taken, err = config.Intake.TakeIn(c.Request.Context(), unsent)
	}
	if err != nil {
		config.notTakenIn(c, err)
		return
	}
	c.JSON(http.StatusOK, gin.H{"kept": taken.Kept, "already": taken.Already, "refused": taken.Refused})
}

func (config Config) notTakenIn(c *gin.Context, err error) {
	var breach *syncproto.Breach
	if !errors.As(err, &breach) {
		config.failed(c, "a file of unsent changes was not taken in", err)
		return
	}
	status, ok := unsentStatus[breach.Code]
	if !ok {
		status = http.StatusBadRequest
	}
	refuse(c, status, string(breach.Code), breach.Text)
}
