package server

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"path"
	"strings"

	"github.com/labstack/echo/v4"
)

var lessonPictureRoutes = []route{
	{http.MethodGet, "/lessons/:module/:picture", forAnybody, (*server).getLessonPicture},
}

// pictureTypes are the kinds of picture that a module's folder may hold.
var pictureTypes = map[string]string{
	".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".webp": "image/webp",
}

// getLessonPicture sends a picture that stands beside the text of a module of
// the program. Such files are compressed by their nature; a browser that has
// one already is told so.
func (s *server) getLessonPicture(c echo.Context) error {
	m, ok := s.cfg.Lessons.Module(c.Param("module"))
	if !ok {
		return errNotFound
	}
	name := c.Param("picture")
	kind := pictureTypes[strings.ToLower(path.Ext(name))]
	picture, ok := m.Picture(name)
	if !ok || kind == "" {
		return errNotFound
	}
	sum := sha256.Sum256(picture)
	etag := `"` + hex.EncodeToString(sum[:8]) + `"`
	h := c.Response().Header()
	h.Set("Cache-Control", "public, no-cache")
	h.Set("ETag", etag)
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	if c.Request().Header.Get("If-None-Match") == etag {
		return c.NoContent(http.StatusNotModified)
	}
	return c.Blob(http.StatusOK, kind, picture)
}
