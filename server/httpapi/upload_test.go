package httpapi_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"syscall"
	"testing"

	"corymb/server/httpapi"
	"corymb/server/photos"
)

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

func (s sick) Have(photos.Sender, photos.Hash) (photos.State, error) { return photos.State{}, s.err }
func (s sick) Open(photos.Hash) (*photos.Photo, error)               { return nil, s.err }
func (s sick) Remove(context.Context, photos.Hash) error             { return s.err }
func (s sick) Small(context.Context, photos.Hash) (*photos.Photo, error) {
	return nil, s.err
}
func (s sick) Write(context.Context, photos.Sender, photos.Hash, int64, int64, io.Reader) (photos.State, error) {
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
		{&photos.Refusal{Code: photos.CodeNoRoom, Text: "no room"}, 507, "no_room"},
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
		call(h, "DELETE", address),
		answer(h, ask(`["`+hashOf(data)+`"]`)),
	} {
		checkError(t, w, 500, "failed")
	}
}
