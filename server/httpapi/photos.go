package httpapi

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"corymb/server/photos"
)

// Photos keeps the bytes of photos.
type Photos interface {
	Limits() photos.Limits
	Have(photos.Sender, photos.Hash) (photos.State, error)
	Write(ctx context.Context, from photos.Sender, h photos.Hash, size, offset int64, piece io.Reader) (photos.State, error)
	Open(photos.Hash) (*photos.Photo, error)
	Small(context.Context, photos.Hash) (*photos.Photo, error)
	Remove(context.Context, photos.Hash) error
}

// photoPolicy is that of a photo that somebody opens by its address: it is a picture, and runs nothing.
const photoPolicy = "default-src 'none'; sandbox"

const (
	maxMissing      = 500      // hashes in one question
	maxMissingBytes = 64 << 10 // of that question
)

// photoReading adds the routes that show photos and say which are here.
func (config Config) photoReading(api gin.IRoutes) {
	api.GET("/photos/:hash", config.getPhoto)
	api.HEAD("/photos/:hash", config.getPhoto)
	api.GET("/photos/:hash/small", config.getSmall)
	api.HEAD("/photos/:hash/small", config.getSmall)
	api.POST("/photos/missing", config.postMissing)
}

// getPhoto answers GET and HEAD /api/photos/:hash.
func (config Config) getPhoto(c *gin.Context) {
	if h, ok := photoHash(c); ok {
		photo, err := config.Photos.Open(h)
		config.servePhoto(c, h.String(), photo, err)
	}
}

// getSmall answers GET and HEAD /api/photos/:hash/small: the thumbnail, a JPEG.
func (config Config) getSmall(c *gin.Context) {
	if h, ok := photoHash(c); ok {
		photo, err := config.Photos.Small(c.Request.Context(), h)
		config.servePhoto(c, h.String()+"-small", photo, err)
	}
}

// photoHash reads the hash of an address, or answers that it is none.
func photoHash(c *gin.Context) (photos.Hash, bool) {
	h, err := photos.ParseHash(c.Param("hash"))
	if err != nil {
		refuse(c, http.StatusBadRequest, "hash", "This is not the address of a photo.")
	}
	return h, err == nil
}

// deletePhoto answers DELETE /api/photos/:hash: the photo's bytes are deleted, and not taken again. What the
// log says of it stays.
func (config Config) deletePhoto(c *gin.Context) {
	h, ok := photoHash(c)
	if !ok {
		return
	}
	if err := config.Photos.Remove(c.Request.Context(), h); err != nil {
		config.failed(c, "a photo was not removed", err)
		return
	}
	config.events.changed(c, "a photo was removed", "photo", h)
	c.Status(http.StatusNoContent)
}

// sender is who sends photos.
func sender(c *gin.Context) photos.Sender { return photos.SenderOf(deviceOf(c).ID) }

// servePhoto answers with a photo under its name, as the picture that it is and nothing else. Browsers keep
// it and ask whether it is still there.
func (config Config) servePhoto(c *gin.Context, name string, photo *photos.Photo, err error) {
	if errors.Is(err, fs.ErrNotExist) {
		refuse(c, http.StatusNotFound, "not_here", "This photo has not come to the shed yet. It comes when the phone that took it is in reach.")
		return
	}
	if errors.Is(err, photos.ErrRemoved) {
		refuse(c, http.StatusGone, string(photos.CodeRemoved), "An owner removed this photo from the farm.")
		return
	}
	if err != nil {
		config.failed(c, "a photo could not be opened", err)
		return
	}
	defer func() { _ = photo.Close() }() // it was only read
	c.Header("Content-Security-Policy", photoPolicy)
	c.Header("Content-Type", photo.MediaType)
	c.Header("Content-Disposition", `inline; filename="`+name+photo.Extension+`"`)
	c.Header("Cache-Control", "private, no-cache")
	c.Header("ETag", `"`+name+`"`)
	http.ServeContent(c.Writer, c.Request, "", time.Time{}, photo)
}

// postMissing answers POST /api/photos/missing, whose body is a list of hashes: those of which the shed
// lacks the bytes.
func (config Config) postMissing(c *gin.Context) {
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, maxMissingBytes)
	var asked []string
	if err := c.ShouldBindJSON(&asked); err != nil || len(asked) > maxMissing {
		refuse(c, http.StatusBadRequest, "malformed", "A question for photos is a list of 500 hashes at most.")
		return
	}
	missing := []string{}
	for _, text := range asked {
		h, err := photos.ParseHash(text)
		if err != nil {
			refuse(c, http.StatusBadRequest, "hash", "A question for photos holds something that is not a hash.")
			return
		}
		state, err := config.Photos.Have(sender(c), h)
		if err != nil {
			config.failed(c, "it could not be seen which photos are here", err)
			return
		}
		if !state.Whole {
			missing = append(missing, text)
		}
	}
	c.JSON(http.StatusOK, gin.H{"missing": missing})
}
