package server

import (
	"fmt"
	"net/url"

	"arrisbook/grading"
	"arrisbook/server/store"
)

// againHref is the address that makes a follow-up of a slip.
func againHref(class store.Class, assignment int, step string, slip grading.Slip) string {
	q := url.Values{"step": {step}, "pattern": {slip.ID}}
	if slip.Detail != "" {
		q.Set("detail", slip.Detail)
	}
	return fmt.Sprintf("%s/again?%s", reviewHref(class, assignment), q.Encode())
}
