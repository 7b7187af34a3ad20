// Frames: when what is drawn, and the view on it.

let W = 0, H = 0, ratio = 1, wanted = 0, stale = false, found = false, settle = 0;
const held = { canvas: document.createElement("canvas"), view: null };

function size() {
  const r = map.getBoundingClientRect();
  ratio = Math.min(3, window.devicePixelRatio || 1);
  W = Math.max(1, r.width); H = Math.max(1, r.height);
  for (const c of [under, over, mark]) { c.width = Math.round(W * ratio); c.height = Math.round(H * ratio); }
  held.view = null;
}
function fitted(box, w, h) {
  const bw = Math.max(2000, box[2] - box[0]), bh = Math.max(2000, box[3] - box[1]);
  // On the screen the key covers the foot and the buttons the right side.
  const foot = w === W ? Math.min(keyHeight(), h * 0.3) : 0, right = w === W ? 60 : 0;
  const s = Math.max(1e-6, Math.min((w - 50 - right) / bw, (h - 56 - foot) / bh));
  return { s, cx: (box[0] + box[2]) / 2 + right / 2 / s, cy: (box[1] + box[3]) / 2 - foot / 2 / s };
}
const keyHeight = () => $("key").offsetHeight || 0;
function pen() { return new Pen(scene(), view(), W, H, state.show, (i) => matching[i], ratio); }
const picked = () => ({ wall: state.wall, doubt: data.doubts[state.doubt], stand: scene().stand[state.stand] });

// redraw asks for one frame: of everything, of what was found and what is
// chosen, or (rechoose) of what is chosen alone, so that a tap is answered at once.
function redraw(lower) {
  if (lower) stale = true;
  found = true;
  rechoose();
}
function rechoose() {
  if (!wanted) wanted = requestAnimationFrame(frame);
}
function frame() {
  wanted = 0;
  if (!view()) return;
  const p = pen();
  if (stale) {
    // A large drawing follows a moving view as the picture last drawn; it is
    // drawn sharp when the view rests.
    if (moving && held.view && scene().count > 3000) shift();
    else sharp(p);
    stale = false;
  }
  if (found) p.over(over.getContext("2d"));
  found = false;
  p.mark(mark.getContext("2d"), picked());
  document.body.dataset.drawn = String(Number(document.body.dataset.drawn || 0) + 1);
}
function sharp(p) {
  p.under(under.getContext("2d"));
  held.view = { ...view(), storey: state.storey };
  if (scene().count > 3000) {
    held.canvas.width = under.width; held.canvas.height = under.height;
    held.canvas.getContext("2d").drawImage(under, 0, 0);
  }
}
function shift() {
  const v = view(), o = held.view, k = v.s / o.s, c = under.getContext("2d");
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.clearRect(0, 0, under.width, under.height);
  const x = (W / 2 * (1 - k) + (o.cx - v.cx) * v.s) * ratio, y = (H / 2 * (1 - k) - (o.cy - v.cy) * v.s) * ratio;
  c.drawImage(held.canvas, x, y, under.width * k, under.height * k);
}
let moving = false;
function moved() {
  moving = true;
  clearTimeout(settle);
  settle = setTimeout(() => { moving = false; redraw(true); }, 140);
  redraw(true);
}
function zoom(k, x = W / 2, y = H / 2) {
  const v = view(), s = Math.max(1e-5, Math.min(20, v.s * k));
  v.cx += (x - W / 2) * (1 / v.s - 1 / s);
  v.cy -= (y - H / 2) * (1 / v.s - 1 / s);
  v.s = s;
  moved();
}
function pan(dx, dy) { const v = view(); v.cx -= dx / v.s; v.cy += dy / v.s; moved(); }
function look(box) { views[state.storey] = fitted(box, W, H); redraw(true); }
function toStorey(n) {
  if (n < 0 || (n === state.storey && views[n])) return; // a tap draws nothing anew
  state.storey = n; state.stand = -1;
  if (!views[n]) views[n] = fitted(data.storeys[n].fit, W, H);
  held.view = null;
  for (const b of $("storeys").children) {
    b.setAttribute("aria-checked", String(b.value === String(n)));
    b.tabIndex = b.value === String(n) ? 0 : -1;
  }
  redraw(true);
}
// near looks at a place with some of what is around it, all of len in it
// whichever way it goes.
function near(x, y, len) {
  const r = Math.max(len * 1.05, 20000);
  look([x - r, y - r, x + r, y + r]);
}
// around looks at all of a line or an outline.
const around = (q) => near((q.x0 + q.x1) / 2, (q.y0 + q.y1) / 2, Math.max(q.x1 - q.x0, q.y1 - q.y0) * 0.7);
