// Side elevations as SVG, from the packed drawing: pens and fills are those of
// the printed elevations. Weight and dash carry the meaning.

const PENS = [
  ["outline", 1, "", INK], ["joint", 2.6, "", INK], ["hidden", 2.6, "8 4", INK], ["stud", 0.6, "5 4", "#6b7680"], ["added", 1.4, "2 3", INK],
  ["hole", 1, "", "#6b7680"], ["slip", 0.8, "11 3 2 3", INK], ["deck", 3.2, "", "#6b7680"], ["floor", 3.2, "", "#6b7680"], ["dim", 0.6, "", INK],
  ["note", 0.6, "", INK], ["wall", 1.2, "", INK], ["unread", 2, "", LOUD], ["ground", 0.5, "", "#9aa4ab"], ["room", 0.5, "", "#9aa4ab"],
];
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
  const pad = 46, w = d.box[2] * scale + 2 * pad, h = d.box[3] * scale + 2 * pad;
  const svg = shape("svg", { width: w.toFixed(0), height: h.toFixed(0), viewBox: `0 0 ${w.toFixed(1)} ${h.toFixed(1)}`, role: "img", "aria-label": title });
  const id = "h" + (sideSVG.n = (sideSVG.n || 0) + 1);
  const pat = shape("pattern", { id, width: 7, height: 7, patternTransform: "rotate(45)", patternUnits: "userSpaceOnUse" }, shape("defs", {}, svg));
  shape("line", { x1: 0, y1: 0, x2: 0, y2: 7, stroke: "#8b959c", "stroke-width": 0.9 }, pat);
  const X = (x) => pad + x * scale, Y = (y) => h - pad - y * scale;
  for (const q of d.shapes) {
    const [, width, dash, colour] = PENS[q[0]] || PENS[0];
    const pts = [];
    let x = 0, y = 0, x0 = Infinity, x1 = -Infinity, y0 = Infinity, y1 = -Infinity;
    for (let i = 3; i < q.length; i += 2) {
      x += q[i]; y += q[i + 1];
      x0 = Math.min(x0, x); x1 = Math.max(x1, x); y0 = Math.min(y0, y); y1 = Math.max(y1, y);
      pts.push(X(x).toFixed(1) + "," + Y(y).toFixed(1));
    }
    const fill = ["none", "#eef1f3", `url(#${id})`, PAPER, colour][q[1]] || "none";
    const a = { points: pts.join(" "), fill: q[2] ? fill : "none", stroke: colour, "stroke-width": width };
    if (dash) a["stroke-dasharray"] = dash;
    shape(q[2] ? "polygon" : "polyline", a, svg);
    if (q[1] === 3) shape("path", { d: `M${X(x0)} ${Y(y0)}L${X(x1)} ${Y(y1)}M${X(x0)} ${Y(y1)}L${X(x1)} ${Y(y0)}`, stroke: colour, "stroke-width": width / 2 }, svg);
  }
  const k = Math.max(3.1, Math.min(5, scale * 32));
  for (const [n, size, angle, align, bold, lx, ly] of d.labels) {
    const x = X(lx).toFixed(1), y = Y(ly).toFixed(1);
    const t = shape("text", {
      x, y, "font-size": Math.max(9, size / 10 * k).toFixed(1), "text-anchor": ["middle", "start", "end"][align] || "middle", "dominant-baseline": "central",
      "paint-order": "stroke", stroke: PAPER, "stroke-width": 2.5,
    }, svg);
    if (angle) t.setAttribute("transform", `rotate(${-angle} ${x} ${y})`);
    if (bold) t.setAttribute("font-weight", "bold");
    t.textContent = d.texts[n];
  }
  return svg;
}
