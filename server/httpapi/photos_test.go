package httpapi_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"corymb/server/httpapi"
	"corymb/server/photos"
)

// photoDoor is a handler with photos in a folder of its own.
func photoDoor(t *testing.T, change func(*httpapi.Config)) (http.Handler, *photos.Photos) {
	t.Helper()
	kept, err := photos.Open(t.TempDir(), photos.UsualLimits(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	return handler(t, newGround(), func(c *httpapi.Config) {
		c.Photos = kept
		if change != nil {
			change(c)
		}
	}), kept
}

// photo is a JPEG of noise, some 30 bytes for a row of pixels and more.
func photo(t *testing.T, side int) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, side, side))
	rnd := rand.New(rand.NewPCG(uint64(side), 0))
	for i := range m.Pix {
		m.Pix[i] = byte(rnd.Uint32())
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// piece is a request that sends a piece of a photo.
func piece(data []byte, offset, end int) *http.Request {
	r := httptest.NewRequest("PATCH", "/api/photos/"+hashOf(data)+"/upload", bytes.NewReader(data[offset:end]))
	r.Host = "shed.example"
	r.Header.Set("Content-Type", "application/partial-upload")
	r.Header.Set("Upload-Offset", fmt.Sprint(offset))
	r.Header.Set("Upload-Length", fmt.Sprint(len(data)))
	r.Header.Set("Upload-Complete", map[bool]string{false: "?0", true: "?1"}[end == len(data)])
	return r
}

func answer(h http.Handler, r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// checkUpload looks at the state of an upload as a client of the draft does.
func checkUpload(t *testing.T, got http.Header, complete string, offset int) {
	t.Helper()
	if got.Get("Upload-Complete") != complete || got.Get("Upload-Offset") != fmt.Sprint(offset) ||
		got.Get("Upload-Limit") != "max-size=25165824, max-append-size=1048576" || got.Get("Cache-Control") != "no-store" {
		t.Errorf("want ?%s at %d: %v", complete, offset, got)
	}
}

func checkError(t *testing.T, w *httptest.ResponseRecorder, status int, code string) {
	t.Helper()
	if w.Code != status || !strings.HasPrefix(w.Body.String(), `{"error":{"code":"`+code+`","text":"`) {
		t.Errorf("%d %s, want %d %s", w.Code, w.Body, status, code)
	}
}

func TestAPhotoComesInPiecesAndIsShown(t *testing.T) {
	h, _ := photoDoor(t, nil)
	data := photo(t, 300)
	address := "/api/photos/" + hashOf(data)
	w := call(h, "HEAD", address+"/upload")
	if checkUpload(t, w.Header(), "?0", 0); w.Code != 204 || w.Header().Get("Upload-Length") != "" {
		t.Errorf("before: %d %v", w.Code, w.Header())
	}
	checkError(t, call(h, "GET", address), 404, "not_here")
	checkError(t, call(h, "GET", address+"/small"), 404, "not_here")

	half := len(data) / 2
	w = answer(h, piece(data, 0, half))
	if checkUpload(t, w.Header(), "?0", half); w.Code != 204 {
		t.Errorf("the first piece: %d %s", w.Code, w.Body)
	}
	w = call(h, "HEAD", address+"/upload")
	if checkUpload(t, w.Header(), "?0", half); w.Header().Get("Upload-Length") != fmt.Sprint(len(data)) {
		t.Errorf("half of it: %v", w.Header())
	}
	checkError(t, call(h, "GET", address), 404, "not_here")
	w = answer(h, piece(data, half, len(data)))
	if checkUpload(t, w.Header(), "?1", len(data)); w.Code != 204 {
		t.Errorf("the last piece: %d %s", w.Code, w.Body)
	}
	w = answer(h, piece(data, half, len(data))) // whose answer was lost
	checkError(t, w, 409, "offset")
	checkUpload(t, w.Header(), "?1", len(data))
	w = answer(h, piece(data, len(data), len(data)))
	if checkUpload(t, w.Header(), "?1", len(data)); w.Code != 204 {
		t.Errorf("nothing behind the last piece: %d %s", w.Code, w.Body)
	}

	for _, method := range []string{"GET", "HEAD"} {
		checkShown(t, call(h, method, address), hashOf(data)+".jpg")
		checkShown(t, call(h, method, address+"/small"), hashOf(data)+"-small.jpg")
	}
	if got := call(h, "GET", address).Body.Bytes(); !bytes.Equal(got, data) {
		t.Errorf("it comes out as %d other bytes", len(got))
	}
	if m, err := jpeg.Decode(call(h, "GET", address+"/small").Body); err != nil || m.Bounds().Dx() != 300 {
		t.Errorf("the thumbnail: %v", err)
	}
}

// checkShown looks whether a photo is answered as a picture and nothing else, and asked for before it is
// shown again: it may be removed by then.
func checkShown(t *testing.T, w *httptest.ResponseRecorder, name string) {
	t.Helper()
	want := map[string]string{
		"Content-Type": "image/jpeg", "Content-Disposition": `inline; filename="` + name + `"`,
		"Cache-Control":           "private, no-cache",
		"Content-Security-Policy": "default-src 'none'; sandbox", "X-Content-Type-Options": "nosniff",
		"Cross-Origin-Resource-Policy": "same-origin", "X-Frame-Options": "DENY",
	}
	for header, value := range want {
		if got := w.Header().Values(header); w.Code != 200 || len(got) != 1 || got[0] != value {
			t.Errorf("%d, %s is %q, want %q", w.Code, header, got, value)
		}
	}
}

func TestARemovedPhotoIsToldAsThat(t *testing.T) {
	h, _ := photoDoor(t, nil)
	data := photo(t, 30)
	answer(h, piece(data, 0, len(data)))
	address := "/api/photos/" + hashOf(data)
	tag := call(h, "GET", address).Header().Get("ETag")
	for range 2 {
		if w := call(h, "DELETE", address); w.Code != 204 || w.Body.Len() > 0 {
			t.Errorf("%d %s", w.Code, w.Body)
		}
	}
	checkError(t, call(h, "GET", address), 410, "removed")
	checkError(t, call(h, "GET", address, "If-None-Match", tag), 410, "removed")
	checkError(t, call(h, "GET", address+"/small"), 410, "removed")
	w := answer(h, piece(data, 0, len(data)))
	checkError(t, w, 410, "removed")
	checkUpload(t, w.Header(), "?1", 0) // to go on is of no use
	checkError(t, call(h, "DELETE", "/api/photos/abc"), 400, "hash")
	r := httptest.NewRequest("DELETE", address, nil)
	r.Host = "shed.example"
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	checkError(t, answer(h, r), 403, "origin")
}

func TestAPhotoIsAnsweredInPartOrNotAtAllWhereThatIsEnough(t *testing.T) {
	h, _ := photoDoor(t, nil)
	data := photo(t, 30)
	answer(h, piece(data, 0, len(data)))
	address := "/api/photos/" + hashOf(data)
	if w := call(h, "GET", address, "Range", "bytes=10-19"); w.Code != 206 || !bytes.Equal(w.Body.Bytes(), data[10:20]) {
		t.Errorf("a part: %d %q", w.Code, w.Body)
	}
	w := call(h, "GET", address, "If-None-Match", call(h, "GET", address).Header().Get("ETag"))
	if w.Code != 304 || w.Body.Len() != 0 {
		t.Errorf("known already: %d with %d bytes", w.Code, w.Body.Len())
	}
}

// Whatever a file holds, it is answered by what it begins with. A page in a picture's comment stays one.
func TestAPhotoIsNamedByItsContent(t *testing.T) {
	h, _ := photoDoor(t, nil)
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		t.Fatal(err)
	}
	page := "<!doctype html><script>alert(1)</script>"
	comment := append([]byte{0xff, 0xd8, 0xff, 0xfe, 0, byte(len(page) + 2)}, page...)
	tests := []struct {
		data      []byte
		mediaType string
	}{
		{b.Bytes(), "image/png"},
		{append(comment, photo(t, 30)[2:]...), "image/jpeg"},
	}
	for _, tt := range tests {
		r := piece(tt.data, 0, len(tt.data))
		r.Header.Set("Content-Disposition", `inline; filename="page.html"`)
		if w := answer(h, r); w.Code != 204 {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		got := call(h, "GET", "/api/photos/"+hashOf(tt.data), "Accept", "text/html").Header()
		if got.Get("Content-Type") != tt.mediaType || strings.Contains(got.Get("Content-Disposition"), "html") {
			t.Errorf("%v, want %s", got, tt.mediaType)
		}
	}
}

func TestNoAddressReachesOutOfTheFolder(t *testing.T) {
	h, _ := photoDoor(t, nil)
	for _, name := range []string{
		"..", "../../../../etc/passwd", "..%2f..%2f..%2fetc%2fpasswd", "%2e%2e", "%2e%2e%2f%2e%2e%2fcorymb.db", `..\..\corymb.db`,
		"%2fetc%2fpasswd", "unfinished", strings.Repeat("A", 64), strings.Repeat("a", 63), strings.Repeat("a", 65),
		strings.Repeat("a", 64) + ".small", strings.Repeat("a", 63) + "%00", strings.Repeat("a", 62) + "%2f%2e",
	} {
		unescaped, err := url.PathUnescape(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range []string{name, name + "/small", name + "/upload", unescaped, unescaped + "/small", unescaped + "/upload"} {
			for _, method := range []string{"GET", "HEAD", "PATCH"} {
				r := piece([]byte("x"), 0, 1)
				r.Method, r.URL.Path = method, "/api/photos/"+path
				if w := answer(h, r); w.Code < 400 {
					t.Errorf("%s %q: %d %s", method, path, w.Code, w.Body)
				}
			}
		}
	}
}

// ask is the question which of some photos are missing.
func ask(body string) *http.Request {
	r := httptest.NewRequest("POST", "/api/photos/missing", strings.NewReader(body))
	r.Host = "shed.example"
	return r
}

func TestWhatIsMissingIsSaid(t *testing.T) {
	h, _ := photoDoor(t, nil)
	whole, half, none := photo(t, 30), photo(t, 31), photo(t, 32)
	answer(h, piece(whole, 0, len(whole)))
	answer(h, piece(half, 0, 100))
	list := func(hashes ...string) string {
		body, err := json.Marshal(hashes)
		if err != nil {
			t.Fatal(err)
		}
		return string(body)
	}
	many := make([]string, 501)
	for i := range many {
		many[i] = hashOf(none)
	}
	tests := []struct {
		name, body string
		status     int
		answer     string
	}{
		{"all three", list(hashOf(none), hashOf(whole), hashOf(half)), 200, `{"missing":` + list(hashOf(none), hashOf(half)) + `}`},
		{"nothing", `[]`, 200, `{"missing":[]}`},
		{"500", list(many[:500]...), 200, `{"missing":` + list(many[:500]...) + `}`},
		{"501", list(many...), 400, `{"error":{"code":"malformed",`},
		{"no list", `{"a":1}`, 400, `{"error":{"code":"malformed",`},
		{"no JSON", `[`, 400, `{"error":{"code":"malformed",`},
		{"nothing at all", ``, 400, `{"error":{"code":"malformed",`},
		{"what is no hash", `["../../etc/passwd"]`, 400, `{"error":{"code":"hash",`},
		{"more than is read", `["` + strings.Repeat("a", 100_000) + `"]`, 400, `{"error":{"code":"malformed",`},
	}
	for _, tt := range tests {
		if w := answer(h, ask(tt.body)); w.Code != tt.status || !strings.HasPrefix(w.Body.String(), tt.answer) {
			t.Errorf("%s: %d %.200s, want %d %.200s", tt.name, w.Code, w.Body, tt.status, tt.answer)
		}
	}
	r := ask(`[]`)
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	checkError(t, answer(h, r), 403, "origin")
}
