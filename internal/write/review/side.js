// Side elevations as SVG, from the packed drawing: pens, fills and sizes of
// writing are those of the printed elevations. Weight and dash carry the meaning.

const SVG = "http://www.w3.org/2000/svg";
function shape(tag, attrs, parent) {
  const e = document.createElementNS(SVG, tag);
  for (const k in attrs) e.setAttribute(k, attrs[k]);
  if (parent) parent.append(e);
  return e;
}

let sideRows = null;
function sidesOf(wall) {
  if (!sideRows) sideRows = document.getElementById("side-data").textContent.split("\n");
  try { return JSON.parse(sideRows[wall] || "[]"); } catch { return []; }
}

// sideSVG draws one ply of one side at a scale of pixels per millimetre.
function sideSVG(d, scale, title) {
  const k = scale * data.sideScale; // pixels to one millimetre on paper
  const pad = 9 * k, foot = 15 * k, w = d.box[2] * scale + 2 * pad, h = d.box[3] * scale + pad + foot;
  const svg = shape("svg", { width: w.toFixed(0), height: h.toFixed(0), viewBox: `0 0 ${w.toFixed(1)} ${h.toFixed(1)}`, role: "img", "aria-label": title });
  const id = "h" + (sideSVG.n = (sideSVG.n || 0) + 1);
  const pat = shape("pattern", { id, width: 7, height: 7, patternTransform: "rotate(45)", patternUnits: "userSpaceOnUse" }, shape("defs", {}, svg));
  shape("line", { x1: 0, y1: 0, x2: 0, y2: 7, stroke: "#8b959c", "stroke-width": 0.9 }, pat);
  const X = (x) => pad + x * scale, Y = (y) => h - foot - y * scale;
  for (const q of d.shapes) {
    const { width, dash, colour } = data.pens[q[0]] || data.pens[0];
    const pts = [];
    let x = 0, y = 0, x0 = Infinity, x1 = -Infinity, y0 = Infinity, y1 = -Infinity;
    for (let i = 3; i < q.length; i += 2) {
      x += q[i]; y += q[i + 1];
      x0 = Math.min(x0, x); x1 = Math.max(x1, x); y0 = Math.min(y0, y); y1 = Math.max(y1, y);
      pts.push(X(x).toFixed(1) + "," + Y(y).toFixed(1));
    }
    const fill = ["none", "#eef1f3", `url(#${id})`, PAPER, colour][q[1]] || "none";
    const a = { points: pts.join(" "), fill: q[2] ? fill : "none", stroke: colour, "stroke-width": Math.max(0.6, width * k).toFixed(2) };
    if (dash.length) a["stroke-dasharray"] = dash.map((d) => (d * k).toFixed(1)).join(" ");
    shape(q[2] ? "polygon" : "polyline", a, svg);
    if (q[1] === 3) shape("path", { d: `M${X(x0)} ${Y(y0)}L${X(x1)} ${Y(y1)}M${X(x0)} ${Y(y1)}L${X(x1)} ${Y(y0)}`, stroke: colour, "stroke-width": Math.max(0.5, width * k / 2).toFixed(2) }, svg);
  }
  for (const [n, size, angle, align, bold, lx, ly] of d.labels) {
    const x = X(lx).toFixed(1), y = Y(ly).toFixed(1);
    const t = shape("text", {
      x, y, "font-size": (size / 10 * k).toFixed(1), "text-anchor": ["middle", "start", "end"][align] || "middle", "dominant-baseline": "central",
      "paint-order": "stroke", stroke: PAPER, "stroke-width": 2.5,
    }, svg);
    if (angle) t.setAttribute("transform", `rotate(${-angle} ${x} ${y})`);
    if (bold) t.setAttribute("font-weight", "bold");
    t.textContent = d.texts[n];
  }
  return svg;
}
