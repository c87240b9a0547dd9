package server

import (
	"crypto/rand"
	"fmt"
)

// newKey makes a submission key: a random UUID (RFC 9562, version 4). A page
// with fields gets a new one, and one press of its button is one attempt
// however often it arrives.
func newKey() string {
	var b [16]byte
	rand.Read(b[:]) // never fails: see crypto/rand
	b[6], b[8] = b[6]&0x0f|0x40, b[8]&0x3f|0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:])
}
