package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"strings"
	"testing"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
)

// The bundle that is sent was made from the source that is kept.
func TestTurnViewIsBundledFromItsSource(t *testing.T) {
	source, err := os.ReadFile("../web/turn/view.js")
	if err != nil {
		t.Fatal(err)
	}
	bundle, err := os.ReadFile("../web/static/turn.view.js")
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(source)
	first, _, _ := bytes.Cut(bundle, []byte("\n"))
	if want := hex.EncodeToString(sum[:]); !strings.Contains(string(first), want) {
		t.Errorf("turn.view.js begins %q, want the sum %s of view.js: run web/turn/bundle.sh", first, want)
	}
	for _, danger := range []string{"eval(", "new Function(", "importScripts("} {
		if bytes.Contains(bundle, []byte(danger)) {
			t.Errorf("turn.view.js holds %s, which the pages' policy forbids", danger)
		}
	}
}

// Before the key is released a student's model is the example blank's, to the
// byte; afterwards it is that of the student's own wood.
func TestTurnedSheetKeepsTheKey(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	f, _ := joint.Lookup("head-v-joint")
	house, err := drawing.Model(f, f.House)
	if err != nil {
		t.Fatal(err)
	}
	own, err := drawing.Model(f, b.sheet.Current().Parameters)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.pupil.get(b.href + "/model.glb").Body; got != string(house) {
		t.Errorf("before the release the model has %d bytes and is not the example's (%d bytes)", len(got), len(house))
	}
	b.teacher.press(b.teacher.get(b.given), b.given+"/release")
	if got := b.pupil.get(b.href + "/model.glb").Body; got != string(own) {
		t.Errorf("after the release the model has %d bytes and is not the own blank's (%d bytes)", len(got), len(own))
	}
}
