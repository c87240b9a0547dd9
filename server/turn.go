package server

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"arrisbook/geom/drawing"
	"arrisbook/geom/joint"
	"arrisbook/grading"
	"arrisbook/lessons"
	"arrisbook/web"
)

var turnRoutes = []route{
	{http.MethodGet, "/joints/:family/model.glb", forAnybody, (*server).getHouseModel},
	{http.MethodGet, "/classes/:class/sheets/:sheet/model.glb", forSheetOwner, (*server).getSheetModel},
	{http.MethodGet, "/classes/:class/sheets/:sheet/bench/model.glb", forClassStaff, (*server).getBenchModel},
}

// modelType is the registered media type of a binary glTF file.
const modelType = "model/gltf-binary"

// turnBox is the place of a page where a joint can be turned in 3-D, once
// somebody asks for it.
type turnBox struct {
	Model string // address of the joint's model
	Says  string // whose wood it is
}

// houseTurn is the joint on the family's example blank; nil where an exercise
// has no joint.
func houseTurn(ex *grading.Exercise) *turnBox {
	if ex == nil || ex.Family == nil {
		return nil
	}
	return &turnBox{Model: "/joints/" + ex.Family.ID + "/model.glb", Says: "An example blank of this joint."}
}

// lessonTurn is the joint that a lesson is about.
func lessonTurn(m *lessons.Module) *turnBox {
	for _, ex := range m.Exercises {
		if box := houseTurn(ex); box != nil {
			return box
		}
	}
	return nil
}

// turn is the joint of a student's sheet: an example blank before the key is
// released, the student's own wood afterwards.
func (d desk) turn() *turnBox {
	box := houseTurn(d.exercise)
	if box == nil {
		return nil
	}
	box.Model = d.base() + "/model.glb"
	box.Says = "An example blank of this joint, not yours. Your own comes with the key."
	if d.released() {
		box.Says = "Your own blank, in its true shape."
	}
	return box
}

// turn is the joint of a sheet as the staff see it.
func (b benchCase) turn() *turnBox {
	box := houseTurn(b.exercise)
	if box != nil {
		box.Model, box.Says = b.href()+"/model.glb", "This student’s blank, in its true shape."
	}
	return box
}

func (s *server) getHouseModel(c echo.Context) error {
	f, ok := joint.Lookup(c.Param("family"))
	if !ok {
		return errNotFound
	}
	model, err := drawing.Model(f, f.House)
	if err != nil {
		return err
	}
	return sendModel(c, model)
}

func (s *server) getSheetModel(c echo.Context) error {
	d, err := s.desk(c)
	if err != nil {
		return err
	}
	f := d.exercise.Family
	if f == nil {
		return errNotFound
	}
	// A true shape can be measured, so it waits for the key.
	blank := f.House
	if d.released() {
		blank = d.sheet.Current().Parameters
	}
	return blankModel(c, f, blank)
}

func (s *server) getBenchModel(c echo.Context) error {
	b, err := s.loadBench(c)
	if err != nil {
		return err
	}
	if b.exercise.Family == nil {
		return errNotFound
	}
	return blankModel(c, b.exercise.Family, b.sheet.Current().Parameters)
}

// blankModel sends the joint on a blank. Where its parts cannot be made there
// is nothing to turn.
func blankModel(c echo.Context, f *joint.Family, blank joint.Values) error {
	model, err := drawing.Model(f, blank)
	if err != nil {
		return errNotFound
	}
	return sendModel(c, model)
}

func sendModel(c echo.Context, model []byte) error {
	h := c.Response().Header()
	h.Add("Vary", "Accept-Encoding")
	if takesGzip(c.Request().Header.Get("Accept-Encoding")) {
		zipped, err := web.Compress(model)
		if err != nil {
			return err
		}
		h.Set("Content-Encoding", "gzip")
		model = zipped
	}
	return c.Blob(http.StatusOK, modelType, model)
}
