package formula

import (
	"errors"
	"strings"
	"testing"
)

func testDims(id string) (Dim, bool) {
	d, ok := map[string]Dim{
		"v_width": Length, "v_length": Length, "thickness": Length, "allowance": Length,
		"half_angle": Angle, "tilt": Angle, "sides": Number, "slope": Number, "glue_area": Area, "mystery": Any,
	}[id]
	return d, ok
}

func TestCheck(t *testing.T) {
	tests := []struct {
		in   string
		want Dim
	}{
		{"7", Number},
		{"v_width", Length},
		{"v_width + allowance", Length},
		{"v_width*v_length", Area},
		{"v_width^2", Area},
		{"v_width^3/v_length", Area},
		{"v_width/v_length", Number},
		{"v_width*v_length/thickness", Length},
		{"sqrt(v_width^2 + v_length^2)", Length},
		{"sqrt(glue_area)", Length},
		{"glue_area^0.5", Length},
		{"glue_area^(1/2)", Length},
		{"hypot(v_width, v_length)", Length},
		{"hypot(v_width, 30)", Length},
		{"atan(v_width/2/v_length)", Angle},
		{"atan(1/slope)", Angle},
		{"sin(tilt)", Number},
		{"v_length/cos(tilt)", Length},
		{"half_angle/tilt", Number},
		{"tan(tilt)^2.5", Number},
		{"2^sides", Number},
		{"1/v_width*v_width", Number},
		{"tilt*half_angle/tilt", Angle},
		{"-tilt", Angle},
		{"v_width*slope", Length},
		{"tilt*pi/180", Angle},
		// Written numbers adapt.
		{"90 - tilt", Angle},
		{"tilt - 90", Angle},
		{"v_width + 1.5", Length},
		{"v_width + 2*1.5", Length},
		{"glue_area + 100", Area},
		{"180/sides", Number},
		{"tan(180/sides)", Number},
		{"cos(90 - 2*tilt)", Number},
		{"sin(14)", Number},
		{"25*tan(9.5)", Number},
		{"v_width + 25*tan(9.5)", Length},
		{"180/sides - tilt", Angle},
		{"v_width*tan(180/sides)", Length},
		{"asin(mystery) + mystery", Angle},
		{"v_width + mystery", Length},
		{"pi - tilt", Angle},
	}
	for _, tt := range tests {
		got, err := MustParse(tt.in).Check(testDims)
		if err != nil || got != tt.want {
			t.Errorf("Check(%s) = %v, %v, want %v", tt.in, got, err, tt.want)
		}
	}
}

func TestCheckErrors(t *testing.T) {
	tests := []struct {
		in   string
		col  int
		says string
	}{
		{"v_width + tilt", 9, "sin, cos or tan of the angle"},
		{"tilt - v_width", 6, "cannot be taken from"},
		{"2 + v_width*(v_length + tilt)", 23, "v_length is a length, tilt is an angle"},
		{"v_width + glue_area", 9, "square root of the area"},
		{"v_width + sides", 9, "Multiply the plain number by a length"},
		{"v_width + v_width/v_length", 9, "plain number"},
		{"tilt + tan(tilt)", 6, "atan, asin or acos"},
		{"90 - v_width/v_length - tilt", 23, "atan, asin or acos"},
		{"tilt + slope", 6, "atan"},
		{"sin(v_width)", 1, "asin for the angle of that ratio"},
		{"1 + cos(v_width/v_length)", 5, "acos for the angle that has this cosine"},
		{"tan(sides)", 1, "tan takes an angle, and sides is a plain number"},
		{"atan(v_width)", 1, "Divide by another length"},
		{"atan(tilt)", 1, "tan for the ratio"},
		{"sqrt(v_width)", 1, "square the lengths inside"},
		{"v_width^0.5", 8, "square the lengths first"},
		{"v_width^1.5", 8, "write ^2"},
		{"v_width^sides", 8, "must be written"},
		{"2^v_width", 2, "plain number"},
		{"hypot(v_width, tilt)", 1, "two of a kind"},
		{"v_width*tilt", 8, "a length times an angle"},
		{"1/v_width", 2, "one divided by a length"},
		{"v_width^3", 8, "length to the power 3"},
		{"v_wdth + 1", 1, "v_wdth is not known"},
		{"1 + 2*gone", 7, "gone is not known"},
	}
	for _, tt := range tests {
		_, err := MustParse(tt.in).Check(testDims)
		var e *Error
		if !errors.As(err, &e) || e.Col != tt.col || !strings.Contains(e.Msg, tt.says) {
			t.Errorf("Check(%s) = %v, want column %d and %q", tt.in, err, tt.col, tt.says)
		}
	}
}

func TestCheckAs(t *testing.T) {
	tests := []struct {
		in   string
		want Dim
		ok   bool
	}{
		{"180/sides", Angle, true},
		{"180/4", Length, true},
		{"25*tan(9.5)", Length, true},
		{"90 - 12", Angle, true},
		{"tan(24)", Angle, true}, // the ratio given for its angle is a slip to be named, not to be refused
		{"sqrt(34^2 + 16^2)", Length, true},
		{"15.5", Area, true},
		{"v_width", Length, true},
		{"v_width", Angle, false},
		{"sides", Angle, false},
		{"tan(tilt)", Angle, false},
		{"atan(18/40)", Length, false},
		{"v_width/v_length", Angle, false},
	}
	for _, tt := range tests {
		if err := MustParse(tt.in).CheckAs(tt.want, testDims); (err == nil) != tt.ok {
			t.Errorf("CheckAs(%s, %v) = %v, want ok %v", tt.in, tt.want, err, tt.ok)
		}
	}
}

// In working, a number typed in place of a size may be a length.
func TestCheckWorking(t *testing.T) {
	tests := []struct {
		in   string
		want Dim
		ok   bool
	}{
		{"atan(v_width/2/40)", Angle, true},
		{"atan(18/v_length)", Angle, true},
		{"v_length*40", Area, true},
		{"v_width/2", Length, true},
		{"v_width + v_length*25/40", Length, true},
		{"hypot(v_width/2, 40*v_length)", Length, true},
		{"sqrt(v_length^2 + 16*v_width)", Length, true},
		{"sqrt(v_length*16)", Length, true},
		{"40*tan(tilt)", Length, true},
		{"atan(v_width)", Angle, false},
		{"v_width + 2*tilt", Angle, false},
		{"v_width*2 + tilt", Length, false},
		{"v_width/2/40", Angle, false},
		{"2*tilt", Length, false},
		{"v_width*v_length", Length, false},
	}
	for _, tt := range tests {
		if err := MustParse(tt.in).CheckWorking(tt.want, testDims); (err == nil) != tt.ok {
			t.Errorf("CheckWorking(%s, %v) = %v, want ok %v", tt.in, tt.want, err, tt.ok)
		}
	}
	// Where a formula is taught, the same number is a plain one.
	if err := MustParse("atan(v_width/2/40)").CheckAs(Angle, testDims); err == nil {
		t.Error("CheckAs(atan(v_width/2/40)) accepts a length divided by a plain number as a ratio")
	}
}
