package drawing

import (
	"fmt"

	"arrisbook/geom/joint"
)

// needs makes a painter's check: the sizes that no drawing can do without must
// have a value, and those named as lengths a positive one.
func needs(lengths []string, others ...string) func(l joint.Layout) error {
	return func(l joint.Layout) error {
		value := func(id string) (float64, bool) {
			if x, ok := l.Parameters[id]; ok {
				return x, true
			}
			x, ok := l.Quantities[id]
			return x, ok
		}
		for _, id := range others {
			if _, ok := value(id); !ok {
				return fmt.Errorf("%s has no value on this blank, so it cannot be drawn", id)
			}
		}
		for _, id := range lengths {
			if x, ok := value(id); !ok || x <= 0 {
				return fmt.Errorf("%s is no length on this blank, so it cannot be drawn", id)
			}
		}
		return nil
	}
}

// sized draws a dimension, laid by hand, of a parameter or quantity. A given's
// text gets the room of its kind, so that all students' drawings are alike.
func (c *canvas) sized(d dimension, id string) {
	t := c.of(id)
	c.withRoom(t, func() { c.dimension(d, t) })
}

// needsParts is needs for a family that is drawn from its solids: only a blank
// that can be built has some.
func needsParts(lengths []string, others ...string) func(l joint.Layout) error {
	first := needs(lengths, others...)
	return func(l joint.Layout) error {
		if err := first(l); err != nil || l.Buildable() {
			return err
		}
		return fmt.Errorf("a blank that cannot be built has no parts to draw: %s", l.Problems[0])
	}
}
