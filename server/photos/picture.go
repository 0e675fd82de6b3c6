package photos

import (
	"bytes"
	"image"
	"io"
)

// headBytes are enough of a file to see its form.
const headBytes = 12

// form is a form of picture that the shed takes.
type form struct {
	mediaType string
	extension string
	begins    func(head []byte) bool
	outline   func(data []byte) (o outline, ok bool)
	config    func(io.Reader) (image.Config, error)
	decode    func(io.Reader) (image.Image, error)
}

var forms = []*form{jpegForm, pngForm, webpForm}

// formOf tells a form by how the bytes begin, never by what somebody calls them.
func formOf(head []byte) (f *form, ok bool) {
	for _, f := range forms {
		if f.begins(head) {
			return f, true
		}
	}
	return nil, false
}

// outline is what can be told of a picture without decoding it.
type outline struct {
	end      int      // where the picture ends
	exif     exifData // nil for none
	passes   int      // over all its pixels
	perPixel float64  // bytes of memory a pixel, at most, while it is decoded
	redone   bool     // its colours are written anew at the end, in four bytes a pixel
}

// maxPasses is far above what cameras and programs write. A file of many passes that say nothing keeps a
// decoder busy for days.
const maxPasses = 100

// decoded is a picture and how it is to be turned.
type decoded struct {
	pixels image.Image
	turn   orientation
}

// decode decodes a picture that nobody vouches for: first what it says of its size is held against the
// limits, then where it ends is found, and only then are its pixels decoded. What goes wrong is a *Refusal.
func decode(data []byte, limits Limits) (decoded, error) {
	form, known := formOf(data)
	if !known {
		return decoded{}, refuseType()
	}
	config, err := form.config(bytes.NewReader(data))
	if err != nil {
		return decoded{}, refuseDamaged()
	}
	if err := limits.allow(config); err != nil {
		return decoded{}, err
	}
	outline, ok := form.outline(data)
	if !ok {
		return decoded{}, refuseDamaged()
	}
	if outline.memory(config) > float64(limits.Memory) || outline.passes > maxPasses {
		return decoded{}, refusePixels(config)
	}
	if outline.end < len(data) {
		return decoded{}, refusef(CodeTrailing, "Something else follows the picture in this file, perhaps a film that the camera put there, so it was not kept. The record it belongs to is safe. Send the picture alone.")
	}
	picture, err := form.decode(bytes.NewReader(data))
	if err != nil || picture.Bounds() != image.Rect(0, 0, config.Width, config.Height) {
		return decoded{}, refuseDamaged()
	}
	return decoded{picture, outline.exif.orientation()}, nil
}

// memory is what the pixels take at most while they are decoded, in bytes.
func (o outline) memory(c image.Config) float64 {
	perPixel := o.perPixel
	if o.redone {
		perPixel += 4
	}
	return perPixel * float64(c.Width) * float64(c.Height)
}

// allow holds against the limits what a picture says of its size.
func (l Limits) allow(c image.Config) error {
	if c.Width < 1 || c.Height < 1 {
		return refuseDamaged()
	}
	if max(c.Width, c.Height) > l.Side || int64(c.Width)*int64(c.Height) > l.Pixels {
		return refusePixels(c)
	}
	return nil
}

func refuseType() error {
	return refusef(CodeType, "This is not a JPEG, PNG or WebP picture, so it was not kept. The record it belongs to is safe. Choose another photo.")
}

func refuseDamaged() error {
	return refusef(CodeDamaged, "This picture cannot be read, so it was not kept: it is damaged, or of a kind that the shed does not know. The record it belongs to is safe. Take the photo again.")
}

func refusePixels(c image.Config) error {
	return refusef(CodePixels, "This picture, of %d by %d pixels, is too large to be opened safely, so it was not kept. The record it belongs to is safe. Take the photo again in a smaller size.", c.Width, c.Height)
}
