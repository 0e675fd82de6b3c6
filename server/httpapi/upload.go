package httpapi

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"strconv"

	"github.com/gin-gonic/gin"

	"corymb/server/photos"
)

// The way in for photos has the shape of draft-ietf-httpbis-resumable-upload-10, so that a client for it
// finds what it expects: HEAD tells how far the upload has come, PATCH adds a piece. It differs in what
// the hash gives for nothing: every photo has its upload at an address that is known beforehand, so none
// need be created; the length is told with each piece (Upload-Length), and the upload is complete once so
// many bytes have come, whatever Upload-Complete says in a request. Each device has its own upload of a photo
// until one is whole. Uploads are not cancelled: what nobody goes on with is dropped after a while. A photo
// that an owner removed is refused with 410.

const (
	maxPiece  = 1 << 20 // bytes
	pieceType = "application/partial-upload"
)

// photoWriting adds the routes by which photos come.
func (config Config) photoWriting(api gin.IRoutes) {
	api.HEAD("/photos/:hash/upload", config.headUpload)
	api.PATCH("/photos/:hash/upload", config.patchUpload)
}

// headUpload answers HEAD /api/photos/:hash/upload.
func (config Config) headUpload(c *gin.Context) {
	h, ok := photoHash(c)
	if !ok {
		return
	}
	state, err := config.Photos.Have(sender(c), h)
	if err != nil {
		config.failed(c, "it could not be seen how far a photo has come", err)
		return
	}
	config.tellUpload(c, state)
	if state.Size > 0 {
		c.Header("Upload-Length", strconv.FormatInt(state.Size, 10))
	}
	c.Status(http.StatusNoContent)
}

// tellUpload says how far an upload has come.
func (config Config) tellUpload(c *gin.Context, state photos.State) {
	complete := "?0"
	if state.Whole {
		complete = "?1"
	}
	c.Header("Upload-Offset", strconv.FormatInt(state.Bytes, 10))
	c.Header("Upload-Complete", complete)
	c.Header("Upload-Limit", fmt.Sprintf("max-size=%d, max-append-size=%d", config.Photos.Limits().Bytes, maxPiece))
	c.Header("Cache-Control", "no-store")
}

// patchUpload answers PATCH /api/photos/:hash/upload. Whatever it answers, Upload-Offset says from where
// to go on.
func (config Config) patchUpload(c *gin.Context) {
	h, ok := photoHash(c)
	if !ok {
		return
	}
	if c.ContentType() != pieceType {
		refuse(c, http.StatusUnsupportedMediaType, "media_type", "A piece of a photo is sent as "+pieceType+".")
		return
	}
	offset, hasOffset := wholeNumber(c.GetHeader("Upload-Offset"))
	size, hasSize := wholeNumber(c.GetHeader("Upload-Length"))
	if !hasOffset || !hasSize {
		refuse(c, http.StatusBadRequest, "malformed", "A piece of a photo says where it begins (Upload-Offset) and how long the photo is (Upload-Length).")
		return
	}
	state, err := config.takePiece(c, h, size, offset)
	config.tellUpload(c, state)
	if err != nil {
		config.notTaken(c, err)
		return
	}
	c.Status(http.StatusNoContent)
}

// wholeNumber reads a structured field that is an integer of at least 0 (RFC 9651, section 3.3.1).
func wholeNumber(field string) (int64, bool) {
	n, err := strconv.ParseUint(field, 10, 63)
	return int64(n), err == nil && len(field) <= 15
}

// takePiece hands on a piece as it comes. A phone on a weak line is cut off when patience ends, but what came
// by then counts.
func (config Config) takePiece(c *gin.Context, h photos.Hash, size, offset int64) (photos.State, error) {
	if c.Request.ContentLength > maxPiece {
		state, err := config.Photos.Have(sender(c), h)
		return state, errors.Join(&http.MaxBytesError{Limit: maxPiece}, err)
	}
	piece := http.MaxBytesReader(c.Writer, c.Request.Body, maxPiece)
	return config.Photos.Write(c.Request.Context(), sender(c), h, size, offset, piece)
}

// notTaken answers for a piece that was not taken, or not whole.
func (config Config) notTaken(c *gin.Context, err error) {
	var refusal *photos.Refusal
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &refusal):
		config.refusePhoto(c, refusal)
	case errors.As(err, &tooLarge):
		refuse(c, http.StatusRequestEntityTooLarge, string(photos.CodeTooLarge), "A piece of a photo has 1 MiB at most. What came of it is safe, and the phone goes on in smaller pieces.")
	case errors.Is(err, os.ErrDeadlineExceeded):
		refuse(c, http.StatusRequestTimeout, "slow", "The piece took too long. What came of it is safe, and the phone goes on from there in smaller pieces.")
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, context.Canceled):
		c.Abort() // whoever sent it has gone
	default:
		config.failed(c, "a piece of a photo was not taken", err)
	}
}

// refusePhoto answers with a refusal. By the draft, Upload-Complete then says that the photo itself was
// refused and not a piece of it, so that to go on is of no use.
func (config Config) refusePhoto(c *gin.Context, r *photos.Refusal) {
	status := http.StatusUnprocessableEntity
	switch r.Code {
	case photos.CodeTooLarge:
		status = http.StatusRequestEntityTooLarge
	case photos.CodeOffset:
		status = http.StatusConflict
	case photos.CodeLength:
		status = http.StatusBadRequest
	case photos.CodeCrowded:
		status = http.StatusServiceUnavailable
	case photos.CodeRemoved:
		status = http.StatusGone
	case photos.CodeFull, photos.CodeNoRoom:
		status = http.StatusInsufficientStorage
	}
	if r.Final() {
		c.Header("Upload-Complete", "?1")
	}
	refuse(c, status, string(r.Code), r.Text)
}
