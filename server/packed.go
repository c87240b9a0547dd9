package server

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"arrisbook/web"
)

// packedPage is a finished page that is the same for everybody: with its
// compressed form, and with all headers of either form written out once. The
// headers are shared by all answers and must not be changed.
type packedPage struct {
	body, packed         []byte
	etag                 string
	plain, zipped, known http.Header
}

// pack finishes a page.
func (s *server) pack(body []byte) (packedPage, error) {
	zipped, err := web.Compress(body)
	if err != nil {
		return packedPage{}, fmt.Errorf("compress a page: %w", err)
	}
	sum := sha256.Sum256(body)
	p := packedPage{body: body, packed: zipped, etag: `"` + hex.EncodeToString(sum[:8]) + `"`}
	p.known = http.Header{}
	s.setSecure(p.known)
	p.known.Set("Cache-Control", "public, no-cache")
	p.known.Set("ETag", p.etag)
	p.known.Set("Vary", "Accept-Encoding")
	p.plain, p.zipped = p.known.Clone(), p.known.Clone()
	for h, form := range map[*http.Header][]byte{&p.plain: p.body, &p.zipped: p.packed} {
		h.Set("Content-Type", echo.MIMETextHTMLCharsetUTF8)
		h.Set("Content-Length", strconv.Itoa(len(form)))
	}
	p.zipped.Set("Content-Encoding", "gzip")
	return p, nil
}

// ServeHTTP sends the page. A browser that has it already is told so.
func (p packedPage) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	switch {
	case r.Header.Get("If-None-Match") == p.etag:
		maps.Copy(w.Header(), p.known)
		w.WriteHeader(http.StatusNotModified)
	case takesGzip(r.Header.Get("Accept-Encoding")):
		maps.Copy(w.Header(), p.zipped)
		_, _ = w.Write(p.packed)
	default:
		maps.Copy(w.Header(), p.plain)
		_, _ = w.Write(p.body)
	}
}
