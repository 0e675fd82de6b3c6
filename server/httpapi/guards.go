package httpapi

import (
	"errors"
	"net"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/gin-gonic/gin"
)

// policy lets the app load and reach what this server gives, and nothing else; no script stands in
// a page itself. Photos and saved files are made as blobs.
const policy = "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; " +
	"form-action 'none'; frame-ancestors 'none'"

// wasmPolicy is that of a worker that runs wasm. A browser takes a worker's policy from its own script, so
// that pages may not: theirs stays without anything unsafe.
const wasmPolicy = policy + "; script-src 'self' 'wasm-unsafe-eval'"

// wasmWorkers begin the names of such scripts, which the build takes from webapp/src: scan/wasm_worker.ts and
// measuring/measure_worker.ts.
var wasmWorkers = [...]string{"assets/wasm_worker-", "assets/measure_worker-"}

func isWasmWorker(name string) bool {
	begins := func(worker string) bool { return strings.HasPrefix(name, worker) }
	return slices.ContainsFunc(wasmWorkers[:], begins) && strings.HasSuffix(name, ".js")
}

// features are the powers of a browser that a page of the farm may ask for: the camera. What else Corymb
// uses (sound, a screen that stays awake) needs no leave and is left as browsers have it.
const features = "camera=(self), display-capture=(), geolocation=(), hid=(), microphone=(), " +
	"midi=(), payment=(), serial=(), usb=()"

// secure sets the headers that every answer carries.
func secure(c *gin.Context) {
	for name, value := range map[string]string{
		"Content-Security-Policy":      policy,
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Permissions-Policy":           features,
		"Referrer-Policy":              "no-referrer",
		"X-Content-Type-Options":       "nosniff",
		"X-Frame-Options":              "DENY",
	} {
		c.Header(name, value)
	}
}

// onlyOwnPages refuses what a page of another site has a browser send.
func (config Config) onlyOwnPages(c *gin.Context) {
	err := http.NewCrossOriginProtection().Check(c.Request)
	if err != nil || config.isPlainPage(c.Request) {
		config.events.ofAnotherSite(c)
		refuse(c, http.StatusForbidden, "origin", "A page of another site may not write here.")
	}
}

// isPlainPage tells whether a page that came by plain http asks something of https. It bears the farm's
// own name, and whoever is on the wifi can have written it; the protection of net/http compares names
// alone where a browser says no more.
func (config Config) isPlainPage(r *http.Request) bool {
	return config.Came(r).Secure && strings.HasPrefix(strings.ToLower(r.Header.Get("Origin")), "http:")
}

const usualPatience = time.Minute

// patient cuts off whoever takes longer than so many times what there is of patience, from now on, to send
// what they ask.
func (config Config) patient(times int) gin.HandlerFunc {
	patience := config.Patience
	if patience == 0 {
		patience = usualPatience
	}
	return func(c *gin.Context) {
		line := http.NewResponseController(c.Writer)
		until := time.Now().Add(time.Duration(times) * patience)
		if err := line.SetReadDeadline(until); err != nil && !errors.Is(err, http.ErrNotSupported) {
			config.failed(c, "a request could not be given a time", err)
		}
	}
}

// fewAtOnce lets others wait while as many requests as may be are answered.
func fewAtOnce(most int) gin.HandlerFunc {
	turns := make(chan struct{}, most)
	return func(c *gin.Context) {
		select {
		case turns <- struct{}{}:
			defer func() { <-turns }()
			c.Next()
		case <-c.Request.Context().Done():
			c.Abort() // whoever asked has gone
		}
	}
}

// onlyHosts refuses calls under a foreign name: a page of another site could have its own name
// resolve to this machine and would then pass for the same origin (DNS rebinding).
func onlyHosts(known func(host string) bool) gin.HandlerFunc {
	return func(c *gin.Context) {
		host := c.Request.Host
		if name, _, err := net.SplitHostPort(host); err == nil {
			host = name
		}
		if !known(host) {
			refuse(c, http.StatusMisdirectedRequest, "host", "This server is not called "+host+".")
		}
	}
}
