package httpapi

import (
	"bytes"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/tags"
)

const (
	mostTags         = 5000      // that are printed at once
	maxTagsBytes     = 512 << 10 // of a request for them, whose ids are UUIDs or somewhat longer
	mostPrintsAtOnce = 2         // each holds its sheets in memory
	mostUnknownNamed = 10
)

// postTags answers POST /api/tags with sheets of stake tags, application/pdf, for plants of the farm as it
// stands. Its body is {"paper": "a4" or "letter", "plants": [ids]}; the tags come in that order. One plant
// that is not known, or cannot be printed, and nothing is; of what cannot be, the answer holds the first as
// "problem", so that a page can say it in the language in use.
func (config Config) postTags(c *gin.Context) {
	var body struct {
		Paper  string         `json:"paper"`
		Plants []crop.PlantID `json:"plants"`
	}
	if !config.askedAtMost(maxTagsBytes, c, &body) {
		return
	}
	paper, known := tags.Papers[body.Paper]
	switch {
	case !known:
		refuse(c, http.StatusBadRequest, "paper", "Tags are printed on a4 or letter.")
		return
	case len(body.Plants) == 0:
		refuse(c, http.StatusBadRequest, "no_plants", "No plant was named to print a tag for.")
		return
	case len(body.Plants) > mostTags:
		refuse(c, http.StatusRequestEntityTooLarge, "too_large", fmt.Sprintf("%d tags are the most that are printed at once. Nothing was printed.", mostTags))
		return
	}
	state, _, err := config.Farm.State(c.Request.Context())
	if err != nil {
		config.failed(c, "the farm could not be read to print tags", err)
		return
	}
	list, unknown := tags.Of(farm.Read(crop.FarmID(config.Farm.Farm()), state), body.Plants)
	if len(unknown) > 0 {
		refuse(c, http.StatusNotFound, "unknown_plants", "The shed does not know these plants, so nothing was printed: "+named(unknown))
		return
	}
	config.sendTags(c, paper, list)
}

func (config Config) sendTags(c *gin.Context, paper tags.Paper, list []tags.Tag) {
	var sheets bytes.Buffer
	err := tags.Write(&sheets, paper, list)
	var problems tags.Problems
	switch {
	case errors.As(err, &problems):
		c.AbortWithStatusJSON(http.StatusUnprocessableEntity, gin.H{
			"error":   gin.H{"code": problems[0].Reason, "text": problems.Error()},
			"problem": problems[0],
		})
	case err != nil:
		config.failed(c, "tags could not be printed", err)
	default:
		c.Header("Content-Disposition", `attachment; filename="tags.pdf"`)
		c.Data(http.StatusOK, "application/pdf", sheets.Bytes())
	}
}

// named are the first of some ids, and how many more there are.
func named(ids []crop.PlantID) string {
	var texts []string
	for _, id := range ids[:min(len(ids), mostUnknownNamed)] {
		texts = append(texts, fmt.Sprintf("%.64q", string(id)))
	}
	if more := len(ids) - len(texts); more > 0 {
		texts = append(texts, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(texts, ", ")
}
