package httpapi

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"corymb/internal/crop"
	"corymb/internal/farm"
	"corymb/internal/forecast"
)

// Forecast is what is still to come, and the scores of weeks gone by.
type Forecast struct {
	forecast.Answer
	// Scored are weeks that need not be forecast again, by what they rest on.
	Scored map[string]forecast.Scored `json:"-"`
	// Rests names all that this comes from: with the same it is the same.
	Rests string `json:"-"`
}

// ForecastFunc forecasts a farm as asked on a day; before is what it said last, nil at first.
type ForecastFunc func(f crop.Farm, asOf crop.Date, before *Forecast) (Forecast, error)

// forecastAnswer is what GET /api/forecast sends.
type forecastAnswer struct {
	Arrival int64 `json:"arrival"` // of the last change that the forecast knows
	Forecast

	at time.Time // when it knew everything
}

// keptForecast is a forecast as it is kept from one run of the program to the next.
type keptForecast struct {
	Answer forecast.Answer            `json:"answer"`
	Scored map[string]forecast.Scored `json:"scored"`
	Rests  string                     `json:"rests"`
}

// forecasts answers GET /api/forecast, worked out as often as the ages are.
type forecasts struct {
	Config
	made workedOut[forecastAnswer]
}

func newForecasts(config Config) *forecasts {
	a := &forecasts{Config: config}
	a.made.run, a.made.before = a.run, a.kept
	return a
}

func (a *forecasts) get(c *gin.Context) {
	arrival, now := a.Farm.Newest(), a.Now()
	_, recent := c.GetQuery("recent")
	answer, err := a.made.get(c.Request.Context(), func(made forecastAnswer) bool {
		return made.AsOf >= crop.DateOf(now) && (made.Arrival >= arrival || recent && now.Sub(made.at) < recently)
	})
	if err == nil {
		err = sendSmall(c, answer)
	}
	if err != nil {
		a.failed(c, "what is to come could not be forecast", err)
	}
}

// kept is what was said before the program was started, of whatever farm: what it rests on tells what is still so.
func (a *forecasts) kept() *forecastAnswer {
	var found keptForecast
	if !a.readKept("forecast", &found) {
		return nil
	}
	return &forecastAnswer{Forecast: Forecast{found.Answer, found.Scored, found.Rests}}
}

func (a *forecasts) run(before *forecastAnswer) (answer forecastAnswer, err error) {
	at := a.Now()
	state, arrival, err := a.Farm.State(context.Background())
	if err != nil {
		return answer, err
	}
	var last *Forecast
	if before != nil {
		last = &before.Forecast
	}
	made, err := a.Config.Forecast(farm.Read(crop.FarmID(a.Farm.Farm()), state), crop.DateOf(at), last)
	if err == nil && (last == nil || last.Rests != made.Rests || len(last.Scored) != len(made.Scored)) {
		a.keepAnswer("forecast", keptForecast{made.Answer, made.Scored, made.Rests})
	}
	return forecastAnswer{Arrival: arrival, Forecast: made, at: at}, err
}

// sendSmall sends an answer that is large for a poor line, in gzip (RFC 1952) where whoever asks can read that.
func sendSmall(c *gin.Context, answer any) error {
	text, err := json.Marshal(answer)
	if err != nil {
		return fmt.Errorf("writing an answer: %w", err)
	}
	c.Header("Vary", "Accept-Encoding")
	if strings.Contains(c.GetHeader("Accept-Encoding"), "gzip") {
		var small bytes.Buffer
		packer := gzip.NewWriter(&small)
		if _, err = packer.Write(text); err == nil {
			err = packer.Close()
		}
		if err != nil {
			return fmt.Errorf("packing an answer: %w", err)
		}
		c.Header("Content-Encoding", "gzip")
		text = small.Bytes()
	}
	c.Data(http.StatusOK, "application/json; charset=utf-8", text)
	return nil
}
