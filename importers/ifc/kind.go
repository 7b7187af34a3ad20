package ifc

import (
	"strings"

	"boardrun/internal/measure"
	"boardrun/internal/plan"
)

// Words that tell what a layer or a wall type is made of, in the languages
// models are written in. They are looked for in lower case, anywhere in a name.
// Common practice, no source.
var (
	shaftWords   = []string{"shaft wall", "shaftwall", "shaft liner", "shaftliner", "schachtwand", "ch stud", "c-h stud", "cht stud"}
	gypsumWords  = []string{"gyps", "gypbd", "gwb", "drywall", "plasterboard", "plaster board", "gips", "gkb", "gkf", "plâtre", "cartongesso", "гипс", "yeso"}
	studWords    = []string{"stud", "ständer", "staender", "stender", "metal fram", "ossature", "montant", "trockenbau"}
	masonryWords = []string{
		"brick", "block", "cmu", "masonry", "concrete", "stone", "mortar", "clay", "ziegel", "mauerwerk", "klinker", "kalksand", "beton",
		"brique", "maçon", "parpaing", "mattone", "muratura", "calcestruzzo", "laterizio", "ladrillo", "hormigón", "кирпич", "бетон", "tegl", "stahlbeton", "baksteen", "tiili",
	}
	glassWords = []string{"glass", "glas ", "glazed", "glazing", "verglas", "vitrage", "vetro", "vidrio", "стекло"}
)

// lowest wall that is boarded without asking, in mm. Common practice, no source.
const lowWall = 1200

// kindOf tells boarded partitions from walls that only look like them: by the
// type's predefined kind, by what the layers are made of, by the type's name,
// and by height.
func kindOf(w *found, predefined string) plan.WallKind {
	names := strings.ToLower(w.wall.TypeName)
	var masonry, boarded measure.Length
	stud := contains(names, studWords)
	gypsum := contains(names, gypsumWords)
	stone, glass, shaft := false, false, contains(names, shaftWords)
	for _, l := range w.wall.Layers {
		n := strings.ToLower(l.Name)
		shaft = shaft || contains(n, shaftWords)
		switch {
		case contains(n, gypsumWords):
			gypsum = true
			boarded += l.Thickness
		case contains(n, studWords):
			stud = true
		case contains(n, masonryWords):
			stone = true
			masonry += l.Thickness
		case contains(n+" ", glassWords):
			glass = true
		}
	}
	switch {
	case predefined == "PARAPET":
		return plan.Low
	case shaft:
		return plan.ShaftWall
	case stud:
		return plan.Partition
	case stone && masonry >= boarded, !gypsum && contains(names, masonryWords):
		return plan.Masonry
	case glass && !gypsum, !gypsum && contains(names+" ", glassWords):
		return plan.Glazed
	case w.q.HeightMM < lowWall:
		return plan.Low
	}
	return plan.Partition
}

func contains(s string, words []string) bool {
	for _, w := range words {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}
