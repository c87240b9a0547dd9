package pack

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"regexp"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/webp"
)

// Limits of one picture.
const (
	mostPicture = 8 << 20  // bytes as sent
	mostPixels  = 25 << 20 // 25 megapixels: twice what phones give; 100 MB decoded
	longestSide = 1600     // pixels kept: twice a phone's width, a hand's breadth in print
	jpegQuality = 85
)

// Picture is one picture of a module, clean: decoded once, without anything
// that is no part of the picture.
type Picture struct {
	Name          string
	Type          string // image/png, image/jpeg or image/webp
	Width, Height int    // pixels
	Body          []byte
}

// pictureName is what a picture may be called; lessons link to no other.
var pictureName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]*\.(png|jpg|jpeg|webp)$`)

// IsPictureName says whether a file may be a picture of a module by its name.
func IsPictureName(name string) bool {
	return len(name) <= 80 && pictureName.MatchString(name)
}

// Clean checks a picture by what it holds, whatever it is called, and leaves
// out what is no picture: where and when a photograph was taken, comments,
// and whatever stands behind the end. A picture that lies on its side by a note
// in it is turned, one that is larger than a page needs is made smaller.
// Cleaning a clean picture gives the same bytes. The error is a sentence.
func Clean(name string, body []byte) (Picture, error) {
	if !IsPictureName(name) {
		return Picture{}, fmt.Errorf("call a picture by letters, digits and hyphens, and end with .png, .jpg or .webp")
	}
	if len(body) > mostPicture {
		return Picture{}, fmt.Errorf("the picture has more than %d MB: make it smaller", mostPicture>>20)
	}
	for _, k := range pictureKinds {
		if k.is(body) {
			p, err := k.clean(body)
			p.Name = name
			return p, err
		}
	}
	return Picture{}, errors.New("this is no picture of the kinds PNG, JPEG and WebP")
}

// pictureKind is one kind of picture, told by its first bytes.
type pictureKind struct {
	is    func([]byte) bool
	clean func([]byte) (Picture, error)
}

var pictureKinds = []pictureKind{
	{func(b []byte) bool { return bytes.HasPrefix(b, []byte(pngMark)) }, cleanPNG},
	{func(b []byte) bool { return bytes.HasPrefix(b, []byte("\xff\xd8\xff")) }, cleanJPEG},
	{func(b []byte) bool {
		return len(b) > 12 && string(b[:4]) == "RIFF" && string(b[8:12]) == "WEBP"
	}, cleanWebP},
}

var (
	errBroken = errors.New("the picture is damaged")
	errMoves  = errors.New("the picture moves; only still ones are taken")
)

// measured checks a picture's size before it is decoded.
func measured(c image.Config, err error) error {
	switch {
	case err != nil:
		return errBroken
	case c.Width < 1 || c.Height < 1:
		return errBroken
	case c.Width > mostPixels/c.Height:
		return fmt.Errorf("the picture has %d × %d pixels: make it smaller", c.Width, c.Height)
	}
	return nil
}

func cleanPNG(body []byte) (Picture, error) {
	if err := measured(png.DecodeConfig(bytes.NewReader(body))); err != nil {
		return Picture{}, err
	}
	kept, err := keepPNG(body)
	if err != nil {
		return Picture{}, err
	}
	img, err := png.Decode(bytes.NewReader(kept))
	if err != nil {
		return Picture{}, errBroken
	}
	if small := fitted(img); small != img {
		var b bytes.Buffer
		if err := png.Encode(&b, small); err != nil {
			return Picture{}, errBroken
		}
		img, kept = small, b.Bytes()
	}
	return picture("image/png", img, kept), nil
}

func cleanJPEG(body []byte) (Picture, error) {
	if err := measured(jpeg.DecodeConfig(bytes.NewReader(body))); err != nil {
		return Picture{}, err
	}
	kept, turn, err := keepJPEG(body)
	if err != nil {
		return Picture{}, err
	}
	img, err := jpeg.Decode(bytes.NewReader(kept))
	if err != nil {
		return Picture{}, errBroken
	}
	if changed := turned(fitted(img), turn); changed != img {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, changed, &jpeg.Options{Quality: jpegQuality}); err != nil {
			return Picture{}, errBroken
		}
		img, kept = changed, b.Bytes()
	}
	return picture("image/jpeg", img, kept), nil
}

// cleanWebP has no writer to make a picture smaller with, so it refuses large
// ones.
func cleanWebP(body []byte) (Picture, error) {
	c, err := webp.DecodeConfig(bytes.NewReader(body))
	if err := measured(c, err); err != nil {
		return Picture{}, err
	}
	if c.Width > longestSide || c.Height > longestSide {
		return Picture{}, fmt.Errorf("the picture has %d × %d pixels; a WebP picture has at most %d on its longer side", c.Width, c.Height, longestSide)
	}
	kept, err := keepWebP(body)
	if err != nil {
		return Picture{}, err
	}
	img, err := webp.Decode(bytes.NewReader(kept))
	if err != nil {
		return Picture{}, errBroken
	}
	return picture("image/webp", img, kept), nil
}

func picture(kind string, img image.Image, body []byte) Picture {
	size := img.Bounds().Size()
	return Picture{Type: kind, Width: size.X, Height: size.Y, Body: body}
}

// fitted makes a picture small enough for a page; one that is, is given back
// as it is.
func fitted(img image.Image) image.Image {
	size := img.Bounds().Size()
	long := max(size.X, size.Y)
	if long <= longestSide {
		return img
	}
	to := image.Rect(0, 0, max(1, size.X*longestSide/long), max(1, size.Y*longestSide/long))
	small := image.NewNRGBA(to)
	xdraw.ApproxBiLinear.Scale(small, to, img, img.Bounds(), draw.Src, nil)
	return small
}

// turned sets a picture upright by the number that a camera writes into it
// (Exif 2.3, tag 0112): 2 to 8 are mirrored or turned; others leave it as it is.
func turned(img image.Image, n int) image.Image {
	if n < 2 || n > 8 {
		return img
	}
	from := img.Bounds()
	w, h := from.Dx(), from.Dy()
	size := image.Rect(0, 0, w, h)
	if n >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	out := image.NewNRGBA(size)
	for y := range h {
		for x := range w {
			tx, ty := upright(n, x, y, w, h)
			out.Set(tx, ty, img.At(from.Min.X+x, from.Min.Y+y))
		}
	}
	return out
}

// upright says where a pixel goes.
func upright(n, x, y, w, h int) (int, int) {
	switch n {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return h - 1 - y, x
	case 7:
		return h - 1 - y, w - 1 - x
	}
	return y, w - 1 - x
}
