package server

import (
	"github.com/labstack/echo/v4"

	"arrisbook/server/store"
)

// principal is who sends a request: one of the staff, a student, or nobody.
type principal struct {
	Staff   *store.Staff
	Student *store.Student
	// Shared says that the student sits at a PC that others use too.
	Shared bool
	// Lapsed says that the request came with a session whose time was up, and
	// where its holder signs in again. Then there is neither staff nor student.
	Lapsed string
}

// scope is what the address names, as far as this principal may see it.
type scope struct {
	Class  store.Class
	Member *store.Member // nil for a student
	Sheet  int           // 0: none named
}

// The keys under which a request carries them.
const (
	keyPrincipal = "principal"
	keyScope     = "scope"
)

func who(c echo.Context) principal {
	p, _ := c.Get(keyPrincipal).(principal)
	return p
}

func where(c echo.Context) scope {
	s, _ := c.Get(keyScope).(scope)
	return s
}
