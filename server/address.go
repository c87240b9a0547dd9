package server

import (
	"net"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"
)

// publicURL is where people reach the server, without a stroke at the end: as
// configured, else as this request reached it.
func (s *server) publicURL(c echo.Context) string {
	if s.cfg.PublicURL != "" {
		return strings.TrimRight(s.cfg.PublicURL, "/")
	}
	scheme := "http"
	if c.Request().TLS != nil || s.cfg.TrustProxy && c.Request().Header.Get(echo.HeaderXForwardedProto) == "https" {
		scheme = "https"
	}
	return scheme + "://" + c.Request().Host
}

// reachesNobody says whether an address works on the server's own machine
// only: a phone that follows it finds nothing.
func reachesNobody(address string) bool {
	u, err := url.Parse(address)
	if err != nil {
		return true
	}
	host := u.Hostname()
	if host == "localhost" || strings.HasSuffix(host, ".localhost") {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && (ip.IsLoopback() || ip.IsUnspecified())
}

// bareAddress is an address as people type it, without the scheme.
func bareAddress(address string) string {
	_, bare, _ := strings.Cut(address, "://")
	return bare
}
