package httpapi_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"syscall"
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

// checkShown looks whether a photo is answered as a picture and nothing else, to be kept for good.
func checkShown(t *testing.T, w *httptest.ResponseRecorder, name string) {
	t.Helper()
	want := map[string]string{
		"Content-Type": "image/jpeg", "Content-Disposition": `inline; filename="` + name + `"`,
		"Cache-Control":           "private, max-age=31536000, immutable",
		"Content-Security-Policy": "default-src 'none'; sandbox", "X-Content-Type-Options": "nosniff",
		"Cross-Origin-Resource-Policy": "same-origin", "X-Frame-Options": "DENY",
	}
	for header, value := range want {
		if got := w.Header().Values(header); w.Code != 200 || len(got) != 1 || got[0] != value {
			t.Errorf("%d, %s is %q, want %q", w.Code, header, got, value)
		}
	}
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

func TestAPieceThatIsNotTakenIsAnsweredWithTheReason(t *testing.T) {
	data := photo(t, 300)
	svg := []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`)
	headers := func(data []byte, pairs ...string) *http.Request {
		r := piece(data, 0, len(data))
		for i := 0; i < len(pairs); i += 2 {
			r.Header.Set(pairs[i], pairs[i+1])
		}
		return r
	}
	bomb := bytes.Clone(data)
	i := bytes.Index(bomb, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint32(bomb[i+5:], 0xffff_ffff)
	wrong := headers(data)
	wrong.URL.Path = "/api/photos/" + hashOf(svg) + "/upload"
	unknownLength := headers(bytes.Repeat(data, 40))
	unknownLength.ContentLength, unknownLength.Body = -1, io.NopCloser(bytes.NewReader(bytes.Repeat(data, 40)))
	tests := []struct {
		name     string
		request  *http.Request
		status   int
		code     string
		complete string
	}{
		{"as another media type", headers(data, "Content-Type", "image/jpeg"), 415, "media_type", ""},
		{"without an offset", headers(data, "Upload-Offset", ""), 400, "malformed", ""},
		{"without a length", headers(data, "Upload-Length", ""), 400, "malformed", ""},
		{"at less than nothing", headers(data, "Upload-Offset", "-1"), 400, "malformed", ""},
		{"at no whole number", headers(data, "Upload-Offset", "1.5"), 400, "malformed", ""},
		{"at a number with a sign", headers(data, "Upload-Offset", "+0"), 400, "malformed", ""},
		{"at a number without end", headers(data, "Upload-Offset", strings.Repeat("9", 30)), 400, "malformed", ""},
		{"with a gap before it", headers(data, "Upload-Offset", "100"), 409, "offset", "?0"},
		{"of a photo that is too large", headers(data, "Upload-Length", "25165825"), 413, "too_large", "?0"},
		{"longer than announced", headers(data, "Upload-Length", "100"), 400, "length", "?0"},
		{"too large", headers(bytes.Repeat(data, 40)), 413, "too_large", "?0"},
		{"too large and of unknown length", unknownLength, 413, "too_large", "?0"},
		{"that is a drawing called a photo", headers(svg), 422, "type", "?1"},
		{"of other bytes than its hash says", wrong, 422, "hash", "?1"},
		{"that says to be of four billion pixels", headers(bomb), 422, "pixels", "?1"},
		{"with a page behind the picture", headers(append(bytes.Clone(data), "<script>"...)), 422, "trailing", "?1"},
		{"from a page of another site", headers(data, "Sec-Fetch-Site", "cross-site"), 403, "origin", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			h, kept := photoDoor(t, nil)
			w := answer(h, tt.request)
			checkError(t, w, tt.status, tt.code)
			if got := w.Header().Get("Upload-Complete"); got != tt.complete {
				t.Errorf("Upload-Complete is %q, want %q", got, tt.complete)
			}
			if list, err := kept.List(); err != nil || len(list) != 0 {
				t.Errorf("it was kept: %v %v", list, err)
			}
		})
	}
}

// sick is a folder of photos that cannot be written or read.
type sick struct {
	httpapi.Photos
	err error
}

func (s sick) Have(photos.Hash) (photos.State, error)  { return photos.State{}, s.err }
func (s sick) Open(photos.Hash) (*photos.Photo, error) { return nil, s.err }
func (s sick) Small(context.Context, photos.Hash) (*photos.Photo, error) {
	return nil, s.err
}
func (s sick) Write(context.Context, photos.Hash, int64, int64, io.Reader) (photos.State, error) {
	return photos.State{Bytes: 7}, s.err
}

func TestAFaultOfTheFolderIsToldWithoutItsCause(t *testing.T) {
	data := photo(t, 30)
	tests := []struct {
		err    error
		status int
		code   string
	}{
		{errDisk, 500, "failed"},
		{&photos.Refusal{Code: photos.CodeFull, Text: "full"}, 507, "full"},
		{&photos.Refusal{Code: photos.CodeCrowded, Text: "crowded"}, 503, "crowded"},
		{fmt.Errorf("storing: %w", &photos.Refusal{Code: photos.CodeFull, Text: "full"}), 507, "full"},
	}
	for _, tt := range tests {
		h, _ := photoDoor(t, func(c *httpapi.Config) { c.Photos = sick{c.Photos, tt.err} })
		w := answer(h, piece(data, 0, len(data)))
		if checkError(t, w, tt.status, tt.code); w.Header().Get("Upload-Offset") != "7" {
			t.Errorf("Upload-Offset is %q", w.Header().Get("Upload-Offset"))
		}
	}
	h, _ := photoDoor(t, func(c *httpapi.Config) { c.Photos = sick{c.Photos, errors.Join(errDisk, syscall.EIO)} })
	address := "/api/photos/" + hashOf(data)
	for _, w := range []*httptest.ResponseRecorder{
		call(h, "GET", address), call(h, "GET", address+"/small"), call(h, "HEAD", address+"/upload"),
		answer(h, ask(`["`+hashOf(data)+`"]`)),
	} {
		checkError(t, w, 500, "failed")
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
