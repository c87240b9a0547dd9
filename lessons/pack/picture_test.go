package pack

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
)

// corner is a picture that is black in its first pixels and light elsewhere.
func corner(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.RGBA{240, 230, 220, 255})
			if x < w/4 && y < h/4 {
				img.Set(x, y, color.Black)
			}
		}
	}
	return img
}

func pngOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func jpegOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// tinyWebP is a lossless WebP picture of one pixel, written by hand from the
// format's description (RFC 9649): a head and one piece VP8L.
var tinyWebP, _ = base64.StdEncoding.DecodeString("UklGRhoAAABXRUJQVlA4TA0AAAAvAAAAEAcQERGIiP4HAA==")

const secret = "51 deg 30' N, taken by Wanda"

// pngPiece makes a piece of a PNG file.
func pngPiece(kind, text string) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(text)))
	out = append(out, kind...)
	out = append(out, text...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// withPNGText puts a note behind the head of a PNG file, and something behind
// its end.
func withPNGText(body []byte) []byte {
	head := len(pngMark) + 25
	out := append(bytes.Clone(body[:head]), pngPiece("tEXt", "Comment\x00"+secret)...)
	out = append(out, pngPiece("eXIf", "MM\x00*"+secret)...)
	return append(append(out, body[head:]...), "<script>"+secret...)
}

// exif is a camera's piece of a JPEG file that says how it was held.
func exif(turn byte) []byte {
	text := "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00" + string([]byte{turn}) + "\x00\x00\x00\x00\x00\x00" + secret
	return append([]byte{0xff, 0xe1, 0, byte(len(text) + 2)}, text...)
}

func withExif(body []byte, turn byte) []byte {
	out := append(bytes.Clone(body[:2]), exif(turn)...)
	out = append(out, 0xff, 0xfe, 0, byte(len(secret)+2))
	out = append(out, secret...)
	return append(append(out, body[2:]...), "<script>"+secret...)
}

func withWebPExif(body []byte) []byte {
	out := append(bytes.Clone(body), "EXIF"...)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(secret)))
	out = append(append(out, secret...), make([]byte, len(secret)%2)...)
	return out
}

// A clean picture shows the same and tells nothing else, and cleaning it again
// changes nothing.
func TestCleanKeepsThePictureOnly(t *testing.T) {
	cases := []struct {
		name, kind string
		body       []byte
		w, h       int
	}{
		{"a.png", "image/png", pngOf(t, corner(40, 20)), 40, 20},
		{"note.png", "image/png", withPNGText(pngOf(t, corner(40, 20))), 40, 20},
		{"large.png", "image/png", pngOf(t, corner(3200, 800)), 1600, 400},
		{"a.jpg", "image/jpeg", jpegOf(t, corner(40, 20)), 40, 20},
		{"held.jpeg", "image/jpeg", withExif(jpegOf(t, corner(40, 20)), 1), 40, 20},
		{"aside.jpg", "image/jpeg", withExif(jpegOf(t, corner(40, 20)), 6), 20, 40},
		{"large.jpg", "image/jpeg", withExif(jpegOf(t, corner(800, 2000)), 3), 640, 1600},
		{"a.webp", "image/webp", tinyWebP, 1, 1},
		{"note.webp", "image/webp", withWebPExif(tinyWebP), 1, 1},
		{"wrongly-named.png", "image/jpeg", jpegOf(t, corner(40, 20)), 40, 20},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := Clean(c.name, c.body)
			if err != nil {
				t.Fatalf("Clean(%s) = %v", c.name, err)
			}
			if got.Name != c.name || got.Type != c.kind || got.Width != c.w || got.Height != c.h {
				t.Errorf("Clean(%s) = %s, %s, %d × %d, want %s, %d × %d", c.name, got.Name, got.Type, got.Width, got.Height, c.kind, c.w, c.h)
			}
			if bytes.Contains(got.Body, []byte("Wanda")) {
				t.Errorf("Clean(%s) still tells where and by whom", c.name)
			}
			again, err := Clean(c.name, got.Body)
			if err != nil || !bytes.Equal(again.Body, got.Body) {
				t.Errorf("Clean(%s) twice = %d bytes, %v, want the same %d", c.name, len(again.Body), err, len(got.Body))
			}
		})
	}
}

// However the camera was held, the dark corner comes out where the table of
// the format puts it: top left of the picture as it was seen.
func TestCleanSetsUpright(t *testing.T) {
	seen := corner(40, 24)
	for n := 1; n <= 8; n++ {
		// The picture as stored: what turned undoes. Of turns, 6 and 8 undo each
		// other; the others undo themselves.
		undo := map[int]int{6: 8, 8: 6}[n]
		if undo == 0 {
			undo = n
		}
		stored := turned(seen, undo)
		got, err := Clean("a.jpg", withExif(jpegOf(t, stored), byte(n)))
		if err != nil {
			t.Fatal(err)
		}
		img, err := jpeg.Decode(bytes.NewReader(got.Body))
		if err != nil {
			t.Fatal(err)
		}
		r, _, _, _ := img.At(2, 2).RGBA()
		far, _, _, _ := img.At(37, 21).RGBA()
		if got.Width != 40 || got.Height != 24 || r > 0x4000 || far < 0xc000 {
			t.Errorf("held as %d: %d × %d, corner %#x, far corner %#x, want 40 × 24, dark, light", n, got.Width, got.Height, r, far)
		}
	}
}

func TestCleanRefuses(t *testing.T) {
	good, photo := pngOf(t, corner(40, 20)), jpegOf(t, corner(40, 20))
	huge := bytes.Clone(good)
	binary.BigEndian.PutUint32(huge[16:], 60_000)
	binary.BigEndian.PutUint32(huge[20:], 60_000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	cases := []struct {
		what, name string
		body       []byte
		want       string
	}{
		{"another kind", "a.png", []byte("GIF89a\x01\x00\x01\x00"), "no picture of the kinds"},
		{"a drawing with script", "a.png", []byte(`<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`), "no picture of the kinds"},
		{"a page", "a.jpg", []byte("<!doctype html><script>alert(1)</script>"), "no picture of the kinds"},
		{"a page behind a mark", "a.png", []byte(pngMark + "<script>alert(1)</script>"), "damaged"},
		{"nothing", "a.png", nil, "no picture of the kinds"},
		{"cut", "a.png", good[:len(good)-20], "damaged"},
		{"changed", "a.png", append(append(bytes.Clone(good[:50]), good[50]^1), good[51:]...), "damaged"},
		{"a photograph, cut", "a.jpg", photo[:len(photo)-20], "damaged"},
		{"a photograph's head alone", "a.jpg", []byte("\xff\xd8\xff\xe0"), "damaged"},
		{"far too many pixels", "a.png", huge, "60000 × 60000 pixels"},
		{"too long", "a.png", make([]byte, mostPicture+1), "more than 8 MB"},
		{"a name that leads out", "../a.png", good, "call a picture"},
		{"a name with a space", "a b.png", good, "call a picture"},
		{"a name that hides", ".a.png", good, "call a picture"},
		{"a drawing by name", "a.svg", good, "call a picture"},
		{"a long name", strings.Repeat("a", 90) + ".png", good, "call a picture"},
		{"webp cut", "a.webp", tinyWebP[:20], "damaged"},
	}
	for _, c := range cases {
		if _, err := Clean(c.name, c.body); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Clean(%s) = %v, want it to say %q", c.what, err, c.want)
		}
	}
}
