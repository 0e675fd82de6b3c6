package httpapi

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"corymb/internal/tags"
)

const maxCardBytes = 1 << 10 // of a request for cards

// postCard answers POST /api/card with sheets of colour cards of a new batch, application/pdf. Its body is
// {"batch": a code that the app made, "paper": "a4" or "letter", "language": "en" or "es", "sheets": 1 to 20}. The
// app records the batch: nothing of it is kept here.
func (config Config) postCard(c *gin.Context) {
	var body struct {
		Batch    string `json:"batch"`
		Paper    string `json:"paper"`
		Language string `json:"language"`
		Sheets   int    `json:"sheets"`
	}
	if !config.askedAtMost(maxCardBytes, c, &body) {
		return
	}
	paper, known := tags.Papers[body.Paper]
	batch, err := tags.ParseBatch(body.Batch)
	switch {
	case err != nil:
		refuse(c, http.StatusBadRequest, "batch", "The batch of cards has no code, or a wrong one. Nothing was printed.")
		return
	case !known:
		refuse(c, http.StatusBadRequest, "paper", "Cards are printed on a4 or letter.")
		return
	case !slices.Contains(tags.CardLanguages, body.Language):
		refuse(c, http.StatusBadRequest, "language", "The page of how to is written in en and es.")
		return
	case body.Sheets < 1 || body.Sheets > tags.MostCardSheets:
		refuse(c, http.StatusBadRequest, "sheets", fmt.Sprintf("1 to %d sheets are printed at once.", tags.MostCardSheets))
		return
	}
	var sheets bytes.Buffer
	if err := tags.WriteCards(&sheets, tags.CardPrint{Batch: batch, Paper: paper, Language: body.Language, Sheets: body.Sheets}); err != nil {
		config.failed(c, "colour cards could not be printed", err)
		return
	}
	c.Header("Content-Disposition", fmt.Sprintf(`attachment; filename="card-%s.pdf"`, batch))
	c.Data(http.StatusOK, "application/pdf", sheets.Bytes())
}
