package report

import (
	"fmt"
	"sort"
	"strings"
)

// OrderOf is the order of one job among several.
type OrderOf struct {
	Job, Title, System, Stamp string
	Order                     []Item
}

// OrderTabs returns the sheets of the order of many jobs together: what all of
// them need of each thing, then each job's part. Jobs in different systems of
// units have a sheet each, since their sheets of board are not the same goods.
func OrderTabs(jobs []OrderOf, failed []string) []Tab {
	var tabs []Tab
	for _, system := range []string{"inch-pound", "metric"} {
		var some []OrderOf
		for _, j := range jobs {
			if j.System == system {
				some = append(some, j)
			}
		}
		if len(some) > 0 {
			tabs = append(tabs, orderTabs(some, system, failed)...)
		}
	}
	return tabs
}

// orderKey tells goods apart.
type orderKey struct {
	item, spec    string
	width, length MM
}

func orderTabs(jobs []OrderOf, system string, failed []string) []Tab {
	p := newPaper(&Takeoff{Job: JobInfo{System: system}})
	sums := map[orderKey]*Item{}
	parts := map[orderKey][]string{}
	var keys []orderKey
	each := Block{Key: "jobs" + system, Title: "What each job needs of it", Columns: []Column{
		col("job", "Job", 24, Words), col("storey", "Storey", 9, Words), col("item", "Item", 26, Words), col("spec", "What", 34, Words), col("size", "Size", 14, Words),
		col("count", "Count", 10, Whole), col("area", p.sfName(), 11, Whole), col("mass", p.lbName(), 11, Whole),
	}}
	for _, j := range jobs {
		for _, it := range j.Order {
			k := orderKey{it.Item, it.Spec, it.WidthMM, it.LengthMM}
			s := sums[k]
			if s == nil {
				s = &Item{Item: it.Item, Spec: it.Spec, WidthMM: it.WidthMM, LengthMM: it.LengthMM}
				sums[k], keys = s, append(keys, k)
			}
			n := it.Count + it.Allowance
			s.Count, s.AreaM2, s.MassKg = s.Count+n, s.AreaM2+it.AreaM2, s.MassKg+it.MassKg
			if q := parts[k]; len(q) == 0 || q[len(q)-1] != j.Job {
				parts[k] = append(q, j.Job)
			}
			each.Rows = append(each.Rows, []Cell{T(j.Job), T(it.Storey), T(it.Item), T(it.Spec), T(p.goods(it.WidthMM, it.LengthMM)), I(n), p.areaCell(it.AreaM2), p.massCell(it.MassKg)})
		}
	}
	sort.SliceStable(keys, func(a, b int) bool {
		x, y := keys[a], keys[b]
		if bx, by := x.item == "board", y.item == "board"; bx != by {
			return bx
		}
		switch {
		case x.item != y.item:
			return x.item < y.item
		case x.spec != y.spec:
			return x.spec < y.spec
		case x.width != y.width:
			return x.width < y.width
		}
		return x.length < y.length
	})
	all := Block{Key: "all" + system, Title: "All jobs together", Columns: []Column{
		col("item", "Item", 26, Words), col("spec", "What", 34, Words), col("size", "Size", 14, Words), col("count", "Count", 10, Whole),
		col("area", p.sfName(), 11, Whole), col("mass", p.lbName(), 11, Whole), flow("jobs", "Jobs", 50),
	}}
	for _, k := range keys {
		s := sums[k]
		all.Rows = append(all.Rows, []Cell{T(s.Item).As(Strong), T(s.Spec), T(p.goods(s.WidthMM, s.LengthMM)), I(s.Count), p.areaCell(s.AreaM2), p.massCell(s.MassKg), T(several(parts[k], 6))})
	}
	all.Total = totalRow(all, "All", "mass")
	name, nameEach := "Order", "By job"
	if system == "metric" {
		name, nameEach = "Order, metric", "By job, metric"
	}
	first := Tab{Name: name, Landscape: true, Blocks: []Block{all.withoutBlanks()}, Lead: []string{
		fmt.Sprintf("%d jobs together. Count holds each job's own allowance for damage.", len(jobs)),
	}}
	if len(failed) > 0 {
		first.Lead = append(first.Lead, "Not in this order, because they failed: "+strings.Join(failed, ", ")+".")
		first.Large = 0
	}
	return []Tab{first, {Name: nameEach, Landscape: true, Blocks: []Block{each.withoutBlanks()}}}
}

// goods is the size of something ordered: a sheet, a length, nothing.
func (p *paper) goods(w, l MM) string {
	switch {
	case w > 0 && l > 0:
		return p.size(w, l)
	case l > 0:
		return p.wall(l).Text
	}
	return ""
}

func (p *paper) areaCell(a M2) Cell {
	if a == 0 {
		return T("")
	}
	return N(p.sf(float64(a)))
}

func (p *paper) massCell(m Kg) Cell {
	if m == 0 {
		return T("")
	}
	return N(p.mass(float64(m)))
}
