package httpapi

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"
)

// index is the page that every place in the app starts from.
const index = "index.html"

// app is the built web app in memory, by path without the leading slash.
type app map[string]asset

// asset is one file of the app.
type asset struct {
	contentType string
	cache       string
	policy      string // in place of the one that every answer carries
	tag         string // of its bytes
	plain       []byte
	gzipped     []byte // nil where it would not be smaller
}

// contentTypes are those of the files a build may hold. The system's own table differs from machine
// to machine and seldom knows web manifests.
var contentTypes = map[string]string{
	".css": "text/css; charset=utf-8", ".html": "text/html; charset=utf-8", ".ico": "image/x-icon",
	".js": "text/javascript; charset=utf-8", ".json": "application/json", ".png": "image/png",
	".svg": "image/svg+xml; charset=utf-8", ".txt": "text/plain; charset=utf-8", ".wasm": "application/wasm",
	".webmanifest": "application/manifest+json", ".webp": "image/webp", ".woff2": "font/woff2",
}

// packed are the types that are compressed already.
var packed = map[string]bool{".png": true, ".webp": true, ".woff2": true}

// loadApp reads every file of the build and compresses what is text. No build makes an empty app.
func loadApp(files fs.FS) (app, error) {
	loaded := app{}
	if files == nil {
		return loaded, nil
	}
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		hidden := strings.HasPrefix(entry.Name(), ".") && name != "."
		if err != nil || entry.IsDir() || hidden {
			return err
		}
		body, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		loaded[name], err = newAsset(name, body)
		return err
	})
	if err != nil {
		return nil, err
	}
	if _, ok := loaded[index]; !ok {
		return nil, fmt.Errorf("%s is not in it", index)
	}
	return loaded, nil
}

func newAsset(name string, body []byte) (asset, error) {
	extension := path.Ext(name)
	contentType, ok := contentTypes[extension]
	if !ok {
		contentType = "application/octet-stream"
	}
	sum := sha256.Sum256(body)
	a := asset{contentType: contentType, cache: "no-cache", tag: hex.EncodeToString(sum[:12]), plain: body}
	// The build names what lies in assets/ by its contents; all else must be asked for anew.
	if strings.HasPrefix(name, "assets/") {
		a.cache = "public, max-age=31536000, immutable"
	}
	if isWasmWorker(name) {
		a.policy = wasmPolicy
	}
	if packed[extension] {
		return a, nil
	}
	var squeezed bytes.Buffer
	writer, err := gzip.NewWriterLevel(&squeezed, gzip.BestCompression)
	if err != nil {
		return a, err
	}
	if _, err := writer.Write(body); err != nil {
		return a, err
	}
	if err := writer.Close(); err != nil {
		return a, err
	}
	if squeezed.Len() < len(body) {
		a.gzipped = squeezed.Bytes()
	}
	return a, nil
}

// serve answers with a file of the app. A page address that is no file is a place inside the app,
// which index.html finds by itself.
func (a app) serve(c *gin.Context) {
	if c.Request.Method != http.MethodGet && c.Request.Method != http.MethodHead {
		refuse(c, http.StatusMethodNotAllowed, "method", "This address does not take "+c.Request.Method+".")
		return
	}
	name := strings.TrimPrefix(c.Request.URL.Path, "/")
	file, ok := a[name]
	if !ok && isNavigation(c.Request, name) {
		file, ok = a[index]
	}
	if !ok {
		refuse(c, http.StatusNotFound, "not_found", "There is nothing at this address.")
		return
	}
	file.write(c)
}

func isNavigation(r *http.Request, name string) bool {
	return name == "" || path.Ext(name) == "" && strings.Contains(r.Header.Get("Accept"), "text/html")
}

func (a asset) write(c *gin.Context) {
	body, tag := a.plain, `"`+a.tag+`"`
	if a.gzipped != nil {
		c.Header("Vary", "Accept-Encoding")
		if takesGzip(c.GetHeader("Accept-Encoding")) {
			body, tag = a.gzipped, `"`+a.tag+`-gzip"`
			c.Header("Content-Encoding", "gzip")
		}
	}
	if a.policy != "" {
		c.Header("Content-Security-Policy", a.policy)
	}
	c.Header("Cache-Control", a.cache)
	c.Header("Content-Type", a.contentType)
	c.Header("ETag", tag)
	if c.GetHeader("If-None-Match") == tag {
		c.Writer.Header().Del("Content-Encoding")
		c.Status(http.StatusNotModified)
		return
	}
	c.Header("Content-Length", strconv.Itoa(len(body)))
	c.Status(http.StatusOK)
	if c.Request.Method == http.MethodGet {
		_, _ = c.Writer.Write(body) // whoever asked has gone
	}
}

// takesGzip reads an Accept-Encoding (RFC 9110 section 12.5.3): a weight of 0 forbids.
func takesGzip(accept string) bool {
	for part := range strings.SplitSeq(accept, ",") {
		coding, weight, _ := strings.Cut(strings.TrimSpace(part), ";")
		if coding = strings.TrimSpace(coding); coding != "gzip" && coding != "*" {
			continue
		}
		q, found := strings.CutPrefix(strings.TrimSpace(weight), "q=")
		value, err := strconv.ParseFloat(q, 64)
		return !found || err == nil && value > 0
	}
	return false
}
