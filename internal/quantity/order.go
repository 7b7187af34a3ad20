package quantity

import (
	"sort"

	"boardrun/internal/measure"
)

// ItemBoard is a line of sheets of one board and size.
const ItemBoard = "board"

// order fills in Result.Order: one set of lines per storey, which is one drop.
func (t *taker) order() {
	var sum tally
	t.orderBoard(&sum)
	t.orderStuds(&sum)
	t.orderTrack(&sum)
	t.orderScrews(&sum)
	t.orderFinish(&sum)
	t.orderFill(&sum)
	t.res.Order = sum.sorted()
}

// grouped is the lengths of one spec on one storey.
type grouped struct {
	storey, item, spec string
}

func (t *taker) orderStuds(sum *tally) {
	pieces := map[grouped][]Length{}
	var keys []grouped
	for i := range t.res.Framing {
		f := &t.res.Framing[i]
		if f.Item != ItemStud {
			continue
		}
		k := grouped{f.Storey, f.Item, f.Spec}
		if pieces[k] == nil {
			keys = append(keys, k)
		}
		for n := 0; n < f.Count; n++ {
			pieces[k] = append(pieces[k], f.Length)
		}
	}
	for _, k := range keys {
		t.orderStock(sum, k, pieces[k], t.in.Settings.StudStock)
	}
}

// orderStock orders stock lengths for the pieces of one spec; longer ones than
// stock are ordered cut to the next foot or 100 mm.
func (t *taker) orderStock(sum *tally, k grouped, pieces, stock []Length) {
	count, special := stockFor(pieces, stock)
	for i, n := range count {
		if n > 0 {
			sum.add(Item{Item: k.item, Spec: k.spec, Length: stock[i], Count: n, Storey: k.storey}, "")
		}
	}
	unit := measure.Foot
	if t.sys == measure.Metric {
		unit = 100 * mm
	}
	for _, s := range special {
		sum.add(Item{Item: k.item, Spec: k.spec, Length: s.CeilTo(unit), Count: 1, Storey: k.storey, Note: "special length"}, "")
	}
}

// orderTrack orders whole lengths: floor and head track may be spliced anywhere,
// headers and sills may not.
func (t *taker) orderTrack(sum *tally) {
	long := map[grouped]Length{}
	short := map[grouped][]Length{}
	seen := map[grouped]bool{}
	var keys []grouped
	for i := range t.res.Framing {
		f := &t.res.Framing[i]
		k := grouped{f.Storey, ItemTrack, f.Spec}
		switch f.Item {
		case ItemTrack:
			long[k] += f.Length
		case ItemSlipTrack:
			k.item = ItemSlipTrack
			long[k] += f.Length
		case ItemHeader, ItemSill:
			for n := 0; n < f.Count; n++ {
				short[k] = append(short[k], f.Length)
			}
		default:
			continue
		}
		if !seen[k] {
			seen[k] = true
			keys = append(keys, k)
		}
	}
	stock := t.in.Settings.TrackStock
	for _, k := range keys {
		count, special := stockFor(short[k], []Length{stock})
		n := count[0]
		rest := long[k]
		for _, s := range special { // a header wider than stock is spliced
			rest += s
		}
		n += rest.CeilDiv(stock)
		sum.add(Item{Item: k.item, Spec: k.spec, Length: stock, Count: n, Storey: k.storey}, "")
	}
}

func (t *taker) orderScrews(sum *tally) {
	storey := map[string]string{}
	for _, l := range t.layouts {
		for _, f := range l.Run.Faces {
			storey[f.ID] = l.Run.Storey
		}
	}
	need := map[grouped]int{}
	for _, s := range t.res.Screws {
		need[grouped{storey[s.Face], s.Item, ""}] += s.Count
	}
	for _, f := range t.res.Framing {
		if f.Item == ItemFrameScrew {
			need[grouped{f.Storey, f.Item, f.Spec}] += f.Count
		}
	}
	keys := make([]grouped, 0, len(need))
	for k := range need {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, k int) bool {
		a, b := keys[i], keys[k]
		return a.storey+"\x00"+a.item+"\x00"+a.spec < b.storey+"\x00"+b.item+"\x00"+b.spec
	})
	for _, k := range keys {
		box := t.in.Settings.ScrewBox
		if k.item == ItemFrameScrew {
			box = t.in.Settings.FramingBox
		}
		spec := k.spec
		if spec != "" {
			spec += ", "
		}
		sum.add(Item{Item: k.item, Spec: spec + "box of " + itoa(box), Count: ceilDiv(need[k], box), Storey: k.storey, Note: itoa(need[k]) + " needed"}, "")
	}
	for _, f := range t.res.Framing {
		if f.Item == ItemFixing {
			sum.add(Item{Item: f.Item, Spec: f.Spec, Count: f.Count, Storey: f.Storey}, "")
		}
	}
}

// rolls returns how many rolls give a length with percent on top.
func rolls(length, roll Length, percent int) int {
	return int(ceilDiv(int64(length)*int64(100+percent), int64(roll)*100))
}

func (t *taker) orderFinish(sum *tally) {
	st := &t.in.Settings
	for i := range t.res.Finishing {
		f := &t.res.Finishing[i]
		switch f.Item {
		case ItemTape:
			sum.add(Item{Item: ItemTape, Spec: "roll of " + measure.OrderLength(st.TapeRoll.Metres(), t.sys), Count: rolls(f.Length, st.TapeRoll, st.TapeWaste), Storey: f.Storey}, "")
		case ItemCompound:
			n := int(f.Litres / st.PailLitres)
			if float64(n)*st.PailLitres < f.Litres {
				n++
			}
			sum.add(Item{Item: ItemCompound, Spec: t.pail(), Count: n, Storey: f.Storey}, "")
		}
	}
	for _, k := range t.beadKeys {
		pieces := []Length{}
		longest := st.BeadStock[len(st.BeadStock)-1]
		for _, p := range t.beads[k] {
			for ; p > longest; p -= longest { // spliced
				pieces = append(pieces, longest)
			}
			pieces = append(pieces, p)
		}
		t.orderStock(sum, k, pieces, st.BeadStock)
	}
}

func (t *taker) pail() string {
	if t.sys == measure.Metric {
		return "pail of " + decimal(t.in.Settings.PailLitres) + " L"
	}
	return "pail of " + decimal(t.in.Settings.PailLitres/litresPerGallon) + " gal"
}

func (t *taker) orderFill(sum *tally) {
	for _, f := range t.res.Insulation {
		sum.add(Item{Item: f.Item, Spec: f.Spec, AreaM2: f.AreaM2, Storey: f.Storey}, "")
	}
	need := map[grouped]Length{}
	var keys []grouped
	for _, f := range t.res.Sealant {
		k := grouped{f.Storey, f.Item, ""}
		if need[k] == 0 {
			keys = append(keys, k)
		}
		need[k] += f.Length
	}
	per := BeadPerCartridge(t.in.Settings.Cartridge, t.in.Settings.Bead)
	for _, k := range keys {
		sum.add(Item{Item: k.item, Spec: t.cartridge(), Count: need[k].CeilDiv(per), Storey: k.storey}, "")
	}
}

func (t *taker) cartridge() string {
	if t.sys == measure.Metric {
		return "cartridge of " + decimal(t.in.Settings.Cartridge) + " mL"
	}
	return "cartridge of " + decimal(t.in.Settings.Cartridge/millilitresPerOunce) + " fl oz"
}
