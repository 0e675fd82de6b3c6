// Package httpapi answers everything over HTTP that is not the change log itself: what the farm is,
// what its model says, its photos, and the web app.
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

	"corymb/internal/access"
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
	Farm   Farm
	Desk   Desk
	Roster Roster
	Came   func(r *http.Request) Came

	Sync      http.Handler                        // holds the conversations at /sync
	Connected func() []string                     // devices that hold one
	HangUp    func(device string)                 // ends those of a device; of all where it is empty
	Origin    func() string                       // under which phones know the farm
	QR        func(text string) ([]string, error) // rows of 0 and 1, without the margin
	// Trust is where a phone learns to trust the farm's own authority, and that one's fingerprint; empty
	// where there is none.
	Trust func() (link, fingerprint string)

	Ages     AgesFunc
	Colours  ColoursFunc
	Forecast ForecastFunc
	Packing  PackingFunc
	Divide   DivideFunc
	Worth    WorthFunc
	Kept     Kept             // nil to keep no answers
	Intake   changelog.Intake // for files of unsent changes; what it appends reaches the phones at once
	Photos   Photos
	Backups  Backups
	// Export writes the whole farm into one file.
	Export  func(ctx context.Context, to io.Writer) error
	Bills   Bills
	App     fs.FS // the built web app; nil for none
	Version string
	About   AboutFunc
	Hosts   func(host string) bool // names under which this server may be called, without the port
	Now     func() time.Time
	Logger  *slog.Logger

	// Early takes what is better worked out before anybody asks for it, to be run once the server serves; nil for nothing.
	Early func(work func(ctx context.Context))

	Patience time.Duration // how long what is asked may take to come; 0 for a minute

	events *events
}

// New makes the handler of all routes. It reads the web app into memory.
func New(config Config) (http.Handler, error) {
	config.events = &events{logger: config.Logger, now: config.Now}
	app, err := loadApp(config.App)
	if err != nil {
		return nil, fmt.Errorf("reading the web app: %w", err)
	}
	gin.SetMode(gin.ReleaseMode)
	router := gin.New()
	router.HandleMethodNotAllowed = true
	router.RedirectTrailingSlash = false // it would answer before any guard has looked
	router.Use(gin.CustomRecoveryWithWriter(io.Discard, config.recovered), secure, onlyHosts(config.Hosts))
	router.GET("/sync", gin.WrapH(config.Sync))
	config.addAPI(router)
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

// addAPI adds what answers in JSON. Nothing but joining is open to whoever has not joined.
func (config Config) addAPI(router *gin.Engine) {
	open := router.Group("/api", func(c *gin.Context) { c.Header("Cache-Control", "no-store") }, config.onlyOwnPages, config.patient(1))
	open.POST("/join", config.postJoin)

	everybody := open.Group("", config.joined)
	everybody.GET("/me", config.getMe)
	everybody.POST("/leave", config.postLeave)
	everybody.GET("/farm", config.getFarm)
	reports := NewReports(config)
	everybody.GET("/ages", reports.ages.get)
	everybody.GET("/colour", reports.colours.get)
	everybody.GET("/forecast", reports.forecasts.get)
	everybody.GET("/packing", newPackings(config).get)
	everybody.GET("/about", config.getAbout)
	everybody.GET("/about/texts", config.getTexts)
	config.photoReading(everybody)

	writers := everybody.Group("", config.only(access.Owner, access.Crew))
	writers.POST("/unsent", fewAtOnce(mostFilesAtOnce), config.patient(unsentPatience), config.postUnsent)
	writers.POST("/tags", fewAtOnce(mostPrintsAtOnce), config.postTags)
	config.photoWriting(writers)

	owners := everybody.Group("", config.only(access.Owner))
	owners.DELETE("/photos/:hash", config.deletePhoto)
	owners.GET("/backups", config.getBackups)
	owners.POST("/backups", config.postBackups)
	owners.GET("/export", fewAtOnce(mostExportsAtOnce), config.getExport)
	owners.GET("/tables", fewAtOnce(mostExportsAtOnce), config.getTables)
	owners.GET("/tables/:file", fewAtOnce(mostExportsAtOnce), config.getTable)
	owners.GET("/devices", config.getDevices)
	owners.POST("/devices/:device/withdraw", config.postWithdraw)
	owners.POST("/devices/looked", config.postLooked)
	owners.POST("/codes", config.postCodes)
	owners.POST("/divide", reports.divisions.post)
	if config.Early != nil {
		config.Early(reports.books.layEarly)
	}
	owners.GET("/money", reports.books.get)
	owners.GET("/money/bills", reports.books.getBills)
	owners.GET("/money/worth", reports.books.getWorth)
	owners.GET("/report", config.patient(reportPatience), fewAtOnce(mostPrintsAtOnce), reports.get)
	owners.POST("/invoices", config.postInvoice)
	owners.POST("/invoices/:invoice/void", config.postVoid)
	owners.POST("/credits", config.postCredit)
	owners.POST("/card", fewAtOnce(mostPrintsAtOnce), config.postCard)
	owners.POST("/invitations", config.postInvitation)
	owners.DELETE("/invitations/:id", config.deleteInvitation)
	owners.POST("/members/:person/role", config.postRole)
	owners.POST("/members/:person/withdraw", config.postWithdrawPerson)
}

// refuse answers with an error that a person can read, and that holds for now alone.
func refuse(c *gin.Context, status int, code, text string) {
	c.Header("Cache-Control", "no-store")
	c.AbortWithStatusJSON(status, gin.H{"error": gin.H{"code": code, "text": text}})
}

// failed logs what went wrong and answers that something did.
func (config Config) failed(c *gin.Context, what string, err error) {
	if c.Request.Context().Err() != nil {
		// Whoever asked has gone and hears nothing, or there is no more patience.
		refuse(c, http.StatusServiceUnavailable, "slow", "The shed needs longer for this than anybody waits. It goes on with it: ask again in a minute.")
		return
	}
	config.Logger.Error(what, "path", c.Request.URL.Path, "error", err)
	refuse(c, http.StatusInternalServerError, "failed", "The shed could not answer this. What was recorded is safe. Try again; if it stays, look at what the server printed.")
}

func (config Config) recovered(c *gin.Context, cause any) {
	config.failed(c, "a request ended in a fault of the program", fmt.Errorf("%v", cause))
}
