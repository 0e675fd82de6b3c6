package photos

import (
	"bytes"
	"image"
	"image/jpeg"

	"golang.org/x/image/draw"
)

const (
	smallSide    = 320 // pixels of a thumbnail's longer side
	smallQuality = 80
)

// smallOf decodes a picture and makes its thumbnail: a JPEG, turned as the picture is to be seen, without
// metadata. What is wrong with the picture is a *Refusal, also where it brings a decoder to a fault.
func smallOf(data []byte, limits Limits) (small []byte, err error) {
	defer func() {
		if recover() != nil {
			small, err = nil, refuseDamaged()
		}
	}()
	return makeSmall(data, limits)
}

func makeSmall(data []byte, limits Limits) ([]byte, error) {
	picture, err := decode(data, limits)
	if err != nil {
		return nil, err
	}
	var small bytes.Buffer
	err = jpeg.Encode(&small, turned(scaled(picture.pixels), picture.turn), &jpeg.Options{Quality: smallQuality})
	return small.Bytes(), err
}

// scaled is a picture on white paper, no larger than it was.
func scaled(picture image.Image) *image.RGBA {
	size := picture.Bounds().Size()
	if longer := max(size.X, size.Y); longer > smallSide {
		size.X = max(size.X*smallSide/longer, 1)
		size.Y = max(size.Y*smallSide/longer, 1)
	}
	paper := image.NewRGBA(image.Rectangle{Max: size})
	draw.Draw(paper, paper.Bounds(), image.White, image.Point{}, draw.Src)
	draw.BiLinear.Scale(paper, paper.Bounds(), picture, picture.Bounds(), draw.Over, nil)
	return paper
}

// turned is a picture as it is to be seen.
func turned(stored *image.RGBA, o orientation) *image.RGBA {
	size := stored.Bounds().Size()
	seen := image.NewRGBA(image.Rectangle{Max: size})
	if o.lies() {
		seen = image.NewRGBA(image.Rect(0, 0, size.Y, size.X))
	}
	for y := range size.Y {
		for x := range size.X {
			column, row := x, y
			if o.columnsTurned() {
				column = size.X - 1 - x
			}
			if o.rowsTurned() {
				row = size.Y - 1 - y
			}
			if o.lies() {
				column, row = row, column
			}
			seen.SetRGBA(column, row, stored.RGBAAt(x, y))
		}
	}
	return seen
}
