package paper

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"

	"arrisbook/geom/drawing"
	"arrisbook/grading"
	"arrisbook/lessons"
)

// shipped finds an exercise of the shipped modules.
func shipped(t testing.TB, id string) *grading.Exercise {
	t.Helper()
	ex, ok := library(t).Exercise(id)
	if !ok {
		t.Fatalf("no exercise %s", id)
	}
	return ex
}

func library(t testing.TB) *lessons.Library {
	t.Helper()
	lib, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// loaded reads the shipped modules once: every blank of theirs is tried then.
var loaded = sync.OnceValues(lessons.Shipped)

// invented names, none of anybody.
var firstNames = []string{"Wanda", "Oskar", "Ines", "Rolf", "Vera", "Žofie", "Ångus", "Łucja"}

// classOrder is an order for a class of n on an exercise.
func classOrder(t testing.TB, exercise string, n int, units grading.Units) Order {
	t.Helper()
	ex := shipped(t, exercise)
	o := Order{
		Class: Class{Name: "Wednesday evening, Fennel Yard", Units: units, Method: drawing.FirstAngle, Paper: drawing.A4},
		Title: ex.Title, Date: "25 Nov 2026", Exercise: ex, Parts: Parts{Sheets: true},
	}
	for i := range n {
		sheet, err := grading.Generate(ex, uint64(i+1), grading.ShopFor(units))
		if err != nil {
			t.Fatal(err)
		}
		o.Sheets = append(o.Sheets, Sheet{
			No: i + 1, Bench: i + 1, Student: fmt.Sprintf("%s Prell-%d", firstNames[i%len(firstNames)], i+1),
			Sheet: sheet, Code: "7KQ4M", Link: someSquare(), State: State{Says: "not started"},
		})
	}
	return o
}

// someSquare is as many modules as a real code has.
func someSquare() [][]bool {
	rows := make([][]bool, 33)
	for j := range rows {
		rows[j] = make([]bool, 33)
		for i := range rows[j] {
			rows[j][i] = i > 3 && j > 3 && i < 29 && j < 29 && (i*7+j*5)%3 == 0
		}
	}
	return rows
}

func compose(t testing.TB, o Order) []byte {
	t.Helper()
	pdf, err := Compose(context.Background(), o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return pdf
}

// The same order gives the same bytes.
func TestSameOrderSameBytes(t *testing.T) {
	o := classOrder(t, "head-v-joint", 3, grading.Millimetres)
	o.Parts = Parts{Overview: true, Key: true, Sheets: true, Templates: true}
	o.Sheets[1].Released = true
	if !bytes.Equal(compose(t, o), compose(t, o)) {
		t.Error("the same order came out as different bytes")
	}
}

// Nothing ordered, or nobody to print for, is told and gives no empty file.
func TestNothingToPrint(t *testing.T) {
	o := classOrder(t, "head-v-joint", 1, grading.Millimetres)
	o.Parts = Parts{Templates: true} // of a sheet that may have none
	if _, err := Compose(context.Background(), o, nil); !errors.Is(err, ErrNothing) {
		t.Errorf("templates of unreleased sheets alone: %v, want ErrNothing", err)
	}
	o.Sheets, o.Parts = nil, Parts{Overview: true, Key: true, Sheets: true}
	if _, err := Compose(context.Background(), o, nil); !errors.Is(err, ErrNothing) {
		t.Errorf("a class of nobody: %v, want ErrNothing", err)
	}
}

// Whoever waits no longer is not worked for, and progress is told sheet by
// sheet.
func TestComposeStopsAndTells(t *testing.T) {
	o := classOrder(t, "head-v-joint-first", 5, grading.Millimetres)
	ctx, stop := context.WithCancel(context.Background())
	var told []string
	_, err := Compose(ctx, o, func(done, of int) {
		told = append(told, fmt.Sprintf("%d/%d", done, of))
		if done == 2 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) || strings.Join(told, " ") != "1/5 2/5" {
		t.Errorf("Compose told %v and gave %v, want it to stop after two of five", told, err)
	}
}
