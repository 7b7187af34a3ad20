package ifc

import (
	"errors"

	"boardrun/importers/ifc/part21"
)

// roundWall is a wall whose axis is one arc.
type roundWall struct{}

func round(p product) (roundWall, bool) { return roundWall{}, false }

func (m *model) shapeRound(g *geo, w *found, rec *part21.Record, p product, ids []part21.ID, r roundWall) error {
	return errors.New("is round")
}
