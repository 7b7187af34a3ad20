package ifc_test

import (
	"fmt"
	"strings"

	"boardrun/importers/ifc"
)

// A model of one wall, 4 m long, 3 m high and 124 mm thick.
const oneWall = `ISO-10303-21;
HEADER;
FILE_SCHEMA(('IFC4'));
ENDSEC;
DATA;
#1=IFCPROJECT('p',$,'Clinic',$,$,$,$,$,#2);
#2=IFCUNITASSIGNMENT((#3));
#3=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);
#4=IFCCARTESIANPOINT((0.,0.,0.));
#5=IFCAXIS2PLACEMENT3D(#4,$,$);
#6=IFCLOCALPLACEMENT($,#5);
#7=IFCDIRECTION((0.,0.,1.));
#10=IFCWALL('0000000000000000000001',$,'Exam 1',$,'P1',#6,#11,$,$);
#11=IFCPRODUCTDEFINITIONSHAPE($,$,(#12));
#12=IFCSHAPEREPRESENTATION($,'Body','SweptSolid',(#13));
#13=IFCEXTRUDEDAREASOLID(#14,#5,#7,3000.);
#14=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4000.,124.);
ENDSEC;
END-ISO-10303-21;
`

func ExampleReadQuantities() {
	p, q, err := ifc.ReadQuantities("clinic.ifc", strings.NewReader(oneWall), int64(len(oneWall)), ifc.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, w := range p.Walls {
		fmt.Printf("%s %s: %.0f × %.0f mm, %.2f m² a side, %.3f m³\n", w.Sources[0].Ref, w.TypeName, q[i].LengthMM, q[i].HeightMM, q[i].LeftAreaM2, q[i].VolumeM3)
	}
	// Output: #10 P1: 4000 × 3000 mm, 12.00 m² a side, 1.488 m³
}

func ExampleRead() {
	cut := oneWall[:len(oneWall)/2]
	_, err := ifc.Read("clinic.ifc", strings.NewReader(cut), int64(len(cut)), ifc.Options{})
	fmt.Println(err)
	// Output: clinic.ifc:12: #7: the file is incomplete: it ends within this statement; copy or export it again
}
