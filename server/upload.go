package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"slices"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"arrisbook/lessons/pack"
)

// uploads are the addresses that take files: there a multipart form may be
// longer than any other form, and is read only once somebody was let in.
var uploads = []string{
	"/modules", "/modules/check", "/modules/:own/edit", "/modules/import",
}

// mostUpload is the longest form with files.
const mostUpload = pack.MaxFile + 1<<20

// bringsFiles says whether a request may bring files along.
func bringsFiles(c echo.Context) bool {
	kind, _, err := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType))
	return err == nil && kind == echo.MIMEMultipartForm && c.Request().Method == http.MethodPost && slices.Contains(uploads, c.Path())
}

// limitBody refuses bodies longer than a form of this address may be.
func limitBody() echo.MiddlewareFunc {
	return middleware.BodyLimitWithConfig(middleware.BodyLimitConfig{Limit: bodyLimit, Skipper: bringsFiles})
}

// readUpload reads a form that may bring files, in a handler of one of the
// uploads. done must be called once the files are looked at: only so many are
// in memory at a time.
func (s *server) readUpload(c echo.Context) (done func(), err error) {
	if !bringsFiles(c) {
		return func() {}, nil // read before
	}
	if done, err = s.enterUpload(c.Request().Context()); err != nil {
		return nil, err
	}
	if err = readFiles(c); err != nil {
		done()
		return nil, err
	}
	return done, nil
}

// uploadTime is how long a form with files may take to arrive: 16 MB at half a
// megabit a second. Other forms have the time that the server gives every
// request.
const uploadTime = 5 * time.Minute

func readFiles(c echo.Context) error {
	r := c.Request()
	defer grantTime(c)()
	r.Body = http.MaxBytesReader(c.Response(), r.Body, mostUpload)
	err := r.ParseMultipartForm(mostUpload)
	if _, long := errors.AsType[*http.MaxBytesError](err); long {
		return echo.NewHTTPError(http.StatusRequestEntityTooLarge)
	}
	if err != nil {
		return echo.NewHTTPError(http.StatusBadRequest)
	}
	return nil
}

// grantTime lets the form of somebody who was let in take its time; the function
// it gives ends that. A connection that cannot be told so keeps its own limits.
func grantTime(c echo.Context) (end func()) {
	control := http.NewResponseController(c.Response())
	if control.SetReadDeadline(time.Time{}) != nil || control.SetWriteDeadline(time.Time{}) != nil {
		return func() {}
	}
	over := time.AfterFunc(uploadTime, func() { _ = control.SetReadDeadline(time.Unix(1, 0)) })
	return func() { over.Stop() }
}

// uploadsAtOnce bounds the memory that files take while they are looked at.
const uploadsAtOnce = 2

// enterUpload waits for its turn among those who send files.
func (s *server) enterUpload(ctx context.Context) (done func(), err error) {
	select {
	case s.uploading <- struct{}{}:
		return func() { <-s.uploading }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// filesOf gives the files of one field, but for fields in which nothing was
// chosen.
func filesOf(c echo.Context, field string) []*multipart.FileHeader {
	form := c.Request().MultipartForm
	if form == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(form.File[field]), func(f *multipart.FileHeader) bool {
		return f.Filename == "" && f.Size == 0
	})
}

// contents reads one file that was sent along.
func contents(f *multipart.FileHeader) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("open an uploaded file: %w", err)
	}
	defer r.Close()
	body, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("read an uploaded file: %w", err)
	}
	return body, nil
}
