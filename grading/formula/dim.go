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
