package httpapi

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/farm"
)

// getFarm answers GET /api/farm.
func (config Config) getFarm(c *gin.Context) {
	id := config.Farm.Farm()
	state, err := config.Farm.Entity(c.Request.Context(), farm.TypeFarm, id)
	if err != nil {
		config.failed(c, "the farm's name could not be read", err)
		return
	}
	f := farm.Read(crop.FarmID(id), state)
	c.JSON(http.StatusOK, gin.H{
		"farm": id, "epoch": config.Farm.Epoch(), "name": f.Name, "made_up": f.MadeUp, "version": config.Version,
	})
}
