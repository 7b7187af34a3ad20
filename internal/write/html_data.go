package write

import (
	"sort"

	"boardrun/internal/measure"
	"boardrun/internal/report"
)

// pageData is what the page's program reads. It does no arithmetic of units:
// every length people read comes as text.
type pageData struct {
	Title     string            `json:"title"`
	Stamp     string            `json:"stamp"`
	File      string            `json:"file"`
	Files     []string          `json:"files"`
	Coverage  []coverage        `json:"coverage"`
	Assumed   []string          `json:"assumed"`
	Notes     []string          `json:"notes"`
	Totals    [][2]string       `json:"totals"`
	Storeys   []pageStorey      `json:"storeys"`
	Layers    []string          `json:"layers"`
	Types     []pageType        `json:"types"`
	Walls     []pageWall        `json:"walls"`
	Openings  []pageOpen        `json:"openings"`
	Doubts    []pageDoubt       `json:"doubts"`
	Kinds     map[string]string `json:"kinds"` // length in doubt of each severity|code, where one is told
	Pens      []pagePen         `json:"pens"`
	SideScale float64           `json:"sideScale"` // millimetres of wall to one on paper
	SidesLeft bool              `json:"sidesLeft"` // some sides are left to walls.dxf
}

// coverage is how much of a drawing's wall linework became walls.
type coverage struct {
	File    string `json:"file"`
	Text    string `json:"text"`
	Percent int    `json:"percent"` // rounded down: 100 means all
}

type pageStorey struct {
	Name  string      `json:"name"`
	Fit   [4]int      `json:"fit"` // of walls, doubts and rooms
	All   [4]int      `json:"all"` // of everything drawn
	Lines []lineSet   `json:"lines"`
	Rooms []pageRoom  `json:"rooms"`
	Decks []pageDeck  `json:"decks"`
	Stand []pageStand `json:"stand"`
	org   report.UV
}

// lineSet is the linework of one layer with one use.
type lineSet struct {
	Layer int     `json:"layer"`
	Use   string  `json:"use"`
	Paths [][]int `json:"paths"`
}

type pageRoom struct {
	Text string `json:"text"`
	More string `json:"more"`
	Path []int  `json:"path"`
}

type pageDeck struct {
	Text string `json:"text"`
	Path []int  `json:"path"`
}

// pageStand is what stands there and is not taken off.
type pageStand struct {
	Kind   string   `json:"kind"`
	Text   string   `json:"text"`
	Len    int      `json:"len"`
	Length string   `json:"length"`
	Source []string `json:"source"`
	Path   []int    `json:"path"`
}

type pageType struct {
	Name   string      `json:"name"`
	Rows   [][2]string `json:"rows"`
	Count  int         `json:"count"`
	Length string      `json:"length"`
}

type pageWall struct {
	ID      string      `json:"id"`
	Storey  int         `json:"storey"`
	Type    int         `json:"type"`
	Status  string      `json:"status"`
	Path    []int       `json:"path"`
	Thick   int         `json:"thick"`
	Len     int         `json:"len"`
	Height  string      `json:"height"` // written on the wall
	Guess   bool        `json:"guess"`  // a height nobody gave
	Rows    [][2]string `json:"rows"`
	Sides   []pageSide  `json:"sides"`
	Source  []string    `json:"source"`
	Assumed []string    `json:"assumed"`
	Rooms   []string    `json:"rooms"`
}

type pageSide struct {
	ID   string      `json:"id"`
	From string      `json:"from"` // the end it is hung from
	Name string      `json:"name"`
	Rows [][2]string `json:"rows"`
}

type pageOpen struct {
	ID   string      `json:"id"`
	Wall int         `json:"wall"`
	Kind string      `json:"kind"`
	Mark string      `json:"mark"`
	Size string      `json:"size"`
	From int         `json:"from"` // stations on the wall's path
	To   int         `json:"to"`
	Rows [][2]string `json:"rows"`
}

type pageDoubt struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Text     string `json:"text"`
	Did      string `json:"did"`
	Where    string `json:"where"`
	Storey   int    `json:"storey"` // −1: nowhere on a plan
	At       []int  `json:"at"`
	Len      int    `json:"len"`
	Length   string `json:"length"`
	Wall     int    `json:"wall"` // −1: none
	Placed   bool   `json:"placed"`
}

// page gathers what the review page shows.
type page struct {
	t      *report.Takeoff
	sys    measure.System
	out    pageData
	storey map[string]int
	layer  map[string]int
	wall   map[string]int // by run, face, piece and opening id
	byFile map[string][]int
	faces  map[string][]*report.Face // by run
	draft  *report.Draft
	band   [][]report.UV // axis of each run
}

func newPage(t *report.Takeoff) *page {
	p := &page{t: t, draft: report.NewDraft(t), storey: map[string]int{}, layer: map[string]int{}, wall: map[string]int{}, byFile: map[string][]int{}, faces: map[string][]*report.Face{}}
	if t.Job.System == measure.Metric.String() {
		p.sys = measure.Metric
	}
	for i := range t.Runs {
		p.wall[t.Runs[i].ID] = i
		p.band = append(p.band, axis(&t.Runs[i]))
	}
	for i := range t.Faces {
		f := &t.Faces[i]
		p.faces[f.Run] = append(p.faces[f.Run], f)
		if w, ok := p.wall[f.Run]; ok {
			p.wall[f.ID] = w
		}
	}
	for i := range t.Openings {
		if w, ok := p.wall[t.Openings[i].Run]; ok {
			p.wall[t.Openings[i].ID] = w
		}
	}
	for i := range t.Pieces {
		if w, ok := p.wall[t.Pieces[i].Face]; ok {
			p.wall[t.Pieces[i].ID] = w
		}
	}
	return p
}

// pack returns the page's data and the lines of side elevations.
func (p *page) pack() (*pageData, []byte) {
	p.head()
	p.storeys()
	p.lines()
	p.standing()
	p.types()
	for i := range p.t.Runs {
		p.out.Walls = append(p.out.Walls, p.wallOf(i))
	}
	p.openings()
	p.doubts()
	p.out.Pens, p.out.SideScale = pagePens(), report.DefaultScale
	sides := p.sideLines()
	p.out.SidesLeft = len(sides) > maxSides
	return &p.out, sides
}

func (p *page) head() {
	t := p.t
	p.out.Title, p.out.Stamp, p.out.File = clip(t.Job.Title, t.Job.Name), t.Job.Stamp, t.Job.File
	p.out.Notes = append([]string{}, t.Job.Notes...)
	p.out.Assumed, p.out.Files, p.out.Coverage = []string{}, []string{}, []coverage{}
	p.out.Layers, p.out.Types, p.out.Walls, p.out.Openings, p.out.Doubts = []string{}, []pageType{}, []pageWall{}, []pageOpen{}, []pageDoubt{}
	for _, a := range t.Job.Assumptions {
		p.out.Assumed = append(p.out.Assumed, a.Path+": "+a.Value+" ("+a.Reason+")")
	}
	for _, d := range t.Drawings {
		p.out.Files = append(p.out.Files, d.File)
	}
	for _, l := range t.Ledger {
		if l.WallLineMM <= 0 {
			continue
		}
		c := coverage{File: base(l.Drawing), Percent: int(100 * float64(l.WallUsedMM) / float64(l.WallLineMM) * (1 + 1e-12))}
		c.Text = p.run(l.WallUsedMM) + " of " + p.run(l.WallLineMM)
		p.out.Coverage = append(p.out.Coverage, c)
	}
	length, area := 0.0, 0.0
	for i := range t.Runs {
		length += float64(t.Runs[i].LengthMM)
	}
	for i := range t.Pieces {
		area += float64(t.Pieces[i].AreaM2)
	}
	p.out.Totals = [][2]string{
		{"Wall", measure.OrderLength(length/1000, p.sys)}, {"Board hung", measure.OrderArea(area, p.sys)},
	}
}

// run is the length of a wall in a sum.
func (p *page) run(v report.MM) string { return measure.OrderLength(float64(v)/1000, p.sys) }

// long is a length as lengths of walls are written.
func (p *page) long(v report.MM) string { return measure.Wall(v.Length(), p.sys) }

func (p *page) types() {
	index := map[string]int{}
	add := func(y report.TypeInfo) {
		index[y.Name] = len(p.out.Types)
		p.out.Types = append(p.out.Types, pageType{Name: y.Name, Rows: p.makeUp(&y)})
	}
	for _, y := range p.t.Job.Types {
		if _, twice := index[y.Name]; !twice {
			add(y)
		}
	}
	sum := map[string]report.MM{}
	for i := range p.t.Runs {
		r := &p.t.Runs[i]
		if _, ok := index[r.Type]; !ok {
			add(report.TypeInfo{Name: r.Type, ThicknessMM: r.ThicknessMM})
		}
		p.out.Types[index[r.Type]].Count++
		sum[r.Type] += r.LengthMM
	}
	for i := range p.out.Types {
		p.out.Types[i].Length = p.run(sum[p.out.Types[i].Name])
	}
	// Types with most wall first; those without any last, in the job's order.
	sort.SliceStable(p.out.Types, func(a, b int) bool { return sum[p.out.Types[a].Name] > sum[p.out.Types[b].Name] })
}

func (p *page) makeUp(y *report.TypeInfo) [][2]string {
	rows := [][2]string{}
	add := func(k, v string) {
		if v != "" {
			rows = append(rows, [2]string{k, v})
		}
	}
	if y.ThicknessMM > 0 {
		add("Thickness", p.long(y.ThicknessMM))
	}
	if y.StudDepthMM > 0 {
		add("Studs", p.long(y.StudDepthMM)+", "+itoa(y.Mil)+" mil, at "+p.long(y.SpacingMM))
	}
	left, right := plies(y.Left), plies(y.Right)
	if left == right && y.HeightLeft == y.HeightRight {
		add("Board, each side", left)
		if left != "" {
			add("Goes", y.HeightLeft)
		}
	} else {
		add("Board left", left)
		add("Left goes", y.HeightLeft)
		add("Board right", right)
		add("Right goes", y.HeightRight)
	}
	add("Insulation", y.Insulation)
	add("Rating", y.Rating)
	add("Listing", y.Listing)
	return rows
}
