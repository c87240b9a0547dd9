package joint

import (
	"arrisbook/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// roofGivens are the parameters of the roof.
type roofGivens struct{ rise, run, span float64 }

func roofGivensOf(p Values) roofGivens {
	return roofGivens{rise: p["rise"], run: p["run"], span: p["span"]}
}

// roofFrame is the roof over one corner. The roof planes' normals point up,
// out of the building.
type roofFrame struct {
	up             geom.Vec
	plates         geom.Plane // level, through both plates
	first, second  geom.Plane // the roof over the plate along +x, and along +y
	middle         geom.Plane // plumb, under the ridge
	hip            geom.Line  // upward
	corner         geom.Vec   // of the plates
	eaves          geom.Vec   // where the common rafter starts
	ridge, hipHead geom.Vec   // where the common and the hip reach the ridge
}

// frame lays both roof planes on the plates. The common rafter that is
// measured meets the ridge where the hip does. ok is false where there is no
// roof.
func (g roofGivens) frame() (f roofFrame, ok bool) {
	if !(g.rise > 0 && g.run > 0 && g.span > 0) {
		return roofFrame{}, false
	}
	f.up = geom.Vec{Z: 1}
	f.plates = geom.Plane{N: f.up}
	f.middle = geom.Plane{N: geom.Vec{Y: 1}, D: g.span / 2}
	var okFirst, okSecond, okHip, okHead, okCommon bool
	f.first, okFirst = geom.NewPlane(geom.Vec{Y: -g.rise, Z: g.run}, f.corner)
	f.second, okSecond = geom.NewPlane(geom.Vec{X: -g.rise, Z: g.run}, f.corner)
	f.hip, okHip = f.first.Meet(f.second)
	if geom.Dot(f.hip.Dir, f.up) < 0 {
		f.hip.Dir = r3.Scale(-1, f.hip.Dir)
	}
	f.hipHead, okHead = f.hip.Pierce(f.middle)
	// The common rafter stands square to its plate.
	f.eaves = geom.Vec{X: f.hipHead.X}
	f.ridge, okCommon = geom.Corner(f.first, f.middle, geom.Plane{N: geom.Vec{X: 1}, D: f.eaves.X})
	return f, okFirst && okSecond && okHip && okHead && okCommon
}

// steepest is the most that a roof may rise for one of run. Beyond it lengths
// grow out of all proportion to the span.
const steepest = 5

// layoutHipRafter measures the two rafters and the roof planes.
func layoutHipRafter(p Values, set func(string, float64)) []string {
	g := roofGivensOf(p)
	f, ok := g.frame()
	if !ok {
		return nil // a size is out of range, and that is said already
	}
	set("common_length", geom.Distance(f.eaves, f.ridge))
	set("hip_length", geom.Distance(f.corner, f.hipHead))
	top, okTop := f.hipTop()
	for _, m := range [...]struct {
		id   string
		a, b geom.Vec
		ok   bool
	}{
		{"pitch_angle", f.first.N, f.up, true},
		{"hip_plumb", f.hip.Dir, f.up, true},
		{"backing_angle", top.N, f.first.N, okTop},
	} {
		if a, ok := geom.AngleBetween(m.a, m.b); ok && m.ok {
			set(m.id, a.Degrees())
		}
	}
	if a, ok := geom.Dihedral(f.first, f.second); ok {
		set("roof_dihedral", a.Degrees())
	}
	if g.rise > steepest*g.run {
		return []string{"So steep a roof is a wall: the rise must be no more than five times the run."}
	}
	return nil
}

// hipTop is the hip's top before it is backed: it holds the hip line and a
// level line square to it.
func (f roofFrame) hipTop() (geom.Plane, bool) {
	level := geom.Cross(f.up, f.hip.Dir)
	return geom.NewPlane(geom.Cross(f.hip.Dir, level), f.corner)
}
