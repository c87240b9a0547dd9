package server

import (
	"testing"

	"arrisbook/lessons"
)

// The demo's own module is sound, remarks included: it is the first that
// people see.
func TestDemoModuleIsSound(t *testing.T) {
	m, found := lessons.Draft{File: "demomodule.md", Text: []byte(demoModule)}.Check(shippedLessons(t))
	if len(found) > 0 || len(m.Exercises) != 1 {
		t.Errorf("Check = %v, %d exercises, want nothing to remark and one", found, len(m.Exercises))
	}
}
