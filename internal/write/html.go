package write

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"html"
	"io"
	"strings"
	"sync"

	"boardrun/internal/report"
)

// scripts are the parts of the page's program, in the order they are read.
var scripts = []string{"view", "pen", "side", "state", "frame", "choose", "input", "panel", "lists", "key", "sides", "paper", "start"}

// program is the page's program, made once.
var program = sync.OnceValue(func() string {
	js := "\"use strict\";\n"
	for _, name := range scripts {
		b, err := pageJS.ReadFile("review/" + name + ".js")
		if err != nil { // embedded by the line above: a test writes the page
			return ""
		}
		js += string(b)
	}
	return js
})

// The page is one file: markup, style, program and data. Nothing is fetched,
// and the content policy, which names the program and the style by their hash,
// forbids it.
var (
	//go:embed review/page.html
	pageHTML string
	//go:embed review/page.css
	pageCSS string
	//go:embed review/*.js
	pageJS embed.FS
)

// HTML writes review.html: the drawing with the found walls over it, what was
// not understood, and both sides of every wall, in one file that opens from
// disk. Coordinates in it are whole tenths of a millimetre from an origin of
// the page's own, so that a drawing at map coordinates does not jitter.
func HTML(w io.Writer, t *report.Takeoff) error {
	main, sides := newPage(t).pack()
	data, err := json.Marshal(main)
	if err != nil {
		return err
	}
	js := program()
	policy := "default-src 'none'; script-src '" + hash(js) + "'; style-src '" + hash(pageCSS) +
		"'; img-src data: blob:; base-uri 'none'; form-action 'none'"
	// The replacements are made in one pass: text of the drawing cannot hold a
	// placeholder that is then replaced.
	_, err = strings.NewReplacer(
		"{{policy}}", html.EscapeString(policy),
		"{{title}}", html.EscapeString(clip(t.Job.Title, t.Job.Name)),
		"{{css}}", pageCSS,
		"{{js}}", js,
		"{{data}}", string(data),
		"{{sides}}", string(sides),
	).WriteString(w, pageHTML)
	return err
}

func hash(s string) string {
	h := sha256.Sum256([]byte(s))
	return "sha256-" + base64.StdEncoding.EncodeToString(h[:])
}

// clip returns the first of ss that is not empty, cut to a length a title bar
// can show.
func clip(ss ...string) string {
	for _, s := range ss {
		if s = strings.TrimSpace(s); s != "" {
			if r := []rune(s); len(r) > 120 {
				return string(r[:119]) + "…"
			}
			return s
		}
	}
	return "boardrun"
}

// sideLines packs the side elevations, one run on each line, so that the page
// reads only the lines it shows. JSON of encoding/json holds no <, >, & and no
// line end: nothing in it can end the element it stands in.
func (p *page) sideLines() []byte {
	var out bytes.Buffer
	for i := range p.t.Runs {
		if out.Len() > 0 {
			out.WriteByte('\n')
		}
		if out.Len() > maxSides {
			out.WriteString("[]")
			continue
		}
		line, err := json.Marshal(p.sidesOf(&p.t.Runs[i]))
		if err != nil {
			line = []byte("[]")
		}
		out.Write(line)
	}
	return out.Bytes()
}

// maxSides is how many bytes of side elevations a page carries; a larger job
// has the rest in walls.dxf alone, and the page says so. It keeps the page
// small enough for a phone.
const maxSides = 4 << 20
