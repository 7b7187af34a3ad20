// The key: types and layers of the plan, shown or hidden.

function swatch(draw, w = 34, h = 14) {
  const c = el("canvas", { width: w * 2, height: h * 2, "aria-hidden": "true" });
  c.style.width = w + "px"; c.style.height = h + "px";
  const x = c.getContext("2d");
  x.scale(2, 2);
  draw(x, w, h);
  return c;
}
function line(w, h) { const p = new Path2D(); p.moveTo(1, h / 2); p.lineTo(w - 1, h / 2); return p; }
const typeSwatch = (k) => swatch((x, w, h) => strokeWall(x, line(w, h), 9, styleOf(k), false, "new"));
const unreadSwatch = () => swatch((x, w, h) => {
  x.strokeStyle = LOUD; x.lineWidth = 4; x.stroke(line(w, h)); x.lineWidth = 1.6;
  for (const a of [5, w - 5]) { x.beginPath(); x.moveTo(a - 4, h / 2 - 4); x.lineTo(a + 4, h / 2 + 4); x.moveTo(a + 4, h / 2 - 4); x.lineTo(a - 4, h / 2 + 4); x.stroke(); }
});
const unreadCount = () => data.storeys.reduce((n, s) => n + s.lines.filter((l) => l.use === "unread").reduce((k, l) => k + l.paths.length, 0), 0);
function keyButton(label, small, sw, pressed, press) {
  const b = el("button", { type: "button", "aria-pressed": String(pressed), on: { click: () => b.setAttribute("aria-pressed", String(press())) } }, sw, el("span", { dir: "auto" }, label), small ? el("small", {}, small) : null);
  b.title = label;
  return b;
}
function paintKey() {
  const kids = [];
  const n = unreadCount();
  const toggle = (k) => () => { state.show[k] = !state.show[k]; redraw(true); return state.show[k]; };
  if (n) kids.push(keyButton("Wall lines not understood", String(n), unreadSwatch(), state.show.unread, toggle("unread")));
  data.types.forEach((t, k) => {
    if (!t.count) return;
    const b = keyButton(t.name, t.length, typeSwatch(k), !state.types.has(k), () => {
      if (state.types.has(k)) state.types.delete(k); else state.types.add(k);
      refilter();
      return !state.types.has(k);
    });
    b.dataset.type = k;
    kids.push(b);
  });
  kids.push(el("span", { className: "gap" }));
  for (const [k, label] of [["drawing", "Drawing"], ...(data.storeys.some((s) => s.stand.length) ? [["stand", "Not taken off"]] : []), ["openings", "Openings"], ["rooms", "Rooms"], ["decks", "Decks"], ["labels", "Heights"]]) kids.push(keyButton(label, "", null, state.show[k], toggle(k)));
  $("key").replaceChildren(...kids);
}
