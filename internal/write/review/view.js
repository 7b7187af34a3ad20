// The plan on two canvases: the drawing's linework below, what was found above,
// so that a tap redraws only the upper one. Points are whole tenths of a
// millimetre from the storey's own origin; they become pixels here, in doubles,
// and only pixels reach the canvas.

const INK = "#1f2a33", SOFT = "#55626c", LOUD = "#d6004f", PAPER = "#ffffff";
const USES = ["background", "ignored", "used"];
const GREYS = { background: ["#c9cfd3", 0.7], ignored: ["#aab2b8", 0.8], used: ["#8b959c", 0.9] };
// Types are told apart by how the wall is filled; colour only helps. With more
// types than fills the colour changes when the fills begin again.
const HUES = ["#14486b", "#8a5600", "#00695c", "#673d87"];
const FILLS = ["solid", "hollow", "ticks", "blocks", "core", "dots", "dashdot", "grey"];
const styleOf = (type) => ({ fill: FILLS[type % FILLS.length], hue: HUES[(type + Math.floor(type / FILLS.length)) % HUES.length] });

// unpack turns steps into points and adds their box.
function unpack(steps) {
  const p = new Float64Array(steps.length);
  let x = 0, y = 0, x0 = Infinity, y0 = Infinity, x1 = -Infinity, y1 = -Infinity;
  for (let i = 0; i < steps.length; i += 2) {
    x += steps[i]; y += steps[i + 1];
    p[i] = x; p[i + 1] = y;
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  return { p, x0, y0, x1, y1 };
}

// between cuts the stretch from station a to b out of a polyline.
function between(p, a, b) {
  const out = [];
  let s = 0;
  for (let i = 2; i < p.length; i += 2) {
    const dx = p[i] - p[i - 2], dy = p[i + 1] - p[i - 1], l = Math.hypot(dx, dy);
    if (l > 0 && s + l >= a && s <= b) {
      const t0 = Math.max(0, (a - s) / l), t1 = Math.min(1, (b - s) / l);
      if (!out.length) out.push(p[i - 2] + dx * t0, p[i - 1] + dy * t0);
      out.push(p[i - 2] + dx * t1, p[i - 1] + dy * t1);
    }
    s += l;
  }
  return out;
}

function distance(p, x, y) {
  let best = Infinity;
  for (let i = 2; i < p.length; i += 2) {
    const ax = p[i - 2], ay = p[i - 1], dx = p[i] - ax, dy = p[i + 1] - ay, l = dx * dx + dy * dy;
    const t = l ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / l)) : 0;
    best = Math.min(best, Math.hypot(x - ax - dx * t, y - ay - dy * t));
  }
  return best;
}

// reach is the length of a polyline.
function reach(p) {
  let s = 0;
  for (let i = 2; i < p.length; i += 2) s += Math.hypot(p[i] - p[i - 2], p[i + 1] - p[i - 1]);
  return s;
}
// holds tells whether a point is inside a closed outline.
function holds(p, x, y) {
  let inside = false;
  for (let i = 0, j = p.length - 2; i < p.length; j = i, i += 2) {
    if (p[i + 1] > y !== p[j + 1] > y && x < p[i] + (p[j] - p[i]) * (y - p[i + 1]) / (p[j + 1] - p[i + 1])) inside = !inside;
  }
  return inside;
}

// Scene is one storey made ready to draw.
class Scene {
  constructor(data, n) {
    const s = data.storeys[n];
    this.storey = s;
    this.names = data.types.map((t) => t.name);
    this.lines = { background: [], ignored: [], used: [], unread: [] };
    for (const set of s.lines) {
      for (const q of set.paths) {
        const u = unpack(q);
        u.layer = set.layer;
        (this.lines[set.use] || this.lines.background).push(u);
      }
    }
    this.count = s.lines.reduce((k, set) => k + set.paths.length, 0);
    this.rooms = s.rooms.map((r) => ({ ...unpack(r.path), text: r.text, more: r.more }));
    this.decks = s.decks.map((d) => ({ ...unpack(d.path), text: d.text }));
    this.stand = s.stand.map((o, i) => ({ ...unpack(o.path), o, i }));
    this.walls = [];
    data.walls.forEach((w, i) => {
      if (w.storey === n) this.walls.push({ ...unpack(w.path), i, w, opens: [] });
    });
    this.byWall = new Map(this.walls.map((q) => [q.i, q]));
    for (const o of data.openings) {
      const q = this.byWall.get(o.wall);
      if (q) q.opens.push({ o, p: between(q.p, o.from, o.to) });
    }
    this.doubts = [];
    data.doubts.forEach((d, i) => { if (d.storey === n && d.placed && d.severity !== "note") this.doubts.push({ d, i }); });
    this.ofDoubt = new Map();
  }
  // lineOf finds what a doubt is about: the line not understood that begins or
  // ends at its place, or the wall left out whose middle that is; none where no
  // one of its length is there.
  lineOf(d) {
    if (!d.at.length || !d.len) return null;
    if (this.ofDoubt.has(d)) return this.ofDoubt.get(d);
    const near = (x, y) => Math.hypot(x - d.at[0], y - d.at[1]) <= 30, alike = (l) => Math.abs(l - d.len) <= 20 + d.len * 0.01;
    let got = null;
    for (const q of this.lines.unread) {
      const p = q.p, n = p.length;
      if ((near(p[0], p[1]) || near(p[n - 2], p[n - 1]) || near((q.x0 + q.x1) / 2, (q.y0 + q.y1) / 2)) && alike(reach(p))) { got = q; break; }
    }
    if (!got) {
      const q = this.stand.find((s) => near((s.x0 + s.x1) / 2, (s.y0 + s.y1) / 2) && alike(s.o.len));
      if (q) got = { ...q, close: true };
    }
    this.ofDoubt.set(d, got);
    return got;
  }
}

// short cuts a text for the plan. What turns or hides writing is taken out, and
// the rest is set apart, so that it cannot turn what stands beside it.
const short = (t, n) => { const r = Array.from(t.replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, "")); return r.length ? "\u2068" + cut(r, n) + "\u2069" : ""; };
const cut = (r, n) => { return r.length > n ? r.slice(0, n - 1).join("") + "…" : r.join(""); };

// inner is a point well inside a room: the middle of its widest level stretch.
function inner(r) {
  if (r.in) return r.in;
  let best = -1;
  r.in = [(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2];
  for (let k = 1; k < 12; k++) {
    const y = r.y0 + (r.y1 - r.y0) * (k / 12) + 0.37, xs = [], p = r.p;
    for (let i = 0, j = p.length - 2; i < p.length; j = i, i += 2) {
      if (p[i + 1] > y !== p[j + 1] > y) xs.push(p[i] + (p[j] - p[i]) * (y - p[i + 1]) / (p[j + 1] - p[i + 1]));
    }
    xs.sort((a, b) => a - b);
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const score = xs[i + 1] - xs[i] - Math.abs(k - 6) * (r.x1 - r.x0) * 0.02;
      if (score > best) { best = score; r.in = [(xs[i] + xs[i + 1]) / 2, y]; }
    }
  }
  return r.in;
}

// strokeWall draws walls of one type and thickness: fills are dashes across the
// wall, so that they turn with it.
function strokeWall(c, path, w, style, faded, status) {
  const hue = faded ? "#cdd3d7" : status === "new" ? style.hue : SOFT;
  const fill = status === "new" ? style.fill : "hollow";
  c.strokeStyle = hue; c.lineWidth = w; c.stroke(path);
  const core = Math.max(1.6, w - Math.max(2.4, w * 0.16));
  if (faded) { c.strokeStyle = PAPER; c.lineWidth = core; c.stroke(path); return; }
  if (fill === "solid") return;
  c.strokeStyle = fill === "grey" ? "#b9c2c8" : PAPER; c.lineWidth = core; c.stroke(path);
  c.strokeStyle = hue;
  if (fill === "ticks") { c.setLineDash([1.5, 4.5]); c.lineWidth = core; }
  else if (fill === "blocks") { c.setLineDash([8, 8]); c.lineWidth = core; }
  else if (fill === "core") { c.lineWidth = Math.max(1.2, core * 0.34); }
  else if (fill === "dots") { c.setLineDash([0.1, Math.max(5, core * 0.9)]); c.lineCap = "round"; c.lineWidth = Math.max(2, core * 0.5); }
  else if (fill === "dashdot") { c.setLineDash([14, 4, 3, 4]); c.lineWidth = core; }
  else return;
  c.stroke(path);
  c.setLineDash([]); c.lineCap = "butt";
}
