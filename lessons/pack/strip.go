package pack

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"slices"
)

const pngMark = "\x89PNG\r\n\x1a\n"

// pngKept are the pieces of a PNG file that make the picture: the critical
// ones, transparency, and how its colours and its pixels are meant (PNG
// specification, third edition, chapter 11). Everything else, text and time
// among it, goes; so does animation.
var pngKept = []string{"IHDR", "PLTE", "IDAT", "IEND", "tRNS", "gAMA", "cHRM", "sRGB", "pHYs"}

// keepPNG keeps the pieces of the picture, up to its end.
func keepPNG(body []byte) ([]byte, error) {
	out := []byte(pngMark)
	rest := body[len(pngMark):]
	for {
		if len(rest) < 12 {
			return nil, errBroken
		}
		n := binary.BigEndian.Uint32(rest)
		if uint64(n)+12 > uint64(len(rest)) {
			return nil, errBroken
		}
		piece, kind := rest[:n+12], string(rest[4:8])
		if crc32.ChecksumIEEE(piece[4:n+8]) != binary.BigEndian.Uint32(piece[n+8:]) {
			return nil, errBroken
		}
		if slices.Contains(pngKept, kind) {
			out = append(out, piece...)
		}
		if kind == "IEND" {
			return out, nil
		}
		rest = rest[n+12:]
	}
}

// The markers of a JPEG file that matter here (ITU-T T.81, table B.1).
const (
	jpegStart = 0xd8
	jpegEnd   = 0xd9
	jpegScan  = 0xda
	jpegApp0  = 0xe0 // JFIF
	jpegApp1  = 0xe1 // Exif, XMP
	jpegApp14 = 0xee // how colours are meant
	jpegApp15 = 0xef
	jpegNote  = 0xfe
)

// keepJPEG leaves out notes and what programs and cameras add, and tells how
// the camera was held (1: upright; 0: it does not say).
func keepJPEG(body []byte) (out []byte, turn int, err error) {
	out = append(out, body[:2]...)
	rest := body[2:]
	for {
		if len(rest) < 4 || rest[0] != 0xff {
			return nil, 0, errBroken
		}
		kind := rest[1]
		if kind == 0xff { // filling
			rest = rest[1:]
			continue
		}
		if kind == jpegEnd || kind == jpegStart || kind >= 0xd0 && kind < jpegStart {
			return nil, 0, errBroken // before any scan
		}
		n := 2 + int(binary.BigEndian.Uint16(rest[2:]))
		if n < 4 || n > len(rest) {
			return nil, 0, errBroken
		}
		if kind == jpegApp1 && turn == 0 {
			turn = exifTurn(rest[4:n])
		}
		if kind <= jpegApp0 || kind == jpegApp14 || kind > jpegApp15 && kind != jpegNote {
			out = append(out, rest[:n]...)
		}
		rest = rest[n:]
		if kind == jpegScan {
			return scans(out, rest, turn)
		}
	}
}

// scans keeps everything from the first scan to the end mark. In a scan a 0xff
// is followed by 0, by 0xd0 to 0xd7, or begins another piece.
func scans(out, rest []byte, turn int) ([]byte, int, error) {
	for i := 0; i+1 < len(rest); i++ {
		if rest[i] != 0xff {
			continue
		}
		switch kind := rest[i+1]; {
		case kind == jpegEnd:
			return append(out, rest[:i+2]...), turn, nil
		case kind == 0 || kind == 0xff || kind >= 0xd0 && kind < jpegStart:
		default:
			// A piece between two scans: tables as a rule, notes in theory.
			if i+4 > len(rest) {
				return nil, 0, errBroken
			}
			n := 2 + int(binary.BigEndian.Uint16(rest[i+2:]))
			if n < 4 || i+n > len(rest) {
				return nil, 0, errBroken
			}
			if kind > jpegApp0 && kind <= jpegApp15 || kind == jpegNote {
				return nil, 0, errBroken
			}
			i += n - 1
		}
	}
	return nil, 0, errBroken
}

// exifTurn finds the number that says how the camera was held; 0 for none.
func exifTurn(app []byte) int {
	tiff, ok := bytes.CutPrefix(app, []byte("Exif\x00\x00"))
	if !ok || len(tiff) < 8 {
		return 0
	}
	var order binary.ByteOrder = binary.LittleEndian
	if string(tiff[:2]) == "MM" {
		order = binary.BigEndian
	}
	at := int64(order.Uint32(tiff[4:]))
	if at+2 > int64(len(tiff)) {
		return 0
	}
	count := int64(order.Uint16(tiff[at:]))
	for i := range count {
		field := at + 2 + 12*i
		if field+12 > int64(len(tiff)) {
			return 0
		}
		if order.Uint16(tiff[field:]) == 0x0112 {
			return int(order.Uint16(tiff[field+8:]))
		}
	}
	return 0
}

// webpKept are the pieces that make a still WebP picture.
var webpKept = []string{"VP8 ", "VP8L", "VP8X", "ALPH"}

// keepWebP keeps the pieces of the picture and takes back what the head says
// about the others.
func keepWebP(body []byte) ([]byte, error) {
	var pieces []byte
	rest := body[12:]
	for len(rest) > 8 {
		n := int64(binary.LittleEndian.Uint32(rest[4:]))
		padded := 8 + n + n%2
		if padded > int64(len(rest)) {
			break
		}
		kind, piece := string(rest[:4]), slices.Clone(rest[:padded])
		if kind == "ANIM" || kind == "ANMF" {
			return nil, errMoves
		}
		if kind == "VP8X" && n > 0 {
			piece[8] &= 0x10 // alpha; the others are profile, Exif, XMP, animation
		}
		if slices.Contains(webpKept, kind) {
			pieces = append(pieces, piece...)
		}
		rest = rest[padded:]
	}
	out := append([]byte("RIFF\x00\x00\x00\x00WEBP"), pieces...)
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	return out, nil
}
