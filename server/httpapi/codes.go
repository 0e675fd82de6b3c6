package httpapi

import (
	"net/http"

	"github.com/gin-gonic/gin"
)

// postCodes answers POST /api/codes: a block of tag codes that the device may give to plants, with or without
// a signal. Asking twice gives two: there are six million codes, and a phone asks when it has few.
func (config Config) postCodes(c *gin.Context) {
	block, err := config.Roster.LeaseCodes(c.Request.Context(), deviceOf(c).ID)
	if err != nil {
		config.failed(c, "tag codes were not leased", err)
		return
	}
	c.JSON(http.StatusOK, gin.H{"block": block})
}
