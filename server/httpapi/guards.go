package httpapi

import (
	"net"
	"net/http"

	"github.com/gin-gonic/gin"
)

// policy lets the app load and reach what this server gives, and nothing else; no script stands in
// a page itself. Photos and saved files are made as blobs.
const policy = "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; " +
	"form-action 'none'; frame-ancestors 'none'"

// secure sets the headers that every answer carries.
func secure(c *gin.Context) {
	for name, value := range map[string]string{
		"Content-Security-Policy":      policy,
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Referrer-Policy":              "no-referrer",
		"X-Content-Type-Options":       "nosniff",
		"X-Frame-Options":              "DENY",
	} {
		c.Header(name, value)
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

// onlyOwnPages refuses what a page of another site has a browser send.
func onlyOwnPages(c *gin.Context) {
	if err := http.NewCrossOriginProtection().Check(c.Request); err != nil {
		refuse(c, http.StatusForbidden, "origin", "A page of another site may not write here.")
	}
}
