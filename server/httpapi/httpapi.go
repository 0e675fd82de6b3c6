// Package httpapi answers everything over HTTP that is not the change log itself: what the farm is,
// what its model says, and the web app.
package httpapi

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"corymb/internal/changelog"
)

// Farm is what httpapi reads of the farm.
type Farm interface {
	Farm() string
	Epoch() string
	// Newest is the arrival number of the last change.
	Newest() int64
	// State is the whole merge state and the arrival number of the last change in it.
	State(ctx context.Context) (*changelog.State, int64, error)
	// Entity is a state that holds one entity.
	Entity(ctx context.Context, entityType, id string) (*changelog.State, error)
}

// Config is what the handler needs to know.
type Config struct {
	Farm    Farm
	Sync    http.Handler // holds the conversations at /sync
	Ages    AgesFunc
	Intake  changelog.Intake // for files of unsent changes; what it appends reaches the phones at once
	Backups Backups          // nil for none
	App     fs.FS            // the built web app; nil for none
	Version string
	Hosts   func(host string) bool // names under which this server may be called, without the port
	Now     func() time.Time
	Logger  *slog.Logger
}

// New makes the handler of all routes. It reads the web app into memory.
func New(config Config) (http.Handler, error) {
	app, err := loadApp(config.App)
	if err != nil {
		return nil, fmt.Errorf("reading the web app: %w", err)
	}
	gin.SetMode(gin.ReleaseMode)
	router := gin.New()
	router.HandleMethodNotAllowed = true
	router.Use(gin.CustomRecoveryWithWriter(io.Discard, config.recovered), onlyHosts(config.Hosts), secure)
	router.GET("/sync", gin.WrapH(config.Sync))
	api := router.Group("/api", func(c *gin.Context) { c.Header("Cache-Control", "no-cache") })
	api.GET("/farm", config.getFarm)
	api.GET("/ages", newAges(config).get)
	api.POST("/unsent", config.postUnsent)
	backupRoutes(api, config)
	router.NoMethod(func(c *gin.Context) {
		refuse(c, http.StatusMethodNotAllowed, "method", "This address does not take "+c.Request.Method+".")
	})
	router.NoRoute(func(c *gin.Context) {
		if path := c.Request.URL.Path; path == "/api" || strings.HasPrefix(path, "/api/") {
			refuse(c, http.StatusNotFound, "not_found", "There is nothing at this address.")
			return
		}
		app.serve(c)
	})
	return router, nil
}

// refuse answers with an error that a person can read.
func refuse(c *gin.Context, status int, code, text string) {
	c.AbortWithStatusJSON(status, gin.H{"error": gin.H{"code": code, "text": text}})
}

// failed logs what went wrong and answers that something did.
func (config Config) failed(c *gin.Context, what string, err error) {
	if c.Request.Context().Err() != nil {
		c.Abort() // whoever asked has gone
		return
	}
	config.Logger.Error(what, "path", c.Request.URL.Path, "error", err)
	refuse(c, http.StatusInternalServerError, "failed", "The shed could not answer this. What was recorded is safe. Try again; if it stays, look at what the server printed.")
}

func (config Config) recovered(c *gin.Context, cause any) {
	config.failed(c, "a request ended in a fault of the program", fmt.Errorf("%v", cause))
}
