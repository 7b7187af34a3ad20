package dxf

import "strings"

func (w *writer) table(name string, handle uint64, n int) {
	w.groups(0, "TABLE", 2, name, 5, handle, 330, "0", 100, "AcDbSymbolTable", 70, n)
}

func (w *writer) record(typ string, table uint64, subclass, name string) {
	code := 5
	if typ == "DIMSTYLE" { // 5 is a dimension block there
		code = 105
	}
	h := w.handle()
	if typ == "STYLE" {
		h = hStyle
	}
	w.groups(0, typ, code, h, 330, table, 100, "AcDbSymbolTableRecord", 100, subclass, 2, name, 70, 0)
}

func (w *writer) endTable() { w.group(0, "ENDTAB") }

// tables writes the nine symbol tables, in the order programs write them.
func (w *writer) tables() {
	w.section("TABLES")
	w.viewports()
	w.linetypes()
	w.layers()
	w.table("STYLE", hStyleTable, 1)
	w.record("STYLE", hStyleTable, "AcDbTextStyleTableRecord", "Standard")
	font := w.d.Font
	if font == "" {
		font = "txt"
	}
	w.groups(40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5, 3, font, 4, "")
	w.endTable()
	w.table("VIEW", hViewTable, 0)
	w.endTable()
	w.table("UCS", hUCSTable, 0)
	w.endTable()
	w.table("APPID", hAppidTable, 1)
	w.record("APPID", hAppidTable, "AcDbRegAppTableRecord", "ACAD")
	w.endTable()
	w.groups(0, "TABLE", 2, "DIMSTYLE", 5, uint64(hDimTable), 330, "0", 100, "AcDbSymbolTable", 70, 1, 100, "AcDbDimStyleTable", 71, 0)
	w.record("DIMSTYLE", hDimTable, "AcDbDimStyleTableRecord", "Standard")
	w.groups(340, uint64(hStyle))
	w.endTable()
	w.blockRecords()
	w.group(0, "ENDSEC")
}

func (w *writer) viewports() {
	lo, hi := w.d.extents()
	width, height := max(hi[0]-lo[0], 1), max(hi[1]-lo[1], 1)
	w.table("VPORT", hVportTable, 1)
	w.record("VPORT", hVportTable, "AcDbViewportTableRecord", "*Active")
	w.groups(10, 0.0, 20, 0.0, 11, 1.0, 21, 1.0, 12, (lo[0]+hi[0])/2, 22, (lo[1]+hi[1])/2, 13, 0.0, 23, 0.0,
		14, 10.0, 24, 10.0, 15, 10.0, 25, 10.0, 16, 0.0, 26, 0.0, 36, 1.0, 17, 0.0, 27, 0.0, 37, 0.0,
		40, max(height, width/1.5)*1.05, 41, 1.5, 42, 50.0, 43, 0.0, 44, 0.0, 50, 0.0, 51, 0.0,
		71, 0, 72, 100, 73, 1, 74, 3, 75, 0, 76, 0, 77, 0, 78, 0)
	w.endTable()
}

func (w *writer) linetypes() {
	w.table("LTYPE", hLtypeTable, len(Linetypes)+2)
	unit := 1.0
	if w.d.Measurement == 1 {
		unit = 25.4
	}
	for _, name := range append([]string{"ByBlock", "ByLayer"}, Linetypes...) {
		w.record("LTYPE", hLtypeTable, "AcDbLinetypeTableRecord", name)
		pattern := linetypePatterns[name]
		total := 0.0
		for _, x := range pattern {
			total += max(x, -x)
		}
		w.groups(3, "", 72, 65, 73, len(pattern), 40, total*unit)
		for _, x := range pattern {
			w.groups(49, x*unit, 74, 0)
		}
	}
	w.endTable()
}

func (w *writer) layers() {
	list := w.d.Layers
	zero := true
	for _, l := range list {
		zero = zero && l.Name != "0"
	}
	if zero {
		list = append([]Layer{{Name: "0", Colour: 7}}, list...)
	}
	w.table("LAYER", hLayerTable, len(list))
	for _, l := range list {
		w.record("LAYER", hLayerTable, "AcDbLayerTableRecord", l.Name)
		lt := l.Linetype
		if lt == "" {
			lt = "Continuous"
		}
		w.groups(62, l.Colour, 6, lt)
		if l.NoPlot {
			w.group(290, 0)
		}
		w.groups(370, -3, 390, uint64(hPlotNormal))
	}
	w.endTable()
}

func (w *writer) blockRecords() {
	w.table("BLOCK_RECORD", hBlockTable, len(w.d.Blocks)+2)
	record := func(name string, h, layout uint64) {
		w.groups(0, "BLOCK_RECORD", 5, h, 330, uint64(hBlockTable), 100, "AcDbSymbolTableRecord", 100, "AcDbBlockTableRecord",
			2, name, 340, layout, 70, w.d.InsUnits, 280, 1, 281, 0)
	}
	record("*Model_Space", hModelRecord, hModelLayout)
	record("*Paper_Space", hPaperRecord, hPaperLayout)
	for _, b := range w.d.Blocks {
		record(b.Name, w.blockRecord[strings.ToUpper(b.Name)], 0)
	}
	w.endTable()
}

func (w *writer) blocks() {
	w.section("BLOCKS")
	w.block("*Model_Space", hModelRecord, [2]float64{}, nil)
	w.block("*Paper_Space", hPaperRecord, [2]float64{}, nil)
	for _, b := range w.d.Blocks {
		w.block(b.Name, w.blockRecord[strings.ToUpper(b.Name)], b.Base, b.Entities)
	}
	w.group(0, "ENDSEC")
}

func (w *writer) block(name string, owner uint64, base [2]float64, list []Entity) {
	flags := 0
	for _, e := range list {
		if _, ok := e.(AttDef); ok {
			flags = 2
		}
	}
	w.groups(0, "BLOCK", 5, w.handle(), 330, owner, 100, "AcDbEntity", 8, "0", 100, "AcDbBlockBegin", 2, name,
		70, flags, 10, base[0], 20, base[1], 30, 0.0, 3, name, 1, "")
	w.entities(list, owner)
	w.groups(0, "ENDBLK", 5, w.handle(), 330, owner, 100, "AcDbEntity", 8, "0", 100, "AcDbBlockEnd")
}

// objects writes the root dictionary and what it must hold: a layout for
// modelspace and one for a sheet.
func (w *writer) objects() {
	w.section("OBJECTS")
	w.groups(0, "DICTIONARY", 5, uint64(hRoot), 330, "0", 100, "AcDbDictionary", 281, 1,
		3, "ACAD_GROUP", 350, uint64(hGroups), 3, "ACAD_LAYOUT", 350, uint64(hLayouts), 3, "ACAD_PLOTSTYLENAME", 350, uint64(hPlotStyles),
		0, "DICTIONARY", 5, uint64(hGroups), 330, uint64(hRoot), 100, "AcDbDictionary", 281, 1,
		0, "DICTIONARY", 5, uint64(hLayouts), 330, uint64(hRoot), 100, "AcDbDictionary", 281, 1,
		3, "Layout1", 350, uint64(hPaperLayout), 3, "Model", 350, uint64(hModelLayout),
		0, "ACDBDICTIONARYWDFLT", 5, uint64(hPlotStyles), 330, uint64(hRoot), 100, "AcDbDictionary", 281, 1,
		3, "Normal", 350, uint64(hPlotNormal), 100, "AcDbDictionaryWithDefault", 340, uint64(hPlotNormal),
		0, "ACDBPLACEHOLDER", 5, uint64(hPlotNormal), 330, uint64(hPlotStyles))
	w.layout("Model", hModelLayout, hModelRecord, 0, 1024)
	w.layout("Layout1", hPaperLayout, hPaperRecord, 1, 0)
	w.group(0, "ENDSEC")
}

func (w *writer) layout(name string, handle, record uint64, order, flag int) {
	w.groups(0, "LAYOUT", 5, handle, 330, uint64(hLayouts), 100, "AcDbPlotSettings", 1, "", 2, "none_device", 4, "", 6, "",
		40, 0.0, 41, 0.0, 42, 0.0, 43, 0.0, 44, 0.0, 45, 0.0, 46, 0.0, 47, 0.0, 48, 0.0, 49, 0.0,
		140, 0.0, 141, 0.0, 142, 1.0, 143, 1.0, 70, flag+656, 72, 0, 73, 0, 74, 5, 7, "", 75, 16, 147, 1.0, 148, 0.0, 149, 0.0,
		100, "AcDbLayout", 1, name, 70, 1, 71, order, 10, 0.0, 20, 0.0, 11, 12.0, 21, 9.0, 12, 0.0, 22, 0.0, 32, 0.0,
		14, 0.0, 24, 0.0, 34, 0.0, 15, 0.0, 25, 0.0, 35, 0.0, 146, 0.0, 13, 0.0, 23, 0.0, 33, 0.0,
		16, 1.0, 26, 0.0, 36, 0.0, 17, 0.0, 27, 1.0, 37, 0.0, 76, 0, 330, record)
}
