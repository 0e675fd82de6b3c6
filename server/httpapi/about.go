package httpapi

import (
	"net/http"

	"github.com/gin-gonic/gin"
)

// About is what the program says of itself.
type About struct {
	Version      string       `json:"version"`
	Go           string       `json:"go"`
	SQLite       string       `json:"sqlite"`
	Driver       string       `json:"driver"` // the library that brings SQLite
	Dependencies []Dependency `json:"dependencies"`
}

// Dependency is something of others that is in the program.
type Dependency struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Licence string `json:"licence"` // an SPDX identifier, or "see text"
	Text    string `json:"-"`
}

// AboutFunc tells what the program says of itself.
type AboutFunc func() (About, error)

// getAbout answers GET /api/about. The licences in full are many times longer: see getTexts.
func (config Config) getAbout(c *gin.Context) {
	about, err := config.About()
	if err != nil {
		config.failed(c, "the program could not say what it is", err)
		return
	}
	c.JSON(http.StatusOK, about)
}

// getTexts answers GET /api/about/texts with every licence in full, by name.
func (config Config) getTexts(c *gin.Context) {
	about, err := config.About()
	if err != nil {
		config.failed(c, "the program could not say what it is", err)
		return
	}
	texts := make(map[string]string, len(about.Dependencies))
	for _, d := range about.Dependencies {
		texts[d.Name] = d.Text
	}
	c.JSON(http.StatusOK, gin.H{"texts": texts})
}
