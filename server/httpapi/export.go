package httpapi

import (
	"context"
	"errors"
	"io"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"
)

// mostExportsAtOnce bounds the room on the disk, and the work, for them.
const mostExportsAtOnce = 1

// getExport answers GET /api/export: the whole farm as a file that other programs can read, see package export. It is
// written as it goes, and never whole in memory.
func (config Config) getExport(c *gin.Context) {
	config.stream(c, "export", "application/zip", ".zip", config.Export)
}

// stream answers with a file that is made while it is sent. What fails before the first byte is told as anything else is;
// what fails later breaks the line off, so that nobody takes a part for the whole.
func (config Config) stream(c *gin.Context, name, kind, end string, write func(context.Context, io.Writer) error) {
	line := &slowLine{config: config, to: c.Writer, line: http.NewResponseController(c.Writer)}
	c.Header("Content-Type", kind)
	c.Header("Content-Disposition", `attachment; filename="corymb-`+name+config.Now().Format("-2006-01-02")+end+`"`)
	err := write(c.Request.Context(), line)
	switch {
	case err == nil:
	case !c.Writer.Written():
		c.Header("Content-Disposition", "")
		config.failed(c, "a file was not made", err)
	default:
		config.Logger.Error("a file was not sent whole", "path", c.Request.URL.Path, "error", err)
		line.breakOff()
	}
}

// slowLine lets what is sent take as long as it needs, while something of it goes through.
type slowLine struct {
	config Config
	to     io.Writer
	line   *http.ResponseController
}

func (l *slowLine) Write(p []byte) (int, error) {
	patience := l.config.Patience
	if patience == 0 {
		patience = usualPatience
	}
	if err := l.line.SetWriteDeadline(time.Now().Add(patience)); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return 0, err
	}
	return l.to.Write(p)
}

// breakOff lets nothing more through, the file's end neither.
func (l *slowLine) breakOff() { _ = l.line.SetWriteDeadline(time.Unix(1, 0)) } // nothing better can be done
