// Command make draws the pictures of tags that the scanner is tested with, beside itself: a tag as rsc.io/qr
// makes its code, seen by a poor camera. Everything is seeded, so that a second run gives the same bytes.
//
//	go run ./testdata/tags
package main

import (
	"image"
	"image/color"
	"image/png"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"

	"rsc.io/qr"
)

const (
	side  = 240 // pixels of a picture, which is square
	quiet = 4   // modules of white around a code
	grain = 8   // steps between two greys, so that noise does not fill the disk
)

// look is how one picture of a tag comes about.
type look struct {
	file, text  string
	turn        float64 // degrees
	lean, slant float64 // perspective, of the side's length: how much the far edges shrink
	size        float64 // the code's side with its quiet zone, of the picture's
	dark, light float64 // what black and white of the label look like, 0 to 255
	shade       float64 // how much of the light is gone at the right edge
	noise       float64 // standard deviation, of 255
	blur        float64 // standard deviation, pixels
	faded       float64 // share of the code, from its left, whose ink has paled to half
}

func main() {
	looks := []look{
		{file: "plain", text: "HKV 4J", size: .8, dark: 30, light: 235},
		{file: "turned", text: "AC3 7W", size: .62, turn: 37, dark: 40, light: 220},
		{file: "tilted", text: "QTP 96", size: .85, turn: -12, lean: .32, slant: .18, dark: 40, light: 215},
		{file: "dim", text: "NXD 3U", size: .75, turn: 6, dark: 22, light: 74, shade: .35, noise: 7},
		{file: "blurred", text: "MRE 6F", size: .8, turn: 4, dark: 45, light: 210, blur: 2.1, noise: 2},
		{file: "faded", text: "VYG 9C", size: .78, turn: -5, dark: 45, light: 225, faded: .5, noise: 3},
		{file: "unreadable", text: "FKM 7A", size: .5, turn: 20, dark: 60, light: 200, blur: 9, noise: 8},
	}
	for i, l := range looks {
		if err := l.write(rand.New(rand.NewPCG(2027, uint64(i)))); err != nil {
			log.Fatalf("drawing %s: %v", l.file, err)
		}
	}
}

func (l look) write(random *rand.Rand) error {
	code, err := qr.Encode(l.text, qr.M)
	if err != nil {
		return err
	}
	seen := l.blurred(l.seen(code))
	img := image.NewGray(image.Rect(0, 0, side, side))
	for i, v := range seen {
		v += random.NormFloat64() * l.noise
		step := math.Round(min(max(v, 0), 255-grain)/grain) * grain
		img.SetGray(i%side, i/side, color.Gray{Y: uint8(step)})
	}
	file, err := os.Create(filepath.Join("testdata", "tags", l.file+".png"))
	if err != nil {
		return err
	}
	defer file.Close()
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	return encoder.Encode(file, img)
}

// seen is each pixel's light, the mean of nine points in it.
func (l look) seen(code *qr.Code) []float64 {
	seen := make([]float64, side*side)
	for i := range seen {
		for k := range 9 {
			x, y := float64(i%side)+float64(k%3)/3+1./6, float64(i/side)+float64(k/3)/3+1./6
			seen[i] += l.at(code, x, y) / 9
		}
	}
	return seen
}

func (l look) at(code *qr.Code, x, y float64) float64 {
	light := 1 - l.shade*x/side
	// From the picture back to the tag's plane, with the picture's middle at 0.
	x, y = x/side-.5, y/side-.5
	sin, cos := math.Sincos(-l.turn * math.Pi / 180)
	x, y = x*cos-y*sin, x*sin+y*cos
	depth := 1 - 2*l.lean*y - 2*l.slant*x
	modules := float64(code.Size + 2*quiet)
	u, v := (x/depth/l.size+.5)*modules, (y/depth/l.size+.5)*modules
	if u < 0 || v < 0 || u >= modules || v >= modules {
		return light * (l.dark + .45*(l.light-l.dark)) // soil and leaves
	}
	if !code.Black(int(u)-quiet, int(v)-quiet) {
		return light * l.light
	}
	if u < l.faded*modules {
		return light * (l.dark + l.light) / 2
	}
	return light * l.dark
}

// blurred spreads the light as a lens out of focus does, by a Gaussian in each direction.
func (l look) blurred(seen []float64) []float64 {
	if l.blur == 0 {
		return seen
	}
	reach := int(3 * l.blur)
	for _, step := range []int{1, side} {
		spread := make([]float64, len(seen))
		for i := range seen {
			var sum, weights float64
			at := i % side
			if step == side {
				at = i / side
			}
			for d := -reach; d <= reach; d++ {
				if at+d < 0 || at+d >= side {
					continue
				}
				w := math.Exp(-float64(d*d) / (2 * l.blur * l.blur))
				sum, weights = sum+w*seen[i+d*step], weights+w
			}
			spread[i] = sum / weights
		}
		seen = spread
	}
	return seen
}
