package formula

// Dim is what kind of number a formula gives.
type Dim int

// The dimensions.
const (
	Number Dim = iota
	Length     // millimetres
	Angle      // degrees
	Area       // square millimetres
)

// Any is for a name of which nothing is known: it adapts to what is needed,
// as a written number does.
const Any Dim = -1

// String names the dimension as messages do: "a length".
func (d Dim) String() string {
	switch d {
	case Length:
		return "a length"
	case Angle:
		return "an angle"
	case Area:
		return "an area"
	}
	return "a plain number"
}
